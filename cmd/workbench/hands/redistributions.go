package hands

import (
	"context"
	"fmt"
	"io"
	"os"
	"time"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/14_redistribute"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

func redistributionsCommand() *cobra.Command {
	var policy, size string
	var every int
	var list, check bool
	var draw, shared string
	c := &cobra.Command{
		Use:   "redistributions PATH...",
		Short: "measure what is offered to the other hand",
		Long: `redistributions fingers every score of the collections and folders named, and tells by reason how many windows are in trouble, how many
of them a redistribution ends, how many are offered in a thousand notes, and what the search of both hands takes beside that of
each hand. A suggestion that leaves a hand beyond its limit is told, and so is every easy piece that gets one (easy by what stands on
its page, see --draw). With --check, each piece that gets one is marked as written and on the other staff, and held against
the score: untouched, valid, read back, taken back.

EXIT STATUS
  0  measured
  2  the work could not be done, a suggestion leaves a hand beyond its limit, or a promise is broken`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := policies.Open(policy, ".")
			if err != nil {
				return err
			}
			if size != "" {
				if p, err = policies.WithHand(size); err != nil {
					return err
				}
			}
			m := redistributionsMeasure{policy: p, every: every, list: list}
			if m.draw, err = openDrawing(cmd.Context(), draw); err != nil {
				return err
			}
			for _, path := range args {
				if check {
					if m.check, err = newRedistributionsCheck(shared, policy, cmd.OutOrStdout()); err != nil {
						return err
					}
				}
				err := m.run(cmd.Context(), cmd.OutOrStdout(), path)
				if check {
					m.check.Close()
				}
				if err != nil {
					return err
				}
			}
			return nil
		},
	}
	f := c.Flags()
	f.StringVar(&policy, "policy", "default", "policy file or shipped style")
	f.StringVar(&size, "hand", "", "octave, ninth or tenth: the default style for another hand")
	f.IntVar(&every, "every", 1, "take every n-th score")
	f.BoolVar(&list, "list", false, "tell every redistribution")
	f.StringVar(&draw, "draw", "", "draw the pages of easy pieces that get one into this folder; easy: at most two keys at once, no more than an octave, and four strokes a second, in nearly all of a hand's strokes")
	f.BoolVar(&check, "check", false, "mark each piece that gets one, both ways, and hold it against the score (needs python3 and xmllint)")
	f.StringVar(&shared, "shared", opendata.Folder(), "folder of shared material, for --check")
	return c
}

// redistributionsMeasure is what is asked for.
type redistributionsMeasure struct {
	policy *policies.Policy
	every  int
	list   bool
	draw   *drawing
	check  *redistributionsCheck
}

func (ask *redistributionsMeasure) run(ctx context.Context, out io.Writer, path string) error {
	c, err := corpus.Open(path)
	if err != nil {
		return err
	}
	var windows, resolved, offered = map[string]int{}, map[string]int{}, map[string]int{}
	notes, scores, with, tooWide := 0, 0, 0, 0
	easyScores, easyWith := 0, 0
	var each, both time.Duration
	for i := range c.Pieces {
		if i%max(ask.every, 1) != 0 || c.Pieces[i].Fault != nil {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		w, err := openWay(c, &c.Pieces[i], ask.policy)
		if err != nil {
			fmt.Fprintf(out, "left out: %v\n", err)
			continue
		}
		for _, s := range pipeline.Stages {
			start := time.Now()
			if err = s.Run(w); err != nil {
				break
			}
			switch s.Name {
			case "suggest":
				each += time.Since(start)
			case "redistribute":
				both += time.Since(start)
			}
			if s.Name == "redistribute" {
				break
			}
		}
		if err != nil {
			fmt.Fprintf(out, "left out: %v\n", err)
			continue
		}
		scores++
		for n := range w.Hands.Piano {
			if w.Hands.Piano[n] {
				notes++
			}
		}
		for _, reason := range redistribute.Reasons {
			windows[reason] += w.InTrouble.Windows[reason]
			resolved[reason] += w.InTrouble.Resolved[reason]
		}
		simple := easy(w)
		if simple {
			easyScores++
		}
		if len(w.Redistributions) > 0 {
			with++
			if simple {
				easyWith++
				fmt.Fprintf(out, "an easy piece gets some: %s\n", w.Piece.ID)
				if ask.draw != nil {
					if err := ask.draw.page(ctx, w, c.Title); err != nil {
						return err
					}
				}
			}
			if ask.check != nil {
				if err := ask.check.piece(w); err != nil {
					return err
				}
			}
		}
		for k := range w.Redistributions {
			offered[w.Redistributions[k].Reason]++
			if n := beyond(w, &w.Redistributions[k]); n > 0 {
				tooWide += n
				fmt.Fprintf(out, "beyond the hand: %d pairs\n", n)
				tellOne(out, w, &w.Redistributions[k])
			}
			if ask.list || simple {
				tellOne(out, w, &w.Redistributions[k])
			}
		}
	}
	fmt.Fprintf(out, "%s: %d scores, %d notes; %d scores have suggestions; each hand %.1f s, both hands in windows %.1f s more (%.2f of it)\n",
		path, scores, notes, with, each.Seconds(), both.Seconds(), both.Seconds()/max(each.Seconds(), 0.001))
	for _, reason := range redistribute.Reasons {
		fmt.Fprintf(out, "  %-10s windows in trouble %6d, resolved %5d, offered %5d: %.2f in a thousand notes\n",
			reason, windows[reason], resolved[reason], offered[reason], 1000*float64(offered[reason])/float64(max(notes, 1)))
	}
	fmt.Fprintf(out, "  %d pairs of keys beyond the hand where notes change hands\n", tooWide)
	fmt.Fprintf(out, "  %d of %d easy pieces get some\n", easyWith, easyScores)
	if ask.check != nil {
		if err := ask.check.tell(); err != nil {
			return err
		}
	}
	if tooWide > 0 {
		return fmt.Errorf("suggestions leave a hand beyond its limit")
	}
	return nil
}

func tellOne(out io.Writer, w *pipeline.PieceRun, r *fingering.Redistribution) {
	fmt.Fprintf(out, "%s %s gain %d:", w.Piece.ID, r.ID, r.Gain)
	for k, n := range r.Notes {
		fmt.Fprintf(out, " %s=%d", w.Score.Notes[n].Pitch, r.Fingers[k])
	}
	fmt.Fprintf(out, "\n    %s\n", r.Why)
}

// openWay opens the way of one piece of a collection.
func openWay(c *corpus.Collection, piece *corpus.Piece, policy *policies.Policy) (*pipeline.PieceRun, error) {
	data, err := os.ReadFile(c.Path(piece.Score))
	if err != nil {
		return nil, fmt.Errorf("reading a score: %w", err)
	}
	return &pipeline.PieceRun{Piece: piece, Data: data, Policy: policy, Weights: pipeline.ShippedWeights()}, nil
}

// beyond counts pairs of keys that either hand strikes together, where notes change hands, and that its fingers do not span: looked at
// anew, from the fingers told.
func beyond(w *pipeline.PieceRun, r *fingering.Redistribution) (n int) {
	s := w.Score
	finger, side := map[int]fingering.Finger{}, map[int]score.Hand{}
	for k, i := range r.Around {
		finger[i] = r.AroundFingers[k]
	}
	for k, i := range r.Notes {
		finger[i], side[i] = r.Fingers[k], r.To
	}
	type key struct {
		h  score.Hand
		at score.Fraction
	}
	grips := map[key][]int{}
	touched := map[score.Fraction]bool{}
	for _, i := range r.Notes {
		touched[s.At(i)] = true
	}
	player := w.Hands.Player[r.Notes[0]]
	for i := range s.Notes {
		if !w.Hands.Piano[i] || w.Hands.Player[i] != player || s.Notes[i].TiedFrom >= 0 || s.Notes[i].Grace > 0 || s.Notes[i].Arpeggio.Rolled || !touched[s.At(i)] {
			continue
		}
		if _, ok := finger[i]; !ok {
			finger[i] = w.Suggestion.Notes[i].Finger
		}
		h, ok := side[i]
		if !ok {
			h = w.Hands.Hand[i]
		}
		grips[key{h, s.At(i)}] = append(grips[key{h, s.At(i)}], i)
	}
	for _, g := range grips { // only counted: any order will do
		for a, i := range g {
			for _, j := range g[a+1:] {
				if finger[i] != finger[j] && w.Profile.Excess(int(finger[i]), int(finger[j]), hand.Distance(s.Notes[i].Midi, s.Notes[j].Midi)) > 0 {
					n++
				}
			}
		}
	}
	return n
}
