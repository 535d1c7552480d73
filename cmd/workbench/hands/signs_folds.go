package hands

import (
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
	"fingerproof/pipeline"
	stage "fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/pipeline/4_stages/14_redistribute"
	"fingerproof/policies"
)

// The thresholds are chosen without the composers that they are measured on: each is tried at some shares of its
// default, in percent, the others left alone; the one kept finds most places of the other composers, where a place
// more is worth ten offers elsewhere.
var thresholdShares = []int{50, 100, 150}

const offersAPlace = 10

// variant is one threshold changed; "" for the default.
type variant struct {
	key   string
	value int
}

// foldPiece is a score with signs, under each variant.
type foldPiece struct {
	collection *corpus.Collection
	piece      *corpus.Piece
	composer   string
	found      []int // by variant: places known or offered
	elsewhere  []int // by variant: offers where no sign stands
	places     int
}

// thresholdKeys lists the keys of the thresholds.
func thresholdKeys() (keys []string) {
	keys = append(keys, "threshold")
	for _, r := range redistribute.WithThreshold {
		keys = append(keys, r+"_threshold")
	}
	return keys
}

// defaultOf is the value of a threshold in a policy.
func defaultOf(p *policies.Policy, key string) int {
	if key == "threshold" {
		return p.RedistributeThreshold()
	}
	return p.RedistributeThresholdOf(strings.TrimSuffix(key, "_threshold"))
}

// variantsOf lists the variants, the default first.
func variantsOf(p *policies.Policy) []variant {
	out := []variant{{}}
	for _, key := range thresholdKeys() {
		for _, share := range thresholdShares {
			if share != 100 {
				out = append(out, variant{key, defaultOf(p, key) * share / 100})
			}
		}
	}
	return out
}

// withThresholds is the default policy with other thresholds.
func withThresholds(set map[string]int) (*policies.Policy, error) {
	dir, err := os.MkdirTemp("", "signs")
	if err != nil {
		return nil, fmt.Errorf("making room for a policy: %w", err)
	}
	defer os.RemoveAll(dir)
	text := "extends: default\n"
	if len(set) > 0 {
		text += "redistribute:\n"
	}
	for _, key := range thresholdKeys() {
		if v, ok := set[key]; ok {
			text += fmt.Sprintf("  %s: %d\n", key, v)
		}
	}
	file := filepath.Join(dir, "policy.yaml")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		return nil, fmt.Errorf("writing a policy: %w", err)
	}
	return policies.Load(file)
}

// blindFolds chooses thresholds without each fold of composers and measures them on it.
func (m *signs) blindFolds(ctx context.Context, out io.Writer, paths []string) error {
	variants := variantsOf(m.policy)
	var styles []*policies.Policy
	for _, v := range variants {
		set := map[string]int{}
		if v.key != "" {
			set[v.key] = v.value
		}
		p, err := withThresholds(set)
		if err != nil {
			return err
		}
		styles = append(styles, p)
	}
	var all []foldPiece
	for _, path := range paths {
		c, err := corpus.Open(path)
		if err != nil {
			return err
		}
		for i := range c.Pieces {
			if c.Pieces[i].Fault == nil {
				all = append(all, foldPiece{collection: c, piece: &c.Pieces[i], composer: composerOf(c.Pieces[i].ID)})
			}
		}
	}
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(runtime.GOMAXPROCS(0))
	for k := range all {
		g.Go(func() error {
			all[k].under(styles)
			return ctx.Err()
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	all = slices.DeleteFunc(all, func(p foldPiece) bool { return p.places == 0 })
	return measureFolds(out, all, variants, m.policy)
}

// under works a piece out with its signs hidden, and offers anew under each policy. Pieces without a place keep none.
func (p *foldPiece) under(styles []*policies.Policy) {
	w, err := programruns.OfPiece(p.collection, p.piece, styles[0])
	if err != nil || between(w, "", "read") != nil {
		return
	}
	named := printedSigns(w.Score, p.piece)
	if !slices.ContainsFunc(named, func(n stage.SignedNotes) bool { return n.Other }) {
		return
	}
	hideSigns(w.Score)
	if between(w, "read", "credit") != nil {
		return
	}
	for _, style := range styles {
		w.Policy = style
		if between(w, "credit", "redistribute") != nil {
			return
		}
		places, found, elsewhere := placesOf(w, named)
		p.found, p.elsewhere, p.places = append(p.found, found), append(p.elsewhere, elsewhere), places
	}
}

// placesOf counts places, those found, and offers where no sign stands.
func placesOf(w *pipeline.PieceRun, named []stage.SignedNotes) (places, found, elsewhere int) {
	signed := map[int]bool{}
	for _, n := range named {
		signed[n.Sign.Measure] = true
		if n.Other {
			places++
			if p := signPlaceOf(w, n); p.known || p.offered {
				found++
			}
		}
	}
	for k := range w.Redistributions {
		if !signed[w.Score.Notes[w.Redistributions[k].Notes[0]].Measure] {
			elsewhere++
		}
	}
	return places, found, elsewhere
}

// choose gives for each threshold the share that is best on some pieces; the default where no other is better.
func choose(pieces []foldPiece, variants []variant) map[string]int {
	worth := func(v int) (sum int) {
		for k := range pieces {
			sum += offersAPlace*pieces[k].found[v] - pieces[k].elsewhere[v]
		}
		return sum
	}
	best, out := map[string]int{}, map[string]int{}
	for v := 1; v < len(variants); v++ {
		key := variants[v].key
		if w := worth(v) - worth(0); w > best[key] {
			best[key], out[key] = w, variants[v].value
		}
	}
	return out
}

// balanced puts whole composers into folds, those with most places first, each into the fold with the fewest.
func balanced(all []foldPiece) map[string]int {
	places := map[string]int{}
	var names []string
	for k := range all {
		if places[all[k].composer] == 0 {
			names = append(names, all[k].composer)
		}
		places[all[k].composer] += all[k].places
	}
	slices.SortFunc(names, func(a, b string) int {
		if d := places[b] - places[a]; d != 0 {
			return d
		}
		return strings.Compare(a, b)
	})
	var load [signFolds]int
	out := map[string]int{}
	for _, name := range names {
		least := 0
		for f := range load {
			if load[f] < load[least] {
				least = f
			}
		}
		out[name] = least
		load[least] += places[name]
	}
	return out
}

func measureFolds(out io.Writer, all []foldPiece, variants []variant, base *policies.Policy) error {
	folds := balanced(all)
	var sum, plain [2]int
	byComposer := map[string][2]int{}
	for f := range signFolds {
		var train, test []foldPiece
		names := map[string]bool{}
		for _, p := range all {
			if folds[p.composer] == f {
				test = append(test, p)
				names[p.composer] = true
			} else {
				train = append(train, p)
			}
		}
		set := choose(train, variants)
		style, err := withThresholds(set)
		if err != nil {
			return err
		}
		var got, was [2]int
		more := 0
		for k := range test {
			p := foldPiece{collection: test[k].collection, piece: test[k].piece}
			p.under([]*policies.Policy{style})
			if len(p.found) == 0 {
				continue
			}
			got[0], got[1] = got[0]+p.found[0], got[1]+p.places
			was[0], was[1] = was[0]+test[k].found[0], was[1]+test[k].places
			more += p.elsewhere[0] - test[k].elsewhere[0]
			c := byComposer[test[k].composer]
			byComposer[test[k].composer] = [2]int{c[0] + p.found[0], c[1] + p.places}
		}
		var chosen []string
		for _, key := range thresholdKeys() {
			if v, ok := set[key]; ok {
				chosen = append(chosen, fmt.Sprintf("%s %d (default %d)", key, v, defaultOf(base, key)))
			}
		}
		if len(chosen) == 0 {
			chosen = []string{"all as by default"}
		}
		fmt.Fprintf(out, "fold %d: %d composers, %d places: found %s; by the default %s; offers elsewhere %+d; chosen on the others: %s\n",
			f, len(names), got[1], figures.Share(got), figures.Share(was), more, strings.Join(chosen, ", "))
		sum[0], sum[1] = sum[0]+got[0], sum[1]+got[1]
		plain[0], plain[1] = plain[0]+was[0], plain[1]+was[1]
	}
	low, high := wilson(sum[0], sum[1])
	fmt.Fprintf(out, "all folds: %d of %d places, %s; 95 %% interval %.2f to %.2f were places independent; by the default %s\n",
		sum[0], sum[1], figures.Share(sum), low, high, figures.Share(plain))
	least, most, mean := 1.0, 0.0, 0.0
	for _, c := range byComposer { // any order: the least, the greatest, and a sum of shares
		without := float64(sum[0]-c[0]) / float64(max(sum[1]-c[1], 1))
		least, most = min(least, without), max(most, without)
	}
	names := []string{}
	for name := range byComposer {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		mean += float64(byComposer[name][0]) / float64(byComposer[name][1]) / float64(len(names))
	}
	fmt.Fprintf(out, "%d composers: mean of their shares %.2f; without any one of them %.2f to %.2f\n",
		len(names), mean, least, most)
	return nil
}

// wilson is the score interval of a share at 95 percent (E. B. Wilson, Journal of the American Statistical
// Association 22, 1927, from memory).
func wilson(found, all int) (low, high float64) {
	if all == 0 {
		return 0, 1
	}
	const z = 1.96
	n, p := float64(all), float64(found)/float64(all)
	middle := (p + z*z/(2*n)) / (1 + z*z/n)
	half := z / (1 + z*z/n) * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return middle - half, middle + half
}
