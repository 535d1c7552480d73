package hands

import (
	"context"
	"fmt"
	"io"
	"slices"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/14_redistribute"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
)

// redistributions measures what is offered to the other hand.
type redistributions struct {
	policy *policies.Policy
	every  int
	list   bool
	draw   *drawing
	check  *redistributionsCheck
	taken  *takenCheck
	out    io.Writer
}

func redistributionsCommand() *cobra.Command {
	m := &redistributions{}
	var policy, size, draw, shared string
	var check, taken bool
	return measurement.Measurement{
		Use:   "redistributions PATH...",
		Short: "measure what is offered to the other hand",
		Long: `redistributions fingers every score of the collections and folders named, and gives by reason how many
windows are in trouble, how many of them a redistribution ends, how many chances for the music's sake were looked
at, how many are offered in a thousand notes,
and what the search of both hands takes beside that of each hand. It names a suggestion that leaves a
hand beyond its limit, and every easy piece that gets one (easy by what stands on its page: at most two
keys at once, no more than an octave, and four strokes a second, in nearly all of a hand's strokes). With
--check, each piece that gets one is marked as written and on the other staff, and held against the
score: untouched, valid, read back, taken back. With --taken, all that is offered in a piece is taken and worked out again:
every grip with a note that changed hands is looked at with the keys held in it, and every measure that has the same
keys in both hands as one of an offer is asked for the same offer.`,
		Args:  cobra.MinimumNArgs(1),
		Fails: "a suggestion leaves a hand beyond its limit, or a promise is broken",
		Flags: func(f *pflag.FlagSet) {
			f.StringVar(&policy, "policy", "default", "policy file or shipped style")
			f.StringVar(&size, "hand", "", "octave, ninth or tenth: the default style for another hand")
			f.IntVar(&m.every, "every", 1, "take every n-th score")
			f.BoolVar(&m.list, "list", false, "list every redistribution")
			f.StringVar(&draw, "draw", "", "draw the pages of easy pieces that get one into this folder")
			f.BoolVar(&check, "check", false,
				"mark each piece that gets one, both ways, and hold it against the score (needs python3 and xmllint)")
			f.BoolVar(&taken, "taken", false, "take what is offered, and look at the grips then, and at measures on the same keys")
			f.StringVar(&shared, "shared", opendata.Folder(), "folder of shared material, for --check")
		},
		Run: func(ctx context.Context, out io.Writer, paths []string) (err error) {
			m.out = out
			if m.policy, err = policies.Open(policy, "."); err != nil {
				return err
			}
			if size != "" {
				if m.policy, err = policies.WithHand(size); err != nil {
					return err
				}
			}
			if m.draw, err = openDrawing(ctx, draw); err != nil {
				return err
			}
			for _, path := range paths {
				if taken {
					m.taken = &takenCheck{list: m.list, out: out}
				}
				if check {
					if m.check, err = newRedistributionsCheck(shared, policy, out); err != nil {
						return err
					}
					defer m.check.Close()
				}
				if err := m.collection(ctx, path); err != nil {
					return err
				}
			}
			return nil
		},
	}.Command()
}

// redistributionCount is what one collection comes to; the maps count by reason.
type redistributionCount struct {
	windows, resolved, offered map[string]int
	chances                    map[string]int // places looked at for the music's sake
	notes, scores, with        int
	tooWide                    int // pairs of keys beyond the hand
	easy, easyWith             int
	each, both                 time.Duration
}

func (m *redistributions) collection(ctx context.Context, path string) error {
	c, err := opendata.EveryNth(path, m.every)
	if err != nil {
		return err
	}
	n := &redistributionCount{windows: map[string]int{}, resolved: map[string]int{}, offered: map[string]int{},
		chances: map[string]int{}}
	for i := range c.Pieces {
		if c.Pieces[i].Fault != nil {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		w, err := programruns.OfPiece(c, &c.Pieces[i], m.policy)
		if err == nil {
			err = m.worked(n, w)
		}
		if err != nil {
			fmt.Fprintf(m.out, "left out: %v\n", err)
			continue
		}
		if err := m.piece(ctx, n, w, c.Title); err != nil {
			return err
		}
	}
	n.print(m.out, path)
	if m.taken != nil {
		m.taken.print()
	}
	if m.check != nil {
		if err := m.check.result(); err != nil {
			return err
		}
	}
	if n.tooWide > 0 {
		return measurement.Failed("suggestions leave a hand beyond its limit")
	}
	return nil
}

// worked takes a piece through the stages up to redistributions, timed.
func (m *redistributions) worked(n *redistributionCount, w *pipeline.PieceRun) error {
	for _, s := range pipeline.Stages {
		start := time.Now()
		if err := s.Run(w); err != nil {
			return err
		}
		switch s.Name {
		case "suggest":
			n.each += time.Since(start)
		case "redistribute":
			n.both += time.Since(start)
			return nil
		}
	}
	return nil
}

// piece counts one piece, and draws and checks it where that is asked for; title is that of the collection.
func (m *redistributions) piece(
	ctx context.Context, n *redistributionCount, w *pipeline.PieceRun, title string,
) error {
	n.scores++
	for _, l := range w.Playing.Lines {
		n.notes += len(l.Written)
	}
	for _, reason := range redistribute.Reasons {
		n.windows[reason] += w.InTrouble.Windows[reason]
		n.resolved[reason] += w.InTrouble.Resolved[reason]
		n.chances[reason] += w.InTrouble.Chances[reason]
	}
	simple := easy(w)
	if simple {
		n.easy++
	}
	if len(w.Redistributions) == 0 {
		return nil
	}
	n.with++
	if simple {
		n.easyWith++
		fmt.Fprintf(m.out, "an easy piece gets some: %s\n", w.Piece.ID)
		if m.draw != nil {
			if err := m.draw.page(ctx, w, title); err != nil {
				return err
			}
		}
	}
	if m.taken != nil {
		if err := m.taken.piece(w); err != nil {
			return err
		}
	}
	if m.check != nil {
		if err := m.check.piece(w); err != nil {
			return err
		}
	}
	for k := range w.Redistributions {
		r := &w.Redistributions[k]
		n.offered[r.Reason]++
		wide := beyond(w, r)
		if wide > 0 {
			n.tooWide += wide
			fmt.Fprintf(m.out, "beyond the hand: %d pairs\n", wide)
		}
		if wide > 0 || m.list || simple {
			listOne(m.out, w, r)
		}
	}
	return nil
}

func (n *redistributionCount) print(out io.Writer, path string) {
	fmt.Fprintf(out, "%s: %d scores, %d notes; %d scores have suggestions; each hand %.1f s, ",
		path, n.scores, n.notes, n.with, n.each.Seconds())
	fmt.Fprintf(out, "both hands in windows %.1f s more (%.2f of it)\n",
		n.both.Seconds(), n.both.Seconds()/max(n.each.Seconds(), 0.001))
	all := 0
	for _, reason := range redistribute.Reasons {
		looked := fmt.Sprintf("windows in trouble %6d, resolved %5d", n.windows[reason], n.resolved[reason])
		if slices.Contains(redistribute.ForTheMusic, reason) {
			looked = fmt.Sprintf("chances looked at  %6d, %14s", n.chances[reason], "")
		}
		fmt.Fprintf(out, "  %-10s %s, offered %5d: %.2f in a thousand notes\n",
			reason, looked, n.offered[reason], 1000*float64(n.offered[reason])/float64(max(n.notes, 1)))
		all += n.offered[reason]
	}
	fmt.Fprintf(out, "  all        offered %5d: %.2f in a thousand notes\n", all, 1000*float64(all)/float64(max(n.notes, 1)))
	fmt.Fprintf(out, "  %d pairs of keys beyond the hand where notes change hands\n", n.tooWide)
	fmt.Fprintf(out, "  %d of %d easy pieces get some\n", n.easyWith, n.easy)
}

// listOne writes a redistribution: what it gains, its notes with their fingers, and why.
func listOne(out io.Writer, w *pipeline.PieceRun, r *fingering.Redistribution) {
	fmt.Fprintf(out, "%s %s gain %d:", w.Piece.ID, r.ID, r.Gain)
	for k, n := range r.Notes {
		fmt.Fprintf(out, " %s=%d", w.Score.Notes[n].Pitch, r.Fingers[k])
	}
	fmt.Fprintf(out, "\n    %s\n", r.Why)
}
