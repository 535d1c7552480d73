package training

import (
	"crypto/sha256"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/cmd/workbench/boosting"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/pipeline"
	"fingerproof/rules/places"
)

// Printed is one score with the digits of its edition: what is known of each note of its lines, and whether it has one.
type Printed struct {
	Name    string
	Fold    int
	Density int // digits in a hundred notes
	Rows    [][]int
	Yes     []bool
}

// Digits says at which notes the edition prints one.
func Digits(w *pipeline.PieceRun) []bool {
	out := make([]bool, len(w.Score.Notes))
	for i := range out {
		n := &w.Score.Notes[i]
		out[i] = w.Playing.Plays(i) && len(n.Indications) > 0 && n.TiedFrom < 0
	}
	return out
}

// PrintedOf looks at a run with its digits given, the suggestion included.
func PrintedOf(w *pipeline.PieceRun, fold int) *Printed {
	p := &Printed{Name: w.Piece.ID, Fold: fold}
	given, n := Digits(w), 0
	var lines [][]places.Event
	for i := range w.Playing.Lines {
		lines = append(lines, places.Events(w.Score, &w.Playing.Lines[i], w.Suggestion.Fingers()))
	}
	for _, events := range lines {
		for _, e := range events {
			for _, note := range e.Notes {
				p.Yes = append(p.Yes, given[note])
				if given[note] {
					n++
				}
			}
		}
	}
	p.Density = 100 * n / max(len(p.Yes), 1)
	for _, events := range lines {
		p.Rows = append(p.Rows, places.Features(events, p.Density)...)
	}
	return p
}

// Chosen says that an edition chooses its places: one that prints a digit at hardly any note, or at most, says little of
// where they are wanted.
func (p *Printed) Chosen() bool { return p.Density >= 5 && p.Density <= 60 }

// PlacesSettings are those of the shipped model: on five folds three times as many leaves gained under a point.
var PlacesSettings = boosting.Settings{Trees: 100, Leaves: 16, LeastRows: 60, Rate: 0.12, Ridge: 1}

// Places fits a model of printed places to all editions that choose theirs, but for those of a fold; −1 leaves none out.
func Places(printed []*Printed, without int) *places.Model {
	var rows [][]int
	var yes []bool
	for _, p := range printed {
		if p.Chosen() && p.Fold != without {
			rows, yes = append(rows, p.Rows...), append(yes, p.Yes...)
		}
	}
	begin, trees := boosting.Fit(rows, yes, PlacesSettings)
	m := &places.Model{Features: places.Names(), Begin: thousandths(begin)}
	for _, nodes := range trees {
		var tree places.Tree
		for _, n := range nodes {
			tree = append(tree, places.Node{
				Column: n.Column, Cut: n.Cut, Low: n.Low, High: n.High, Value: thousandths(n.Value),
			})
		}
		m.Trees = append(m.Trees, tree)
	}
	return m
}

func thousandths(nats float64) int { return int(math.Round(1000 * nats)) }

// Source says where a model comes from.
type Source struct {
	Provenance  string
	Attribution []string
}

// PlacesSource names the editions that a model of printed places is fitted to, with the sum of their files.
func PlacesSource(dir string, printed []*Printed) (Source, error) {
	s, err := sourceOf(dir, printed, (*Printed).Chosen)
	return Source{
		Provenance: fmt.Sprintf("fitted by 'workbench places --fit' to where %s "+
			"(those listed under attribution that print at 5 to 60 notes in a hundred; sha256 of their scores %x): "+
			"%d trees of %d leaves, at least %d notes in each, rate %.2f, ridge %.0f",
			s.counts, s.sum, PlacesSettings.Trees, PlacesSettings.Leaves, PlacesSettings.LeastRows,
			PlacesSettings.Rate, PlacesSettings.Ridge),
		Attribution: s.attribution,
	}, err
}

// ReaderSource names the editions from which a reader learned what is usual, with the sum of their files.
func ReaderSource(dir string, printed []*Printed) (Source, error) {
	s, err := sourceOf(dir, printed, func(*Printed) bool { return true })
	return Source{
		Provenance: fmt.Sprintf("learned by 'workbench reader --fit' where %s, the program's fingers at the others "+
			"(those listed under attribution; sha256 of their scores %x)", s.counts, s.sum),
		Attribution: s.attribution,
	}, err
}

// editions are those that something is fitted to.
type editions struct {
	counts      string
	sum         []byte
	attribution []string
}

// sourceOf names editions.
func sourceOf(dir string, printed []*Printed, of func(*Printed) bool) (out editions, _ error) {
	index, err := opendata.ReadTable(filepath.Join(dir, "INDEX.tsv"))
	if err != nil {
		return out, err
	}
	chosen := map[string]bool{}
	notes, digits := 0, 0
	for _, p := range printed {
		if !of(p) {
			continue
		}
		chosen[p.Name] = true
		notes += len(p.Yes)
		for _, y := range p.Yes {
			if y {
				digits++
			}
		}
	}
	var rows []map[string]string
	data := sha256.New()
	for _, r := range index {
		if !chosen[r["piece"]] {
			continue
		}
		rows = append(rows, r)
		file, err := os.ReadFile(filepath.Join(dir, r["piece"]+".mxl"))
		if err != nil {
			return out, fmt.Errorf("reading a score: %w", err)
		}
		data.Write(file)
	}
	out.counts = fmt.Sprintf("%d editions print %d digits at %d notes", len(rows), digits, notes)
	out.sum, out.attribution = data.Sum(nil), attributionOf(rows)
	return out, nil
}

// attributionOf lists licences with the works under them, from the index of the material.
func attributionOf(rows []map[string]string) []string {
	by := map[string][]string{}
	for _, r := range rows {
		group := r["group"]
		if !slices.Contains(by[r["licence"]], group) {
			by[r["licence"]] = append(by[r["licence"]], group)
		}
	}
	out := []string{
		"Derived from where digits stand in scores of the Mutopia Project and of the Fryderyk Chopin Institute " +
			"(humdrum-polish-scores, humdrum-chopin-first-editions).",
		"Parts of the material are under CC BY-SA (see below); the scores themselves are not contained in this model.",
	}
	for _, l := range slices.Sorted(maps.Keys(by)) {
		slices.Sort(by[l])
		out = append(out, l+": "+strings.Join(by[l], "; "))
	}
	return out
}
