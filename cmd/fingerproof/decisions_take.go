package main

import (
	"bufio"
	"cmp"
	"context"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/strictyaml"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/pipeline/4_stages/14_redistribute"
	"fingerproof/rules/lint/all"
	"fingerproof/rules/lint/decision-query"
	"fingerproof/rules/parallel"

	"github.com/spf13/cobra"
)

// taking says which passages are taken together.
type taking struct {
	firm         bool
	reason, rule string
	confidence   int
	measures     string
	by           string
	excerpts     int
	here         bool
	yes          bool
}

func newDecisionsTake(env *environment) *cobra.Command {
	var options workOptions
	var in string
	var pieces pieceChoice
	var t taking
	cmd := &cobra.Command{
		Use:   "take",
		Short: "Take suggestions of many passages together: what is not in doubt, by reason, rule, confidence, measures",
		Long: `take takes what is suggested in many passages at once, of a collection or of the pieces
named. It counts the passages, the notes and those with a digit in print by piece, shows some of them as
notes and digits, and asks before it writes; without a terminal it writes only with --yes.

What is taken is what the last run suggested, where its results lie beside the collection: a passage of which a finger comes out
otherwise by now, with what was decided since, stays open, and is named.

A passage is without doubt where no finger in it is in doubt (each is at least ` + strconv.Itoa(review.RealDoubt) + ` of 100 sure), no finding
speaks of a finger that is taken with it, and none would once it is taken; what is found of the text's own digits in the same
measures is asked by itself, and stays open. Notes are counted with those of returns that are decided with them, where the music is
the same all round; --here decides none of these. --no-doubt takes these, and those beside them that are so once
they are taken; --confidence N those in which every
doubt is at least so sure, in percent, and of which no finding speaks, nor would once they are taken; --rule
those of which a finding of the rule speaks; --reason the redistributions offered for the reason. Two of them
together take what both say; what lint would find besides is listed with them. ` + "`decisions undo`" + `
takes it back.
` + exitStatusHelp,
		Example: `  fingerproof decisions take --no-doubt --by AB
  fingerproof decisions take --no-doubt --piece op7-nocturne --measures 1-24 --by AB --yes
  fingerproof decisions take --reason collision --by AB
  fingerproof decisions take --confidence 45 --by AB`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			var err error
			if t.by, err = initials(env, "take needs to know whose decisions these are", t.by); err != nil {
				return err
			}
			if !t.firm && t.reason == "" && t.rule == "" && t.confidence == 0 {
				return fmt.Errorf("take does not know what to take\nhint: --no-doubt, --reason, --rule or --confidence")
			}
			if t.confidence < 0 || t.confidence > 100 {
				return fmt.Errorf("--confidence cannot be %d\nhint: percent, from 1 to 100", t.confidence)
			}
			if err := t.checkNames(); err != nil {
				return err
			}
			job, err := options.job(in)
			if err != nil {
				return err
			}
			if err := pieces.keep(job.Collection); err != nil {
				return err
			}
			if t.measures != "" && len(job.Collection.Pieces) > 1 {
				return fmt.Errorf("--measures speaks of one piece\nhint: name it with --piece")
			}
			return takeTogether(cmd.Context(), env, job, &t)
		},
	}
	pieceFlags(cmd, &options, &in)
	f := cmd.Flags()
	pieces.add(f, "take of")
	f.BoolVar(&t.firm, "no-doubt", false, "passages in which nothing is in doubt")
	f.BoolVar(&t.firm, "firm", false, "") // its name before
	_ = f.MarkHidden("firm")
	f.StringVar(&t.reason, "reason", "", "redistributions offered for this reason, as collision or reach")
	f.StringVar(&t.rule, "rule", "", "passages of which a finding of this rule speaks")
	f.IntVar(&t.confidence, "confidence", 0, "passages whose least sure finger is at least so sure, in percent")
	f.StringVar(&t.measures, "measures", "", "only passages within these measures, as printed: 12-24")
	f.StringVar(&t.by, "by", "", "initials of the editor")
	f.IntVar(&t.excerpts, "excerpts", 3, "passages of a piece shown as notes and digits; -1 shows all")
	f.BoolVar(&t.here, "here", false, "what is taken holds for its own passage alone, and is asked again where that returns")
	f.BoolVar(&t.yes, "yes", false, "take them without asking")
	return cmd
}

// checkNames refuses a reason or a rule that there is not.
func (t *taking) checkNames() error {
	var reasons, rules []string
	for _, r := range redistribute.Reasons {
		reasons = append(reasons, string(r))
	}
	for _, r := range slices.Concat(all.Rules(), all.OfDecisions()) {
		rules = append(rules, r.Name)
	}
	if t.reason != "" && !slices.Contains(reasons, t.reason) {
		return fmt.Errorf("there is no reason %q for a redistribution\nhint: %s", t.reason, strings.Join(reasons, ", "))
	}
	if t.rule != "" && !slices.Contains(rules, t.rule) {
		hint := "`fingerproof explain --list` lists the rules"
		if near := strictyaml.Nearest(t.rule, rules); near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		return fmt.Errorf("there is no rule %q\nhint: %s", t.rule, hint)
	}
	return nil
}

// takenPassage is a passage that is taken, with the run in which it was found.
type takenPassage struct {
	sheetPassage
	run *pipeline.PieceRun
}

// takenOfPiece is what would be taken of a piece.
type takenOfPiece struct {
	run       *pipeline.PieceRun
	err       error
	passages  []takenPassage
	decisions []decision.Decision
	notes     int
	// withReason are passages that would be taken, and make an error then: each wants a reason.
	withReason []int
	queried    []int // passages of which a query is not answered: it is not answered by taking many
	open       int   // printed digits that are decided by it
	// moved are passages of which a finger comes out otherwise than the last run suggested, by their first note and last measure: they stay open.
	moved map[[2]int][]string
}

// takeTogether shows what would be taken, asks, and writes.
func takeTogether(ctx context.Context, env *environment, job pipeline.Job, t *taking) error {
	found, err := eachPiece(ctx, job, func(piece *corpus.Piece) takenOfPiece {
		w, err := job.Work(piece)
		if err != nil {
			return takenOfPiece{run: w, err: err}
		}
		seen := lastRun(job.Collection.Root, w)
		out := t.of(w, seen, job.Today)
		if t.firm {
			out.andBeside(t, seen, job.Today)
		}
		return out
	})
	if err != nil {
		return err
	}
	var add []addition
	failed, passages, notes, open := 0, 0, 0, 0
	for i := range found {
		p := &found[i]
		if p.err != nil {
			failed++
			env.complain("%s: %s", job.Collection.Pieces[i].ID, plain(p.err))
			continue
		}
		if len(p.withReason) > 0 {
			fmt.Fprintf(env.Stdout, "%s: left open, since to take them makes an error: %s; each by itself, with a reason: #%d ok: REASON\n",
				p.run.Piece.ID, numbers(p.withReason), p.withReason[0])
		}
		if len(p.queried) > 0 {
			fmt.Fprintf(env.Stdout, "%s: left open, since a query there is not answered: %s; each by itself: #%d ok, or #%d stet: ANSWER\n",
				p.run.Piece.ID, numbers(p.queried), p.queried[0], p.queried[0])
		}
		if len(p.moved) > 0 {
			var moved []string
			order := slices.SortedFunc(maps.Keys(p.moved), func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) })
			for _, passage := range order {
				moved = append(moved, p.moved[passage]...)
			}
			fmt.Fprintln(env.Stdout, sayMoved(p.run.Piece.ID, len(p.moved), moved))
		}
		if len(p.decisions) == 0 {
			continue
		}
		t.show(env.Stdout, p)
		add = append(add, addition{piece: p.run.Piece.ID, measures: decision.NewFinder(p.run.Score).Table(), decisions: p.decisions})
		passages, notes, open = passages+len(p.decisions), notes+p.notes, open+p.open
	}
	what := fmt.Sprintf("%s, %s, %d with a digit in print, in %s", wording.Count(passages, "passage"), wording.Count(notes, "note"),
		open, wording.Count(len(add), "piece"))
	switch {
	case len(add) == 0:
		fmt.Fprintln(env.Stdout, "nothing there is to be taken")
	case !t.yes && !env.StdinIsTTY:
		fmt.Fprintf(env.Stdout, "shown, and not taken yet: %s; --yes takes them\n", what)
	case t.yes || confirmed(env, "Take "+what+"?"):
		if err := addDecisions(ctx, env, job.Collection.Root, t.by, what+" taken", add); err != nil {
			return err
		}
		fmt.Fprintf(env.Stdout, "taken by %s: %s; `fingerproof decisions undo` takes it back\n", t.by, what)
	default:
		fmt.Fprintln(env.Stdout, "nothing was written")
	}
	if failed > 0 {
		return exitWith(exitFailed)
	}
	return nil
}

// confirmed asks a question on the terminal; anything but yes is no.
func confirmed(env *environment, question string) bool {
	fmt.Fprintf(env.Stdout, "%s [y/N] ", question)
	line, err := bufio.NewReader(env.Stdin).ReadString('\n')
	if err != nil && line == "" {
		fmt.Fprintln(env.Stdout)
	}
	return slices.Contains([]string{"y", "yes"}, strings.ToLower(strings.TrimSpace(line)))
}

// of gathers what is taken of a piece.
func (t *taking) of(w *pipeline.PieceRun, seen *state.Result, today string) takenOfPiece {
	out := takenOfPiece{run: w, moved: map[[2]int][]string{}}
	from, to := 0, len(w.Score.Measures)-1
	if t.measures != "" {
		r := corpus.Measures{From: t.measures, To: t.measures}
		var ok bool
		if from, to, ok = r.In(w.Score); !ok {
			r.From, r.To, _ = strings.Cut(t.measures, "-")
			from, to, ok = r.In(w.Score)
		}
		if again := r.NumberedAgain(w.Score); again != "" {
			out.err = fmt.Errorf("several measures bear the number %s\nhint: passages are named by their numbers on a sheet, as in #7 ok, "+
				"with `fingerproof decisions enter`", again)
			return out
		}
		if !ok {
			out.err = fmt.Errorf("it has no measures %s\nhint: as printed, the first one first", t.measures)
			return out
		}
	}
	finder, counted, decided := decision.NewFinder(w.Score), map[int]bool{}, map[int]bool{}
	open := map[int]bool{}
	for _, n := range w.Open {
		open[n] = true
	}
	sheet := map[int]sheetPassage{}
	for _, q := range sheetPassages(w) {
		sheet[q.number] = q
	}
	for _, q := range review.All(w.ReviewInput()) {
		if q.ReturnOf > 0 || q.First < from || q.Last > to || !t.wants(w.Result, &q) {
			continue
		}
		if t.rule != decisionquery.Rule.Name &&
			slices.ContainsFunc(q.Findings, func(k int) bool { return w.Result.Findings[k].Rule == decisionquery.Rule.Name }) {
			out.queried = append(out.queried, q.Number)
			continue
		}
		if review.WantsReason(&q) {
			out.withReason = append(out.withReason, q.Number)
			continue
		}
		if t.here {
			q.ForReturns, q.Goes = false, nil
		}
		d, ok := review.Take(w.Result, finder, &q, t.by, today)
		if !ok {
			continue
		}
		if moved := movedSince(seen, w, finder, &d, q.Goes); len(moved) > 0 { // what is taken unseen is what an editor could read
			out.moved[[2]int{q.Notes[0], q.Last}] = moved
			continue
		}
		out.decisions, out.passages = append(out.decisions, d), append(out.passages, takenPassage{sheet[q.Number], w})
		for _, n := range q.Notes {
			if open[n] && !counted[n] {
				counted[n] = true
				out.open++
			}
		}
		for i := range d.Notes {
			if n, _, _ := finder.Find(&d.Notes[i]); n >= 0 {
				decided[n] = true
			}
		}
		for i := range q.Goes { // decided with it, where it comes again
			for _, pair := range q.Goes[i].Notes {
				decided[pair[1]] = true
				if there := pair[1]; open[there] && !counted[there] {
					counted[there] = true
					out.open++
				}
			}
		}
	}
	out.notes = len(decided)
	return out
}

// mostRounds is how often it is looked for what is without doubt beside what was taken.
const mostRounds = 4

// andBeside takes too what is without doubt once the passages without doubt are taken: to decide digits may change those beside them, which
// are worked out again and would be asked for on the next page.
func (p *takenOfPiece) andBeside(t *taking, seen *state.Result, today string) {
	last := *p
	for range mostRounds {
		if last.err != nil || len(last.decisions) == 0 {
			return
		}
		in := pipeline.InputsOf(last.run)
		in.Decisions = slices.Concat(in.Decisions, last.decisions)
		again, err := pipeline.Again(last.run, in)
		if err != nil {
			p.err = err
			return
		}
		last = t.of(again, seen, today)
		p.moved = last.moved
		p.decisions, p.passages = append(p.decisions, last.decisions...), append(p.passages, last.passages...)
		p.notes, p.open = p.notes+last.notes, p.open+last.open
	}
}

// wants says that a passage is one of those to be taken.
func (t *taking) wants(r *state.Result, q *review.Passage) bool {
	if t.firm && !q.Firm {
		return false
	}
	if t.reason != "" {
		if q.Redistribution < 0 || r.Redistributions[q.Redistribution].Reason != t.reason {
			return false
		}
	} else if q.Redistribution >= 0 {
		return false
	}
	if t.rule != "" && !slices.ContainsFunc(q.Findings, func(k int) bool { return r.Findings[k].Rule == t.rule }) {
		return false
	}
	if t.confidence > 0 {
		if len(q.Findings)+len(q.IfTaken)+len(q.InText) > 0 && t.rule == "" {
			return false
		}
		for i := range r.Notes {
			n := &r.Notes[i]
			if n.Confidence != nil && int(*n.Confidence) < t.confidence && slices.Contains(q.Notes, n.N) {
				return false
			}
		}
	}
	return true
}

// goes names the measures in which what is taken holds too, of the passages that are not shown as well.
func (p *takenOfPiece) goes(b *strings.Builder) {
	same, other := map[int]bool{}, map[int]bool{}
	for i := range p.passages {
		for _, g := range p.passages[i].sheetPassage.goes {
			for _, pair := range g.Notes {
				m := p.run.Score.Notes[pair[1]].Measure
				if g.Kind == parallel.Exact && len(review.Moved(p.passages[i].run.Result.ByNumber(), [][2]int{pair})) == 0 {
					same[m] = true
				} else {
					other[m] = true
				}
			}
		}
	}
	for _, one := range []struct {
		measures map[int]bool
		how      string
	}{{same, ""}, {other, ", on other keys or with other digits than those suggested there"}} {
		if len(one.measures) > 0 {
			fmt.Fprintf(b, "  holds too where the music comes again%s: %s\n", one.how,
				review.MeasureList(p.run.Score, slices.Sorted(maps.Keys(one.measures))))
		}
	}
}

// show prints what would be taken of a piece: counts, and some passages as notes and digits.
func (t *taking) show(out io.Writer, p *takenOfPiece) {
	fmt.Fprintf(out, "%s: %s, %s, %d with a digit in print\n", p.run.Piece.ID, wording.Count(len(p.passages), "passage"),
		wording.Count(p.notes, "note"), p.open)
	shown := p.passages
	if t.excerpts >= 0 {
		shown = shown[:min(len(shown), t.excerpts)]
	}
	var b strings.Builder
	for _, q := range shown {
		beside := ""
		if q.run != p.run {
			beside = ", worked out anew beside what is taken"
		}
		fmt.Fprintf(&b, "  %s%s\n", q.place(q.run), beside) // numbers are those of a sheet, and another may lie before the editor
		if q.offer != nil {
			fmt.Fprintf(&b, "     %s\n", q.offer.Why)
			continue
		}
		at := map[int]*state.Note{}
		for i := range q.run.Result.Notes {
			at[q.run.Result.Notes[i].N] = &q.run.Result.Notes[i]
		}
		q.prints = nil // the key to it stands on a sheet
		digitLines(&b, q.run, q.sheetPassage, at)
		if !t.here {
			q.writeGoes(&b, q.run)
		}
	}
	if more := len(p.passages) - len(shown); more > 0 && len(shown) > 0 {
		fmt.Fprintf(&b, "  and %d more\n", more)
	}
	if !t.here {
		p.goes(&b)
	}
	for _, q := range p.passages { // of those not shown, too
		for _, f := range q.ifTaken {
			fmt.Fprintf(&b, "  once %s is taken lint finds besides: %s: %s [%s]\n", q.place(q.run), f.Severity, f.Message, f.Rule)
		}
	}
	_, _ = io.WriteString(out, b.String())
}
