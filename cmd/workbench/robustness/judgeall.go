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
	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/policies"
)

// judging judges the passages of pieces as on their pages, works the pieces out again, and counts what is wrong then.
type judging struct {
	shared string
	scores int
	seed   uint64
	list   bool

	out      io.Writer
	patterns []*pattern
	pieces   int
	rolled   int // chords offered to be rolled that were judged, in all ways to go through a page
}

// pattern is one way to go through a page: what is done with a passage.
type pattern struct {
	name string
	// judge gives a passage's decisions; nothing where it is left open.
	shuffled bool
	complete bool // everything is taken
	judged   bool // everything is decided, some of it otherwise than suggested
	judge    func(rng *rand.Rand, take, decline func() []decision.Decision) []decision.Decision
	// answer gives a passage's decisions where it is answered otherwise than by taking or declining it whole (ways.go).
	answer func(a *answering, q *review.Passage) []decision.Decision

	rounds                                             int // pieces of which everything was judged and a digit is open all the same: they have a second round
	decisions, before, after, fresh, worse, open, left int
	// named are those of left of which page, sheet and enter say beforehand that the answer does not go there with other fingers:
	// a text's digit stands beside them, or a key of the other colour would get thumb or fifth finger.
	named int
	// bytes are those of the files of decisions, of the largest one, and the notes that are decided.
	bytes, largest, notes int
}

func judgeAllCommand() *cobra.Command {
	m := &judging{}
	return measurement.Measurement{
		Use:   "judge-all [SCORE...]",
		Short: "judge all passages of pieces as on their pages and run again: errors before and after, digits left open, size of the files",
		Long: `judge-all works out scores taken evenly from the fingered material, songs with chords beyond the hand and the demo
collection, or the scores named. It takes every passage, declines what can be declined, and does either by chance, in the order
of the page and shuffled; and it answers everything with other fingers at one note in two passages, as the page and a sheet have it, and
in lines that name places. The decisions go through their file. The piece is worked out again with them. Digits that stay open since
other fingers do not go to a return, which page, sheet and enter name with the reason before they are kept, are counted as named.`,
		Args:  cobra.ArbitraryArgs,
		Fails: "an error stands after judging as suggested that did not stand before, or a digit is open after everything was judged and nothing said that it would be",
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.IntVar(&m.scores, "scores", 60, "how many fingered scores to take")
			f.Uint64Var(&m.seed, "seed", 1, "seed of the choices")
			f.BoolVar(&m.list, "list", false, "list every error that was not there before, and every digit left open after everything was taken")
		},
		Run: m.run,
	}.Command()
}

func (m *judging) run(_ context.Context, out io.Writer, args []string) error {
	// Fingers of the ways that judge everything are drawn by chance: what lint says of those is no fault of ours.
	type judge = func(rng *rand.Rand, take, decline func() []decision.Decision) []decision.Decision
	takeAll := judge(func(_ *rand.Rand, take, _ func() []decision.Decision) []decision.Decision { return take() })
	m.out = out
	m.patterns = []*pattern{
		{name: "everything taken", complete: true, judge: takeAll},
		{name: "everything taken, any order", complete: true, shuffled: true, judge: takeAll},
		{name: "other fingers on the page", judged: true, answer: (*answering).onPage},
		{name: "other fingers on a sheet", judged: true, answer: (*answering).onSheet},
		{name: "keyed in by measures", judged: true, answer: (*answering).byMeasures},
		{name: "other fingers by beats", judged: true, answer: (*answering).byBeats},
		{name: "offers declined, the rest taken", judged: true, answer: (*answering).declining},
		{name: "nothing taken", judge: func(_ *rand.Rand, _, decline func() []decision.Decision) []decision.Decision { return decline() }},
		{name: "by chance, any order", shuffled: true, judge: func(rng *rand.Rand, take, decline func() []decision.Decision) []decision.Decision {
			switch rng.IntN(3) {
			case 0:
				return decline()
			case 1:
				return nil
			}
			return take()
		}},
	}
	files, err := args, error(nil)
	if len(args) == 0 {
		files, err = fingeredScores(m.shared, m.scores)
	}
	if err != nil {
		return err
	}
	for i, file := range files {
		m.piece(programruns.OfFile(file, policies.Default()), rand.New(rand.NewPCG(m.seed, uint64(i))))
	}
	if len(args) > 0 {
		return m.print()
	}
	demo, err := corpus.Open(shared.InProject("corpus", "demo"))
	if err != nil {
		return err
	}
	for i := range demo.Pieces {
		w, err := programruns.JobOf(demo, policies.Default()).Open(&demo.Pieces[i])
		if err != nil {
			return err
		}
		m.piece(w, rand.New(rand.NewPCG(m.seed, uint64(1000+i))))
	}
	return m.print()
}

func (m *judging) piece(w *pipeline.PieceRun, rng *rand.Rand) {
	if err := pipeline.RunPiece(w); err != nil {
		fmt.Fprintf(m.out, "left out: %s: %v\n", w.Piece.ID, err)
		return
	}
	m.pieces++
	for _, p := range m.patterns {
		m.judge(w, p, rng)
	}
}

// judge goes through the page of a piece in one way, and works the piece out again.
func (m *judging) judge(w *pipeline.PieceRun, p *pattern, rng *rand.Rand) {
	f := decision.NewFinder(w.Score)
	passages := review.WorstFirst(review.All(w.ReviewInput()))
	passages = slices.DeleteFunc(passages, func(q review.Passage) bool { return q.ReturnOf > 0 }) // judged with another
	if p.shuffled {
		rng.Shuffle(len(passages), func(i, j int) { passages[i], passages[j] = passages[j], passages[i] })
	}
	var all []decision.Decision
	one := func(d decision.Decision, ok bool) []decision.Decision {
		if !ok {
			return nil
		}
		return []decision.Decision{d}
	}
	goes := map[int]bool{} // notes of places that are named beside a passage, each with what it gets or why it gets nothing
	for i := range passages {
		for _, place := range passages[i].Goes {
			for _, pair := range place.Notes {
				goes[pair[1]] = true
			}
		}
	}
	answers := answeringOf(w, f, rng)
	for i := range passages {
		q := &passages[i]
		if p.answer != nil {
			all = append(all, p.answer(answers, q)...)
			continue
		}
		all = append(all, p.judge(rng,
			func() []decision.Decision {
				taken := one(review.Take(w.Result, f, q, "AB", "2026-01-01"))
				if review.WantsReason(q) { // as the page does, and the sheet
					taken = append(taken, review.StetIfTaken(f, q, "AB", "2026-01-01", "judged")...)
				}
				return append(taken, m.rolls(w, f, q, decision.Take)...)
			},
			func() []decision.Decision {
				return append(one(review.Decline(w.Result, f, q, "AB", "2026-01-01")), m.rolls(w, f, q, decision.Stet)...)
			})...)
	}
	again, text, err := programruns.AgainWith(w, all)
	if err != nil {
		fmt.Fprintf(m.out, "left out: %s: %v\n", w.Piece.ID, err)
		return
	}
	p.bytes, p.largest = p.bytes+len(text), max(p.largest, len(text))
	for i := range all {
		p.notes += len(all[i].Notes)
	}
	p.decisions += len(all)
	p.open, p.left = p.open+len(w.Open), p.left+len(again.Open)
	if len(again.Open) > 0 {
		p.rounds++
	}
	for _, n := range again.Open {
		if p.answer != nil && goes[n] {
			p.named++
		}
	}
	if m.list && (p.complete || p.judged) {
		for _, n := range again.Open {
			fmt.Fprintf(m.out, "%s, %s: open: %s, %s\n", w.Piece.ID, p.name, w.Score.Notes[n].Pitch, w.Score.Place(n))
		}
	}
	fresh := m.compare(w, again, p)
	if fresh > 0 {
		p.worse++
	}
}

// rolls answers what a passage offers to be rolled, and counts it.
func (m *judging) rolls(w *pipeline.PieceRun, f *decision.Finder, q *review.Passage, verb decision.Verb) []decision.Decision {
	out := answersToRolls(w, f, q, verb)
	m.rolled += len(out)
	return out
}

// compare counts the errors before and after, and those that are new.
func (m *judging) compare(w, again *pipeline.PieceRun, p *pattern) int {
	was := map[string]int{}
	for i := range w.Result.Findings {
		if e := &w.Result.Findings[i]; e.Severity == "error" {
			was[errorKey(e)]++
			p.before++
		}
	}
	fresh := 0
	for i := range again.Result.Findings {
		e := &again.Result.Findings[i]
		if e.Severity != "error" {
			continue
		}
		p.after++
		if was[errorKey(e)]--; was[errorKey(e)] < 0 {
			fresh++
			if m.list {
				fmt.Fprintf(m.out, "%s, %s: %s [%s]\n", w.Piece.ID, p.name, e.Sentence(), e.Rule)
			}
		}
	}
	p.fresh += fresh
	return fresh
}

// errorKey tells an error from others of its piece.
func errorKey(e *state.Finding) string { return e.Rule + "\n" + e.Fingerprint }

func (m *judging) print() error {
	fmt.Fprintf(m.out, "%d pieces; rolls judged: %d\n", m.pieces, m.rolled)
	fmt.Fprintf(m.out, "%-30s %9s %7s %6s %5s %7s %10s %10s %6s %7s %9s %8s %11s\n", "", "decisions", "errors", "after", "new",
		"pieces", "open", "open after", "named", "pieces", "KB", "largest", "bytes/note")
	fresh := 0
	for _, p := range m.patterns {
		fmt.Fprintf(m.out, "%-30s %9d %7d %6d %5d %7d %10d %10d %6d %7d %9d %8d %11.1f\n", p.name, p.decisions, p.before, p.after,
			p.fresh, p.worse, p.open, p.left, p.named, p.rounds, p.bytes/1000, p.largest/1000, float64(p.bytes)/float64(max(p.notes, 1)))
		if !p.judged { // what an editor chooses may be wrong
			fresh += p.fresh
		}
	}
	for _, p := range m.patterns {
		if left := p.left - p.named; (p.complete || p.judged) && left > 0 {
			return measurement.Failed("%d digits are open and were not named beforehand, %s", left, p.name)
		}
	}
	if fresh > 0 {
		return measurement.Failed("%d errors that were not there before", fresh)
	}
	return nil
}
