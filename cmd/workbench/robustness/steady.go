package robustness

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/policies"
)

// steadiness takes a part of what is suggested, works the piece out again, and counts which other suggestions have moved.
type steadiness struct {
	shared string
	scores int
	seed   uint64
	list   bool

	out    io.Writer
	parts  []*partTaken
	pieces int
}

// partTaken is one way to take a part of what is suggested.
type partTaken struct {
	name string
	take func(p *pieceInParts) []decision.Decision
	// amends gives some notes other fingers before anything is taken, and again before the last sitting: what is counted moved is
	// held against the run with those.
	amends bool
	// sittings is how often a part is taken, each time of what the run before suggests.
	sittings int

	runs, unsteady                  int // runs again, and those in which a suggestion moved
	taken, undecided, moved, opened int
	rows                            int // of signs that came out otherwise
	otherwise                       int // digits that hold for a return too, and were suggested otherwise there
}

// pieceInParts is a piece as it was last worked out.
type pieceInParts struct {
	run      *pipeline.PieceRun
	finder   *decision.Finder
	rng      *rand.Rand
	passages []review.Passage // that have digits to take
}

func steadyCommand() *cobra.Command {
	m := &steadiness{}
	return measurement.Measurement{
		Use:   "steady [SCORE...]",
		Short: "take a part of what is suggested and run again: how many of the other suggestions move",
		Long: `steady works out scores taken evenly from the fingered material, or the scores named. It takes a part of what is suggested:
half of the passages by chance, those that are firm, half of the digits that will print one by one, all but one passage in eight, a part in
three sittings; and the same after some notes were given other fingers. The piece is worked out again. A suggestion has moved
where nothing is decided at the note and its finger, or its silent change, is another than before. Digits that will print then and would
not have printed before are counted as opened, digits that were taken for a return too and were suggested otherwise there as otherwise.`,
		Args:  cobra.ArbitraryArgs,
		Fails: "a suggestion moved",
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.IntVar(&m.scores, "scores", 40, "how many fingered scores to take")
			f.Uint64Var(&m.seed, "seed", 1, "seed of the choices")
			f.BoolVar(&m.list, "list", false, "list every suggestion that moved")
		},
		Run: m.run,
	}.Command()
}

func (m *steadiness) run(_ context.Context, out io.Writer, args []string) error {
	m.out = out
	half := func(p *pieceInParts) []decision.Decision {
		return p.passagesWhere(func(*review.Passage) bool { return p.rng.IntN(2) == 0 })
	}
	m.parts = []*partTaken{
		{name: "half of the passages", take: half},
		{name: "firm passages", take: func(p *pieceInParts) []decision.Decision {
			return p.passagesWhere(func(q *review.Passage) bool { return q.Firm })
		}},
		{name: "half of the digits", take: (*pieceInParts).halfOfDigits},
		{name: "all but one passage in eight", take: func(p *pieceInParts) []decision.Decision {
			return p.passagesWhere(func(*review.Passage) bool { return p.rng.IntN(8) > 0 })
		}},
		{name: "a third, three times", sittings: 3, take: func(p *pieceInParts) []decision.Decision {
			return p.passagesWhere(func(*review.Passage) bool { return p.rng.IntN(3) == 0 })
		}},
		{name: "half beside other fingers", amends: true, take: half},
		{name: "a third beside them, three times", amends: true, sittings: 3, take: func(p *pieceInParts) []decision.Decision {
			return p.passagesWhere(func(*review.Passage) bool { return p.rng.IntN(3) == 0 })
		}},
	}
	files, err := args, error(nil)
	if len(args) == 0 {
		if files, err = fingeredScores(m.shared, m.scores); err != nil {
			return err
		}
	}
	for i, file := range files {
		w := programruns.OfFile(file, policies.Default())
		if err := pipeline.RunPiece(w); err != nil {
			fmt.Fprintf(m.out, "left out: %s: %v\n", w.Piece.ID, err)
			continue
		}
		m.pieces++
		for k, p := range m.parts {
			m.piece(w, p, rand.New(rand.NewPCG(m.seed, uint64(1000*i+k))))
		}
	}
	return m.print()
}

// piece takes a part of a piece, in as many sittings as the way asks for.
func (m *steadiness) piece(w *pipeline.PieceRun, p *partTaken, rng *rand.Rand) {
	var all []decision.Decision
	again := func(run *pipeline.PieceRun, more []decision.Decision) *pipeline.PieceRun {
		all = append(all, more...)
		next, _, err := programruns.AgainWith(run, all)
		if err != nil {
			fmt.Fprintf(m.out, "left out: %s: %v\n", w.Piece.ID, err)
			return nil
		}
		return next
	}
	run := w
	for sitting := range max(p.sittings, 1) {
		in := partsOf(run, rng)
		if p.amends && sitting != 1 { // beside them, and once more when a part is taken
			if run = again(run, in.others()); run == nil {
				return
			}
			in = partsOf(run, rng)
		}
		taken := p.take(in)
		if len(taken) == 0 {
			continue
		}
		next := again(run, taken)
		if next == nil {
			return
		}
		m.compare(run, next, p)
		run = next
	}
}

func partsOf(w *pipeline.PieceRun, rng *rand.Rand) *pieceInParts {
	p := &pieceInParts{run: w, finder: decision.NewFinder(w.Score), rng: rng}
	for _, q := range review.WorstFirst(review.All(w.ReviewInput())) {
		if q.ReturnOf == 0 && q.Redistribution < 0 && !review.WantsReason(&q) && len(review.Taken(w.Result, &q)) > 0 {
			p.passages = append(p.passages, q)
		}
	}
	return p
}

// passagesWhere takes the passages that are wanted.
func (p *pieceInParts) passagesWhere(wanted func(q *review.Passage) bool) (out []decision.Decision) {
	for i := range p.passages {
		if !wanted(&p.passages[i]) {
			continue
		}
		if d, ok := review.Take(p.run.Result, p.finder, &p.passages[i], "AB", "2026-01-01"); ok {
			out = append(out, d)
		}
	}
	return out
}

// halfOfDigits takes every second digit by chance, each for itself.
func (p *pieceInParts) halfOfDigits() (out []decision.Decision) {
	for i := range p.passages {
		d, ok := review.Take(p.run.Result, p.finder, &p.passages[i], "AB", "2026-01-01")
		if !ok {
			continue
		}
		d.Notes = slices.DeleteFunc(slices.Clone(d.Notes), func(decision.NoteRef) bool { return p.rng.IntN(2) == 0 })
		if len(d.Notes) > 0 {
			out = append(out, d)
		}
	}
	return out
}

// others gives one note of each of three passages by chance another finger.
func (p *pieceInParts) others() (out []decision.Decision) {
	a := &answering{run: p.run, finder: p.finder, rng: p.rng}
	for range min(3, len(p.passages)) {
		q := &p.passages[p.rng.IntN(len(p.passages))]
		if note, finger, ok := a.otherFinger(q); ok {
			out = append(out, decision.Decision{
				Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-01-01", Returns: q.ForReturns,
				Notes: []decision.NoteRef{p.finder.Ref(note, []int{finger})},
			})
		}
	}
	return out
}

// compare counts what moved between a run and the next, in which more is taken.
func (m *steadiness) compare(was, is *pipeline.PieceRun, p *partTaken) {
	p.runs++
	moved := 0
	for n := range is.Suggestion.Notes {
		a, b := &was.Suggestion.Notes[n], &is.Suggestion.Notes[n]
		if b.Finger == 0 || b.Tied {
			continue
		}
		if !slices.Equal(a.Row, b.Row) && is.Bound[n].Verb != decision.Amend {
			p.rows++
		}
		if is.Bound[n].Finger() > 0 {
			if was.Bound[n].Finger() == 0 {
				p.taken++
				if is.Bound[n].Carried && is.Bound[n].Finger() != int(a.Finger) {
					p.otherwise++
				}
			}
			continue
		}
		p.undecided++
		if a.Finger == b.Finger && a.Substitution == b.Substitution {
			continue
		}
		moved++
		if m.list {
			fmt.Fprintf(m.out, "%s, %s: %s, %s: %d-%d, then %d-%d\n", was.Piece.ID, p.name, is.Score.Notes[n].Pitch, is.Score.Place(n),
				a.Finger, a.Substitution, b.Finger, b.Substitution)
		}
	}
	if moved > 0 {
		p.unsteady++
	}
	p.moved += moved
	for _, n := range is.Open {
		if !slices.Contains(was.Open, n) {
			p.opened++
		}
	}
}

func (m *steadiness) print() error {
	fmt.Fprintf(m.out, "%d pieces\n", m.pieces)
	fmt.Fprintf(m.out, "%-34s %6s %9s %10s %8s %10s %8s %8s %6s\n", "", "runs", "unsteady", "undecided", "taken", "otherwise", "moved", "opened", "rows")
	moved := 0
	for _, p := range m.parts {
		fmt.Fprintf(m.out, "%-34s %6d %9d %10d %8d %10d %8d %8d %6d\n", p.name, p.runs, p.unsteady, p.undecided, p.taken, p.otherwise, p.moved, p.opened, p.rows)
		moved += p.moved
	}
	if moved > 0 {
		return measurement.Failed("%d suggestions moved", moved)
	}
	return nil
}
