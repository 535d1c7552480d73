package hands

import (
	"cmp"
	"context"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
)

// handsPanel draws offers and missed hand signs for readers who judge them as pianists.
type handsPanel struct {
	policy         *policies.Policy
	out, key       string
	judged         map[string]bool // what keys of earlier panels name: drawn last
	every          int
	offers, missed int
}

func panelCommand() *cobra.Command {
	m := &handsPanel{}
	policy := ""
	var without []string
	return measurement.Measurement{
		Use:   "hands-panel PATH...",
		Short: "draw offers and missed hand signs for readers who judge them as pianists",
		Long: `hands-panel draws some of the redistributions that are offered in the scores of the collections and
folders named, and some of the printed hand signs that are neither known nor offered with the signs
hidden, each as a page of notation: the notes that change hands ringed, both hands' fingers as they are
then, two measures around. Readers are not told which case is which: signs are taken out of the text, and
what each case is stands in a file of its own (--key). README.md in the folder says what is asked and how
answers are written.`,
		Args: cobra.MinimumNArgs(1),
		Flags: func(f *pflag.FlagSet) {
			f.StringVar(&policy, "policy", "default", "policy file or shipped style")
			f.StringVar(&m.out, "out", "panel", "folder to write to")
			f.StringVar(&m.key, "key", "panel-key.tsv", "file that says what each case is")
			f.StringSliceVar(&without, "without", nil, "keys of earlier panels, whose cases are drawn only where there are no others")
			f.IntVar(&m.every, "every", 1, "take every n-th score for offers; those with signs are all taken")
			f.IntVar(&m.offers, "offers", 60, "how many offers to draw")
			f.IntVar(&m.missed, "missed", 40, "how many missed signs to draw")
		},
		Run: func(ctx context.Context, out io.Writer, paths []string) (err error) {
			if m.policy, err = policies.Open(policy, "."); err != nil {
				return err
			}
			if m.judged, err = judgedBefore(without); err != nil {
				return err
			}
			return m.run(ctx, out, paths)
		},
	}.Command()
}

// panelCase is one place to judge.
type panelCase struct {
	rank          uint32 // a sum of its place: cases are drawn and laid out by it
	again         bool   // it was judged before
	kind          string // offer or missed
	piece, id     string
	w             *pipeline.PieceRun
	notes         []int
	to            score.Hand
	fingers       map[int]fingering.Finger // of every note of both hands, as they are then
	reason, words string
}

func (m *handsPanel) run(ctx context.Context, out io.Writer, paths []string) error {
	d, err := openDrawing(ctx, m.out)
	if err != nil {
		return err
	}
	var offers, missed []panelCase
	for _, path := range paths {
		c, err := corpus.Open(path)
		if err != nil {
			return err
		}
		for i := range c.Pieces {
			if c.Pieces[i].Fault != nil {
				continue
			}
			if err := ctx.Err(); err != nil {
				return err
			}
			o, s := m.piece(c, &c.Pieces[i], i%m.every == 0)
			offers, missed = append(offers, o...), append(missed, s...)
		}
	}
	for _, list := range [2][]panelCase{offers, missed} {
		for k := range list {
			list[k].again = m.judged[list[k].piece+"\t"+list[k].id]
		}
	}
	fmt.Fprintf(out, "%d offers and %d missed signs to draw from\n", len(offers), len(missed))
	all := append(drawn(offers, m.offers), drawn(missed, m.missed)...)
	slices.SortFunc(all, byRank)
	return m.write(ctx, d, all)
}

// judgedBefore reads the cases that keys of panels name, each as its piece and place.
func judgedBefore(keys []string) (map[string]bool, error) {
	out := map[string]bool{}
	for _, name := range keys {
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("reading the key of a panel: %w", err)
		}
		for line := range strings.Lines(string(text)) {
			if cells := strings.Split(strings.TrimRight(line, "\n"), "\t"); len(cells) == 5 {
				out[cells[3]+"\t"+cells[4]] = true
			}
		}
	}
	return out, nil
}

// piece lists what a score has to judge; its offers only where asked for.
func (m *handsPanel) piece(c *corpus.Collection, piece *corpus.Piece, withOffers bool) (offers, missed []panelCase) {
	read, err := programruns.OfPiece(c, piece, m.policy)
	if err != nil || between(read, "", "read") != nil {
		return nil, nil
	}
	named := printedSigns(read.Score, piece)
	if len(named) == 0 && !withOffers {
		return nil, nil
	}
	if between(read, "read", "redistribute") != nil {
		return nil, nil
	}
	fingers := fingersOf(read)
	if withOffers {
		for k := range read.Redistributions {
			r := &read.Redistributions[k]
			then := map[int]fingering.Finger{}
			for n, f := range fingers {
				then[n] = f
			}
			for j, n := range r.Around {
				then[n] = r.AroundFingers[j]
			}
			for j, n := range r.Notes {
				then[n] = r.Fingers[j]
			}
			offers = append(offers, panelCase{
				rank: rankOf(piece.ID + r.ID), kind: "offer", piece: piece.ID, id: r.ID, w: read, notes: r.Notes, to: r.To,
				fingers: then, reason: r.Reason, words: r.Why,
			})
		}
	}
	if len(named) == 0 {
		return offers, nil
	}
	signs := &signs{policy: m.policy}
	hidden := signs.piece(c, piece)
	for k := range hidden.places {
		p := &hidden.places[k]
		if !p.known && !p.offered {
			missed = append(missed, panelCase{
				rank: rankOf(piece.ID + p.where), kind: "missed", piece: piece.ID, id: p.where, w: read,
				notes: p.sign.Notes, to: p.sign.Sign.Hand, fingers: fingers, reason: p.kind,
			})
		}
	}
	return offers, missed
}

func rankOf(place string) uint32 { return crc32.ChecksumIEEE([]byte(place)) }

func byRank(a, b panelCase) int {
	return cmp.Or(cmp.Compare(a.rank, b.rank), strings.Compare(a.id, b.id))
}

// mostAlike is how many cases of one piece, kind and reason are drawn: a gesture that returns is judged once or twice.
const mostAlike = 2

// drawn takes cases by their ranks, those judged before last.
func drawn(all []panelCase, count int) (out []panelCase) {
	slices.SortFunc(all, byRank)
	slices.SortStableFunc(all, func(a, b panelCase) int {
		switch {
		case a.again == b.again:
			return 0
		case a.again:
			return 1
		}
		return -1
	})
	alike := map[string]int{}
	for _, c := range all {
		if like := c.piece + c.reason; len(out) < count && alike[like] < mostAlike {
			alike[like]++
			out = append(out, c)
		}
	}
	return out
}

// fingersOf gives the finger of every note that goes down, as suggested.
func fingersOf(w *pipeline.PieceRun) map[int]fingering.Finger {
	out := map[int]fingering.Finger{}
	for n := range w.Suggestion.Notes {
		if f := w.Suggestion.Notes[n].Finger; f.Valid() && w.Score.Notes[n].TiedFrom < 0 {
			out[n] = f
		}
	}
	return out
}

func (m *handsPanel) write(ctx context.Context, d *drawing, all []panelCase) error {
	var list, key strings.Builder
	key.WriteString("case\tkind\treason\tpiece\tplace\n")
	for k := range all {
		c := &all[k]
		name := fmt.Sprintf("case-%03d", k+1)
		fmt.Fprintf(&key, "%s\t%s\t%s\t%s\t%s\n", name, c.kind, c.reason, c.piece, c.id)
		text, page, err := d.panelPage(ctx, name, c)
		if err != nil {
			fmt.Fprintf(&list, "- **%s**: not drawn: %v\n", name, err)
			continue
		}
		list.WriteString(text)
		if err := os.WriteFile(filepath.Join(m.out, name+".html"), []byte(page), 0o644); err != nil {
			return fmt.Errorf("writing a panel: %w", err)
		}
	}
	if err := os.WriteFile(filepath.Join(m.out, "README.md"), []byte(panelReadme+list.String()), 0o644); err != nil {
		return fmt.Errorf("writing a panel: %w", err)
	}
	if err := os.WriteFile(m.key, []byte(key.String()), 0o644); err != nil {
		return fmt.Errorf("writing the key of a panel: %w", err)
	}
	return nil
}
