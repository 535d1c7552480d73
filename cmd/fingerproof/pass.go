package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/folder"
	"fingerproof/reports/page"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/decision-stale"

	"github.com/spf13/cobra"
)

func newPassCommand(env *environment) *cobra.Command {
	var options workOptions
	var out, by, anyway string
	var pieces pieceChoice
	var prune bool
	cmd := &cobra.Command{
		Use:   "pass PATH",
		Short: "Pass for press exactly what was reviewed",
		Long: `pass writes passed/PIECE.json for every piece of PATH whose results lie in the folder
of the run that was reviewed, and keeps the score beside it in passed/text/. Each piece
is worked out anew first: where the outcome is not what was reviewed, to the byte, the
piece is not passed. Nor is it while something waits that run --press lists (printed digits,
redistributions, queries, decisions that differ or have lost their note) or errors stand
(exit status 1): judge it on its page, or say with --anyway why it is passed all the same;
the reason stands in the passed state. Warnings stand in the way where the house style
says fail_on: warning, and where the piece was passed before without them; else pass lists
those on which nobody has said a word, so that they can be let stand with a reason. Who passes it stands there too: --by, or on an
editor's own machine the variable ` + initialsVariable + `. Commit the folder passed/; ` + "`fingerproof check`" + ` compares with it.
` + exitStatusHelp,
		Example: `  fingerproof pass collection.yaml --by AB
  fingerproof pass collection.yaml --by AB --piece op7-nocturne
  fingerproof pass collection.yaml --by AB --anyway "first proof, to be read by the editor"
  fingerproof pass collection.yaml --by AB --prune`,
		Args: onePath("pass"),
		RunE: func(cmd *cobra.Command, args []string) error {
			by, err := initials(env, "pass needs to know who passes the pieces", by)
			if err != nil {
				return err
			}
			job, err := options.job(args[0])
			if err != nil {
				return err
			}
			if cmd.Flags().Changed("anyway") && strings.TrimSpace(anyway) == "" {
				return fmt.Errorf("--anyway says nothing\nhint: give the reason, as in: --anyway \"first proof\"")
			}
			if out == "" {
				out = filepath.Join(job.Collection.Root, "out")
			}
			all := slices.Clone(job.Collection.Pieces)
			if err := pieces.keep(job.Collection); err != nil {
				return err
			}
			job.Edition = true
			return options.orStrays(env, pass(cmd, env, job, passing{
				out: out, by: by, anyway: strings.Join(strings.Fields(anyway), " "), prune: prune, all: all,
			}))
		},
	}
	options.addInputs(cmd)
	cmd.Flags().StringVar(&out, "out", "", "folder of the run that was reviewed (default: out beside the collection)")
	cmd.Flags().StringVar(&by, "by", "", "initials of who passes it")
	cmd.Flags().StringVar(&anyway, "anyway", "", "pass though something is open or errors stand, for this reason")
	pieces.add(cmd.Flags(), "pass")
	cmd.Flags().BoolVar(&prune, "prune", false, "take out passed states of pieces that the collection no longer has")
	return cmd
}

// passing says what is passed.
type passing struct {
	out, by string
	anyway  string // why it is passed though something is left to judge
	prune   bool
	all     []corpus.Piece // of the collection
}

// unjudged is the error of a piece in which something is left to judge.
type unjudged struct {
	left  string   // counted
	named []string // with their places
}

func (u unjudged) Error() string {
	return fmt.Sprintf("not passed: %s\n"+
		"hint: judge what its page asks for and run again, or give a reason with --anyway",
		strings.Join(append([]string{u.left}, u.named...), "\n  "))
}

// passOutcome is what became of a piece.
type passOutcome struct {
	id, said string
	by, when string // of who passed it, now or before
	err      error
}

func pass(cmd *cobra.Command, env *environment, job pipeline.Job, p passing) error {
	store := passed.In(job.Collection.Root)
	unlock, err := lockFolder(cmd.Context(), env, filepath.Join(job.Collection.Root, passed.Folder), 0)
	if err != nil {
		return err
	}
	defer unlock()
	outcomes, err := eachPiece(cmd.Context(), job, func(piece *corpus.Piece) passOutcome {
		out := passOutcome{id: piece.ID}
		out.said, out.err = passPiece(job, store, piece, p)
		if out.err == nil {
			if now, err := store.Read(piece.ID); err == nil && now != nil {
				out.by, out.when = now.By, now.When
			}
		}
		return out
	})
	if err != nil {
		return err
	}
	failed, open, done := 0, 0, 0
	as := map[string]page.Passed{}
	for _, o := range outcomes {
		if o.err != nil {
			if errors.As(o.err, new(unjudged)) {
				open++
			} else {
				failed++
			}
			env.complain("%s: %s", o.id, plain(o.err))
			continue
		}
		done++
		as[o.id] = page.Passed{By: o.by, When: o.when}
		fmt.Fprintf(env.Stdout, "%s: %s\n", o.id, o.said)
	}
	if p.prune {
		var ids []string
		for i := range p.all {
			ids = append(ids, p.all[i].ID)
		}
		gone, err := store.Prune(ids)
		for _, id := range gone {
			fmt.Fprintf(env.Stdout, "%s: taken out, the collection has no such piece\n", id)
		}
		if err != nil {
			return err
		}
	}
	fmt.Fprintf(env.Stderr, "%s passed, %d not\n", wording.Count(done, "piece"), failed+open)
	switch {
	case done == 0:
	case renewIndex(p.out, job.Collection, p.all, as):
		fmt.Fprintf(env.Stderr, "the index and the pages say so\n")
	default:
		fmt.Fprintf(env.Stderr, "the pages say so after the next run\n")
	}
	switch {
	case failed > 0:
		return exitWith(exitFailed)
	case open > 0:
		return exitWith(exitFindings)
	}
	return nil
}

// passPiece passes one piece if it comes out as it was reviewed.
func passPiece(job pipeline.Job, store passed.Store, piece *corpus.Piece, p passing) (string, error) {
	old, err := store.Read(piece.ID)
	if err != nil {
		return "", err // of a newer version, or broken: it is not written over
	}
	reviewed, err := files.Read(filepath.Join(p.out, "results", piece.ID+".json"), files.StateLimit)
	if errors.Is(err, fs.ErrNotExist) {
		return "", withoutResults(job, piece, p.out)
	}
	if err != nil {
		return "", fmt.Errorf("reading what was reviewed: %w", err)
	}
	was, err := state.Decode(reviewed)
	if err != nil {
		return "", err
	}
	job.Press = was.Summary.Press
	w, err := job.Work(piece)
	if err != nil {
		return "", err
	}
	now, err := state.Encode(w.Result)
	if err != nil {
		return "", err
	}
	if !bytes.Equal(now, reviewed) {
		return "", fmt.Errorf("what comes out now is not what was reviewed (%s)\n"+
			"hint: run again, review what changed, then pass", changedInputs(was.Inputs, w.Result.Inputs))
	}
	if err := sameEdition(p.out, w); err != nil {
		return "", err
	}
	st := stateOf(w, job.Today)
	st.By, st.Anyway = p.by, p.anyway
	left, others := leftToJudge(w)
	since, warnings := changesSince(store, old, w)
	if warnings > 0 {
		left = strings.TrimPrefix(left+", "+wording.Count(warnings, "warning")+" that it had not when it was passed", ", ")
	}
	named := ""
	if old != nil && sameState(old, st) && (left == "" || old.Anyway != "") { // else it was passed without a word on what is left
		if p.by == old.By || old.By != "" {
			return passedAlready(store, old, p.by, w.Data)
		}
		named = "; now by " + p.by // nobody had put initials to it
	}
	switch {
	case left == "":
		st.Anyway = "" // there is nothing to excuse
	case p.anyway == "":
		return "", unjudged{left, others}
	}
	if err := store.Write(st, old, w.Data); err != nil {
		return "", err
	}
	s := w.Result.Summary
	said := fmt.Sprintf("passed with %s (%s)", wording.Count(s.Notes, "note"), whoseDigits(w))
	s.Severities.Note -= gone(w)
	unsaid := ""
	switch s := s.Severities; {
	case left == "" && s.Total() == 0:
		said += ", nothing open"
		if n := doubtsLeft(w); n > 0 {
			said += " in print; in doubt where no digit prints: " + wording.Count(n, "passage")
		}
	case left == "":
		said += fmt.Sprintf(", no digit open; on %s nobody has said a word (%s)", wording.Count(s.Total(), "finding"), s)
		if s.Warning > 0 {
			unsaid = "\n  " + strings.Join(findingLines(w, lint.Warning), "\n  ") +
				"\n  on its page g or s and a reason lets them stand; in the terminal " + stetOnSheet(w, lint.Warning)
		}
	default:
		said += ", " + left + "; anyway: " + st.Anyway
	}
	if n := gone(w); n > 0 { // run counts them among its notes
		said += fmt.Sprintf("; %s let stand and not found any more: nothing to do", wording.Count(n, "finding"))
	}
	return said + besideEarlier(w) + ownUnprinted(w) + since + named + unsaid, nil
}

// stetOnSheet is the line by which findings of a severity are let stand, with the numbers that they have on the sheet.
func stetOnSheet(w *pipeline.PieceRun, severity lint.Severity) string {
	var on []string
	passages := sheetPassages(w)
	for i := range passages {
		if slices.ContainsFunc(passages[i].findings, func(k int) bool { return w.Result.Findings[k].Severity == severity.String() }) {
			on = append(on, fmt.Sprintf("#%d", passages[i].number))
		}
	}
	if len(on) == 0 {
		return "MEASURE HAND stet RULE: REASON"
	}
	return fmt.Sprintf("%s stet: REASON, of sheet %s (decisions template)", strings.Join(on, " or "), sheetName(passages))
}

// passedAlready says of a piece that comes out as it was passed that it is, and keeps its score again where that is lost:
// check compares with it.
func passedAlready(store passed.Store, old *passed.State, by string, data []byte) (string, error) {
	said := "passed already, as it is"
	if by != old.By {
		said += ", by " + old.By
	}
	why, err := store.KeepAgain(old, data)
	if err != nil {
		return "", err
	}
	if why != "" {
		said += fmt.Sprintf("; its score is kept again in %s/text/: %s", passed.Folder, why)
	}
	return said, nil
}

// sameEdition says what is wrong where the edition that lies in the folder of the run, and is handed on, is not the one that
// comes out of what was reviewed (DEVELOPERS.md, decision 10).
func sameEdition(out string, w *pipeline.PieceRun) error {
	if w.Edition == "" {
		return nil
	}
	path := filepath.Join(out, "edition", w.Edition)
	lies, err := files.ReadIfThere(path, files.ScoreLimit)
	switch {
	case err != nil:
		return fmt.Errorf("reading the edition that was reviewed: %w", err)
	case lies == nil:
		return fmt.Errorf("its edition %s is not there any more\nhint: run again, then pass", asTyped(path))
	case !bytes.Equal(lies, w.EditionData):
		return fmt.Errorf("its edition %s has been changed since it was made: it is not what was reviewed\n"+
			"hint: run again writes it anew; what was changed in it belongs into the score or the decisions", asTyped(path))
	}
	return nil
}

// besideEarlier names the measures in which a digit of the edition prints beside an earlier editor's: both stand on the page,
// and who passes the piece should know it.
func besideEarlier(w *pipeline.PieceRun) string {
	n, measures := 0, []string(nil)
	for i := range w.Result.Notes {
		note := &w.Result.Notes[i]
		if !note.Printed || note.Tied || note.Responsibility != score.Editor || note.Agent == "" {
			continue
		}
		for k := range note.Source {
			s := &note.Source[k]
			if s.Responsibility != score.Earlier || s.Alternate || s.Substitution || s.WitnessOnly || len(s.Fingers) == 0 ||
				s.Fingers[0] == note.Finger {
				continue
			}
			if n++; !slices.Contains(measures, note.Measure) {
				measures = append(measures, note.Measure)
			}
			break
		}
	}
	if n == 0 {
		return ""
	}
	if len(measures) > mostFindings {
		measures = append(measures[:mostFindings], "…")
	}
	look := "parentheses"
	if w.Policy.BesideStyle().Enclosure == score.Brackets {
		look = "brackets"
	}
	return fmt.Sprintf("; at %s a digit is printed in %s beside an earlier editor's, which stands (m. %s)", wording.Count(n, "note"), look,
		strings.Join(measures, ", "))
}

// whoseDigits accounts for the finger of every note, as the pages count them: in the text, decided by whom, worked out. A digit of
// the text counts though its note is tied, or an editor set another beside it.
func whoseDigits(w *pipeline.PieceRun) string {
	r := w.Result
	const text, carried, tied, none = "in the text", "carried on from the text", "tied", "without a finger"
	const open, unprinted = "suggested", "suggested that does not print" // nobody is asked what prints nowhere
	counts, came, beside := map[string]int{}, map[string]int{}, 0        // came: decided where the music stands elsewhere
	for i := range r.Notes {
		switch n := &r.Notes[i]; {
		case slices.ContainsFunc(n.Source, func(s state.Source) bool { return !s.WitnessOnly && !s.Alternate }):
			counts[text]++
			if n.Responsibility == score.Editor {
				beside++
			}
		case n.Tied:
			counts[tied]++
		case n.Finger == 0:
			counts[none]++
		case n.Responsibility == score.Editor && n.Agent != "":
			counts["decided by "+n.Agent]++
			if w.Bound[n.N].Carried {
				came["decided by "+n.Agent]++
			}
		case n.Carried:
			counts[carried]++
		case n.Printed:
			counts[open]++
		default:
			counts[unprinted]++
		}
	}
	last := []string{text, carried, open, unprinted, none, tied}
	var parts []string
	editors := slices.DeleteFunc(slices.Sorted(maps.Keys(counts)), func(kind string) bool { return slices.Contains(last, kind) })
	for _, kind := range slices.Concat(editors, last) {
		if n := counts[kind]; n > 0 {
			if kind == unprinted && n > 1 {
				kind = "suggested that do not print"
			}
			part := fmt.Sprintf("%d %s", n, kind)
			if again := came[kind]; again > 0 {
				part += fmt.Sprintf(", %d of them where it comes again", again)
			}
			parts = append(parts, part)
		}
		if kind == text && beside > 0 {
			parts[len(parts)-1] += fmt.Sprintf(" (beside %d of them an editor's other finger)", beside)
		}
	}
	return strings.Join(parts, ", ")
}

// withoutResults says why a piece has no results in the folder of a run: it cannot be worked on, or it was not run.
func withoutResults(job pipeline.Job, piece *corpus.Piece, out string) error {
	kept := filepath.Join(out, folder.Before, "results", piece.ID+".json")
	if _, err := os.Stat(kept); err != nil {
		return fmt.Errorf("there are no results of it in %s\nhint: run the collection, review the pages, then pass", out)
	}
	if _, err := job.Work(piece); err != nil {
		return fmt.Errorf("not passed, since it cannot be worked on: %w\nits results as of before stay in %s", err, asTyped(kept))
	}
	return fmt.Errorf("the last run could not work on it, and its results in %s are as of before\n"+
		"hint: run it again, review its page, then pass", asTyped(kept))
}

// leftToJudge counts in words what stands in the way of passing a piece, "" where nothing does, and names each of it
// with its place.
func leftToJudge(w *pipeline.PieceRun) (words string, named []string) {
	open := stillOpen(w)
	var out []string
	if open.total() > 0 {
		out = append(out, open.words())
	}
	limit, ok := lint.ParseSeverity(w.Policy.FailOn())
	if !ok || limit == lint.Off || limit > lint.Error {
		limit = lint.Error
	}
	if n := w.Result.Summary.Severities.Error; n > 0 {
		out = append(out, wording.Count(n, "error"))
	}
	for _, severity := range []lint.Severity{lint.Warning, lint.Note} {
		n := 0
		for i := range w.Result.Findings { // what decisions lack is counted by itself
			f := &w.Result.Findings[i]
			if f.Severity == severity.String() && !isGone(f) && !strings.HasPrefix(f.Rule, "decision-") {
				n++
			}
		}
		if n > 0 && severity >= limit {
			out = append(out, wording.Count(n, severity.String()))
		}
	}
	return strings.Join(out, ", "), slices.Concat(open.places, open.others, findingLines(w, limit))
}

// doubtsLeft counts the passages in which digits that do not print are in doubt and nobody has decided them: its page asks
// for them, and they stand in nobody's way.
func doubtsLeft(w *pipeline.PieceRun) (n int) {
	for _, p := range review.All(w.ReviewInput()) {
		if len(p.Doubts) > 0 && p.ReturnOf == 0 {
			n++
		}
	}
	return n
}

// gone counts notes that a stet has lost its finding: they ask nothing.
func gone(w *pipeline.PieceRun) (n int) {
	for i := range w.Result.Findings {
		if isGone(&w.Result.Findings[i]) {
			n++
		}
	}
	return n
}

func isGone(f *state.Finding) bool {
	return f.Rule == decisionstale.Rule.Name && f.Severity == lint.Note.String()
}

// mostFindings is how many findings of a piece are named when it is passed, or not.
const mostFindings = 8

// findingLines names the findings of a piece from a severity on, the worst first, each with its place and rule.
func findingLines(w *pipeline.PieceRun, from lint.Severity) (out []string) {
	more := 0
	for _, severity := range []lint.Severity{lint.Error, lint.Warning, lint.Note} {
		for i := range w.Result.Findings {
			f := &w.Result.Findings[i]
			switch {
			case severity < from || f.Severity != severity.String() || isGone(f) || strings.HasPrefix(f.Rule, "decision-"):
			case len(out) == mostFindings:
				more++
			default:
				out = append(out, fmt.Sprintf("%s: %s [%s]", severity, f.Sentence(), f.Rule))
			}
		}
	}
	if more > 0 {
		out = append(out, fmt.Sprintf("and %d more", more))
	}
	return out
}

// sameState reports whether two states differ in nothing but who passed them
// and when: passing again leaves the file as it is.
func sameState(a, b *passed.State) bool {
	x, y := *a, *b
	x.Press, y.Press = false, false // where nothing is open a run prints the same with --press and without
	x.By, x.When, x.Anyway, y.By, y.When, y.Anyway = "", "", "", "", "", ""
	p, errP := passed.Encode(&x)
	q, errQ := passed.Encode(&y)
	return errP == nil && errQ == nil && bytes.Equal(p, q)
}

// changedInputs names the inputs that are not those of the reviewed run.
func changedInputs(was, now state.Inputs) string {
	var out []string
	for _, i := range []struct {
		name     string
		was, now string
	}{
		{"score", was.Score, now.Score}, {"policy", was.Policy, now.Policy},
		{"decisions", was.Decisions, now.Decisions},
		{"weights", was.Weights, now.Weights}, {"engine", was.Engine, now.Engine},
	} {
		if i.was != i.now {
			out = append(out, i.name)
		}
	}
	if was.Setting != now.Setting { // one sum holds all of it
		out = append(out, "what the manifest says of it, a witness or a draft, or the rules of lint")
	}
	if len(out) == 0 {
		return "its inputs are the same; the day or the program changed"
	}
	return "changed since: " + strings.Join(out, ", ")
}
