package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_stages/17_inspect"
	"fingerproof/reports/commentary"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
)

// tally gathers what is reported at the end of a command: findings, failed
// pieces, the exit status.
type tally struct {
	env     *environment
	options *workOptions
	found   findings                   // by piece, for reports
	limits  map[string]lint.Severity   // by piece: the mildest severity that counts; none for never
	off     map[string]map[string]bool // by piece: the rules that its policy leaves out
	remarks *commentary.Commentary     // the editorial commentary, of pieces where it is asked for
	notes   int
	failed  []string
	asked   [2]int // pieces of which nothing says whose the digits in the text are, and the notes they stand at
	asking  []string
	lone    bool         // there is no manifest that could say it
	coming  state.Counts // found of digits that are suggested, as soon as they are taken
	asText  state.Counts // that would be found of them, did they stand in the text
	taken   int          // pieces whose findings were taken from earlier results
	status  int
}

// saidOfPiece is what a command says of a piece beside its findings.
type saidOfPiece struct {
	Ending string   // what is wrong with the ending of the score's name, "" for nothing
	Record string   // what became of the record in the head of an edition
	Whose  bool     // anything says whose the digits in the text are
	Draft  []string // what became of an editor's own draft, line by line
	Left   []string // what keeps the piece from press, for a run for press
}

// said is what is to be said of a piece that was worked on.
func (t *tally) said(job *pipeline.Job, w *pipeline.PieceRun) saidOfPiece {
	if t.options.earlier != nil {
		if s := t.options.earlier(w.Piece.ID); s != nil {
			return *s
		}
	}
	return saidOf(job.Collection.Manifest != "", w)
}

func saidOf(manifest bool, w *pipeline.PieceRun) saidOfPiece {
	out := saidOfPiece{Ending: wrongEnding(w.Piece.Score, w.Data), Record: w.RecordWords(), Whose: saysWhose(manifest, w), Draft: draftWords(w.Result.Draft)}
	if w.Press {
		left := stillOpen(w)
		out.Left = slices.Concat(left.passages, left.others)
	}
	return out
}

// mostLeftNamed is how many digits that were left out of a draft are named one by one.
const mostLeftNamed = 12

// draftWords says what became of an editor's own draft: at how many notes digits stand, and where each of the others stood.
func draftWords(d *state.Draft) []string {
	if d == nil {
		return nil
	}
	own := ""
	if d.InText > 0 {
		own = fmt.Sprintf("; %s of it stand in the text as well, and count as the text's", wording.Count(d.InText, "digit"))
		if d.InText == 1 {
			own = "; 1 digit of it stands in the text as well, and counts as the text's"
		}
	}
	out := []string{fmt.Sprintf("the draft of %s: digits carried to %s, open until they are decided%s; digits left out: %d",
		d.By, wording.Count(d.Digits, "note"), own, len(d.Left))}
	for k, l := range d.Left {
		if k == mostLeftNamed {
			out = append(out, fmt.Sprintf("left out of the draft: %d more; its results name them all", len(d.Left)-k))
			break
		}
		out = append(out, fmt.Sprintf("left out of the draft: %s at %s of its score: %s", l.Text, l.Place, l.Why))
	}
	return out
}

// add takes in a piece. Errors of pieces are reported at once.
func (t *tally) add(job *pipeline.Job, w *pipeline.PieceRun, failed error) {
	o := outcome(job.Collection, w, failed)
	source.Detach(&o) // it is kept to the end
	if t.found.baseline != nil {
		o.Since = t.found.baseline.Since(&o)
	}
	t.found.outcomes = append(t.found.outcomes, o)
	if failed != nil {
		t.env.complain("%s", inFile(job.Collection, w.Piece, plain(failed)))
		t.failed = append(t.failed, w.Piece.ID)
		t.remarks.Fail(w.Piece, failed)
		return
	}
	t.notes += w.Result.Summary.Notes
	said := t.said(job, w)
	if said.Ending != "" {
		t.env.complain("%s: %s", w.Piece.ID, said.Ending)
	}
	if said.Record != "" {
		t.env.complain("%s: %s", w.Piece.ID, said.Record)
	}
	if lost := unplacedWords(w.Result.Unplaced); lost != "" {
		t.env.complain("%s: %s", w.Piece.ID, lost)
	}
	for _, line := range said.Draft {
		t.env.complain("%s: %s", w.Piece.ID, line)
	}
	if given := w.Result.Summary.Given; given > 0 && !said.Whose && !t.options.alreadyAsked(w.Piece.ID) {
		if len(t.asking) == 0 && !t.options.askedFirst && job.Edition && len(job.Collection.Pieces) > 1 {
			t.env.complain("%s: digits stand in it, and nothing says whose; what is said of that in the manifest (text_digits) is worked out anew, so "+
				"it can be said before the run ends", w.Piece.ID)
		}
		t.asking = append(t.asking, w.Piece.ID)
		t.asked[0], t.asked[1], t.lone = t.asked[0]+1, t.asked[1]+given, job.Collection.Manifest == ""
	}
	if slices.ContainsFunc(t.options.requests, request.isMatter) {
		t.remarks.AddMarked(w.Piece, w.Result, w.Policy, beatsOf(w), w.Occurs)
	}
	if job.Results != nil {
		if w.Stale == "" {
			t.taken++
		} else {
			t.env.complain("%s is worked out anew: of its results, %s", w.Piece.ID, w.Stale)
		}
	}
	t.contradictions(w)
	if w.Press {
		t.press(w.Piece.ID, said.Left)
	}
	if limit, any := t.options.failSeverity(w.Policy); any {
		t.limits[w.Piece.ID] = limit
	}
	if severities, err := inspect.Severities(w.Policy); err == nil { // what is wrong with the policy was said before
		t.off[w.Piece.ID] = map[string]bool{}
		for rule, s := range severities {
			t.off[w.Piece.ID][rule] = s == lint.Off
		}
	}
	for i := range o.Findings {
		if t.counts(&o, &o.Findings[i]) {
			t.status = exitFindings
		}
	}
}

// unplacedWords says which decisions have lost their note, as after a correction of the text: their digits are asked again.
func unplacedWords(lost []state.Unplaced) string {
	if len(lost) == 0 {
		return ""
	}
	var places []string
	for i, u := range lost {
		if i == mostNamed {
			places = append(places, fmt.Sprintf("%d more", len(lost)-i))
			break
		}
		places = append(places, u.Words())
	}
	said := "decisions have lost their notes: "
	if len(lost) == 1 {
		said = "decision has lost its note: "
	}
	return fmt.Sprintf("%d %s%s\nhint: its page shows what may be meant", len(lost), said, wording.List(places))
}

// inFile begins what is wrong with a score with its file's name, as all messages of the run name it.
func inFile(c *corpus.Collection, p *corpus.Piece, message string) string {
	name := scoreName(c, p)
	switch {
	case strings.HasPrefix(message, name):
		return message
	case strings.HasPrefix(message, p.Score):
		return name + strings.TrimPrefix(message, p.Score)
	case strings.Contains(message, p.Score):
		return message
	}
	return name + ": " + message
}

// wrongEnding says that a score's name ends as if its file were of another form, "" where it does not: it is read by what it
// holds, but other programs go by the name, and the edition is named alike.
func wrongEnding(name string, data []byte) string {
	packed, named := source.Packed(data), strings.EqualFold(filepath.Ext(name), ".mxl")
	switch {
	case packed && !named:
		return fmt.Sprintf("%s is a packed score, and its name does not end in .mxl: other programs may not open it, nor its edition, which is named alike\n"+
			"hint: rename it, and in the manifest where it is listed", name)
	case !packed && named && len(data) > 0:
		return fmt.Sprintf("%s is not packed, though its name ends in .mxl: other programs may not open it, nor its edition, which is named alike\n"+
			"hint: rename it, to end in .musicxml or .mei, and in the manifest where it is listed", name)
	}
	return ""
}

// saysWhose reports whether anything says whose the digits in a piece's text are: the manifest, the policy, witnesses that
// have them (half of them, where many notes have a digit), or, of an edition of ours, the edition. A score or a folder
// without a manifest has nowhere to say it: of
// such scores it is asked where so many notes have a digit that an edition may have come back from another program
// without its marks.
func saysWhose(manifest bool, w *pipeline.PieceRun) bool {
	if w.Piece.TextDigits != "" || w.Piece.Draft != nil || w.Embedded != nil || w.Held != nil || w.Policy.SaysTextDigits() {
		return true
	}
	attested, given, many := 0, w.Result.Summary.Given, w.Result.Summary.Given*manyDigits >= w.Result.Summary.Notes
	for i := range w.Result.Notes {
		inText, inWitness := false, false
		for _, s := range w.Result.Notes[i].Source {
			if !s.WitnessOnly && s.Responsibility != score.Composer {
				return true // an edition of which results were taken tells them apart
			}
			inText = inText || !s.WitnessOnly
			inWitness = inWitness || !s.WitnessOnly && len(s.Witnesses) > 0
		}
		if inText && inWitness {
			attested++
		}
	}
	if len(w.Piece.Witnesses) > 0 {
		return !many || 2*attested >= given
	}
	return !manifest && (!many || w.Score == nil) // the run that gave the results has asked
}

// manyDigits is the share of notes with a digit, one in so many, from which on a score looks like a fingered edition:
// those of the demo collection that went through a notation program have 0.22 to 0.50, composers' own texts mostly less
// (common practice).
const manyDigits = 5

// reports writes the reports asked for.
func (t *tally) reports() error {
	for _, r := range t.options.requests {
		err := r.write(t.env, func(out io.Writer) error {
			if r.isMatter() {
				return writeMatter(out, t.remarks, r)
			}
			return t.found.write(out, r.format, r.path == "-")
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// pieceDone is what a command does with a piece that was worked on, or that
// failed. It may change the run of the piece.
type pieceDone func(w *pipeline.PieceRun, failed error) error

// workThrough takes a collection through the pipeline, counts and reports what
// it comes to, and hands each piece to done, which may be nil.
func (o *workOptions) workThrough(
	ctx context.Context, env *environment, job pipeline.Job, done pieceDone,
) (*tally, error) {
	t := &tally{env: env, options: o, limits: map[string]lint.Severity{}, off: map[string]map[string]bool{}, remarks: commentary.New(job.Collection)}
	t.found.colour = env.StdoutIsTTY && env.Getenv("NO_COLOR") == ""
	t.found.off = func(o *state.Outcome, rule string) bool { return t.off[o.Piece][rule] }
	t.found.fails, t.found.rules, t.found.prefix = t.counts, all.Rules(), o.prefix
	err := withOwnTexts(t.remarks, job.Collection)
	if err != nil {
		return nil, err
	}
	if t.found.baseline, err = readBaseline(o.baseline); err != nil {
		return nil, err
	}
	o.complainOfStrays(env)
	var times *timings
	if o.timed {
		times = &timings{}
	}
	times.take(&job)
	defer times.write(env.Stderr)
	bar := newProgress(env, o.progress, len(job.Collection.Pieces), time.Now)
	return t, pipeline.Run(ctx, job, func(w *pipeline.PieceRun, failed error) error {
		bar.clear()
		if done != nil {
			err := done(w, failed)
			if piece := (notFixed{}); errors.As(err, &piece) {
				failed, err = piece, nil
			}
			if err != nil {
				return err
			}
		}
		t.add(&job, w, failed)
		notes := 0
		if failed == nil {
			notes = w.Result.Summary.Notes
		}
		bar.step(w.Piece.ID, notes)
		return nil
	})
}

// whoseAsked asks whose the digits are that stand at so many notes of so many pieces; lone: in scores without a manifest.
func whoseAsked(notes, pieces int, lone bool) string {
	at := wording.Count(notes, "note") + " of " + wording.Count(pieces, "piece")
	switch {
	case lone && notes == 1:
		return "a digit stands at " + at + ", without the marks of an edition: whose is it? It is taken for the composer's"
	case lone:
		return "digits stand at " + at + ": so many, and none carries the marks of an edition: whose are they? They are taken for the composer's"
	case notes == 1:
		return "a digit stands at " + at + ": nothing says whose it is, so it is taken for the composer's"
	default:
		return "digits stand at " + at + ": nothing says whose they are, so they are taken for the composer's"
	}
}

// mostNamed is how many pieces a question names.
const mostNamed = 6

// close writes the reports and the closing line, which ends in more.
func (t *tally) close(more string) error {
	if err := t.reports(); err != nil {
		return err
	}
	if t.asked[0] > 0 {
		where := ""
		if t.lone {
			where = "; `fingerproof init` makes one"
		}
		if n := len(t.asking); n > mostNamed {
			t.asking = append(t.asking[:mostNamed], fmt.Sprintf("%d more", n-mostNamed))
		}
		where += "; here: " + wording.List(t.asking)
		t.env.complain("%s\nhint: say it in the manifest, text_digits: composer, earlier or editor, of a piece or above the pieces for all%s",
			whoseAsked(t.asked[1], t.asked[0], t.lone), where)
	}
	if t.taken > 0 {
		more = fmt.Sprintf("; %d taken from earlier results", t.taken) + more
	}
	for _, line := range t.leftOut() {
		t.env.complain("%s", line)
	}
	total := state.TotalOf(t.found.outcomes)
	said := total.String()
	if total.Counts.Total() > 0 {
		said = "findings: " + said // one severity is a note, too
	}
	if t.coming.Total() > 0 {
		said += "; of suggested digits, once they are taken: " + t.coming.String()
	}
	if t.asText.Total() > 0 {
		said += "; did suggested digits stand in the text: " + t.asText.String()
	}
	fmt.Fprintf(t.env.Stderr, "%s, %s; %s; %d failed%s\n",
		wording.Count(total.Pieces, "piece"), wording.Count(t.notes, "note"), said, total.Failed, more)
	return t.exit()
}

// exit is the status the pieces call for: failures come before findings.
func (t *tally) exit() error {
	if len(t.failed)+len(t.options.strays) > 0 {
		return exitWith(exitFailed)
	}
	return exitWith(t.status)
}
