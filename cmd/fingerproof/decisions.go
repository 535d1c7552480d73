package main

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/keying"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/page"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
	"fingerproof/rules/lint/decision-query"
	"fingerproof/rules/lint/decision-stale"
	"fingerproof/rules/lint/decision-unplaced"
	"fingerproof/rules/lint/grip-out-of-reach"
	"fingerproof/rules/lint/span-beyond-hand"

	"github.com/spf13/cobra"
)

// decisionsHelp documents decisions by an example.
const decisionsHelp = `Decisions are the editors' last word on digits. They lie in decisions/, one file a piece and
editor (PIECE.INITIALS.yaml); all of a piece are read together. A file in ten lines:

` + decision.Example + `
take makes what is suggested the editor's, amend gives other digits, stet lets the text's
digit or a finding stand (a finding with its reason, for a time if need be), query asks
the volume editor, reopen takes back what you decided on digits: they are asked again.
A query is answered by a later decision of who asked on its notes, by another editor's on a
later day, or in words: a stet on the finding decision-query, whose reason is the answer. Of
one day files do not say who spoke first: what another editor keys in with enter after the
query answers it on that day, too, and enter writes the answer down. What is asked of a
finding of the text is answered by words on that finding, and not by digits beside it.
Decided digits bind the engine. Those that print have the look of the editor's; which of them do,
the house style says. The last word of each editor
counts; where two editors differ neither binds, and a finding says so.
` + "`print: always`" + ` at a take or an amend prints its digits however few the house style prints.
` + "`amend: alternative`" + ` has a second fingering printed beside the first, in the look of an alternative;
` + "`for: smaller hands`" + ` (or larger hands) says for whom. The page of ` + "`fingerproof weigh`" + ` writes both.

` + "`decisions enter`" + ` writes beside each note what stands around it, so that it is found
again after re-engraving, inserted measures and renumbering. Where a note cannot be found
surely the decision is kept, reported as unplaced with its nearest candidates, and applied to
no other note. A place written by hand without that holds by measure, onset and pitch.

A file that the program begins has at its head the day of most of its decisions (when) and the music
of the piece's measures (measures), ten a row. "12*" in a decision is measure 12 as it is in that
table ("12*3f1" in its first line: 3f1 stands for the head, and a decision below another head is
refused); what you write by hand is "m. 12", the measure as it is now. "0..7/4 by 1/4 C5=1 D5=2 E5=3 ..."
is a row of strokes that come evenly, "x3" the one before it, three in all. A decision on another
state of the score, or of another day, says that itself.

To take something back: ` + "`decisions undo`" + ` takes out what was added last; a line 12 r 3 open reopens
a digit; ` + "`decisions remove`" + ` takes a whole entry out, by the file and line that show, pages and
messages give.
`

func newDecisionsCommand(env *environment) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "decisions",
		Short: "Print a sheet to pencil on, key decisions in, show them",
		Long:  decisionsHelp + exitStatusHelp,
		Example: `  fingerproof decisions template op7-nocturne
  fingerproof decisions enter op7-nocturne --by AB pencilled.txt
  fingerproof decisions take --no-doubt --by AB
  fingerproof decisions show op7-nocturne`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("decisions has no command %q\nhint: template, enter, take, undo, remove or show", args[0])
			}
			return cmd.Help()
		},
	}
	cmd.AddCommand(newDecisionsTemplate(env), newDecisionsEnter(env), newDecisionsTake(env), newDecisionsUndo(env), newDecisionsRemove(env),
		newDecisionsShow(env))
	return cmd
}

// decidedPiece is one piece, worked out with its decisions.
type decidedPiece struct {
	job pipeline.Job
	run *pipeline.PieceRun
}

// openDecided works out one piece of a collection with what is decided on it.
func openDecided(options *workOptions, in, id string) (*decidedPiece, error) {
	job, err := options.job(in)
	if err != nil {
		return nil, err
	}
	if err := keepOnly(job.Collection, []string{id}); err != nil {
		return nil, err
	}
	if n := len(job.Collection.Pieces); n > 1 {
		return nil, fmt.Errorf("%q names %d pieces, and this goes piece by piece\nhint: name one by its id: %s",
			id, n, someOf(idsOf(job.Collection)))
	}
	w, err := job.Work(&job.Collection.Pieces[0])
	return &decidedPiece{job, w}, err
}

// keying is what decisions are keyed in against: notes, fingers as they stand, passages by their numbers on the sheet.
func (p *decidedPiece) keying(by, when string) *keying.Keying {
	w := p.run
	k := &keying.Keying{Score: w.Score, Playing: w.Playing, By: by, When: when}
	k.Fingers, k.Own = make([][]int, len(w.Score.Notes)), map[int]bool{}
	finder, inOrder := decision.NewFinder(w.Score), slices.Clone(w.Decisions)
	decision.SortByDate(inOrder)
	for i := range inOrder {
		d := &inOrder[i]
		if d.By != by || d.On != decision.Notes || d.Verb == decision.Query {
			continue
		}
		for j := range d.Notes {
			if n, _, _ := finder.Find(&d.Notes[j]); n >= 0 { // the last word counts
				k.Own[n] = d.Verb != decision.Reopen
			}
		}
	}
	k.Carried = map[int]*keying.CarriedFrom{}
	for i := range inOrder {
		d := &inOrder[i]
		for _, n := range carriedFrom(w, finder, d) {
			k.Carried[n] = &keying.CarriedFrom{Measure: d.Notes[0].Printed}
		}
	}
	for i := range w.Score.Notes {
		if n := &w.Suggestion.Notes[i]; n.Finger > 0 {
			k.Fingers[i] = []int{int(n.Finger)}
			if n.Substitution > 0 {
				k.Fingers[i] = append(k.Fingers[i], int(n.Substitution))
			}
		}
	}
	for i := range w.Result.Notes {
		n := &w.Result.Notes[i]
		if len(n.Fingers) > 1 { // a sign is taken whole
			k.Fingers[n.N] = review.TakenAs(&w.Score.Notes[n.N], n)
		}
	}
	ofText := map[int]bool{} // findings that the sheet puts under the text
	for _, q := range sheetPassages(w) {
		passage := keying.SheetPassage{Number: q.number, Notes: q.notes, Taken: q.taken, ForReturns: q.too, Returns: q.returns}
		for i := range q.goes {
			passage.Goes = append(passage.Goes, q.goes[i].Notes...)
		}
		if q.bare {
			passage.Taken = []int{}
		}
		if q.offer != nil {
			passage.Offer.To, passage.Offer.Reason = q.offer.To, q.offer.Reason
			for _, n := range q.offer.Notes {
				passage.Offer.Fingers = append(passage.Offer.Fingers, n.Finger)
			}
			passage.Offer.Staying, passage.Offer.Like = review.Staying(w.Result, q.offer), q.like
		}
		for _, i := range q.rolls {
			passage.Rolls = append(passage.Rolls, keying.Roll{Notes: w.Result.Rolls[i].Notes, Reason: w.Result.Rolls[i].Reason})
		}
		passage.WantsReason = q.wantsReason
		for _, f := range q.ifTaken {
			passage.IfTaken = append(passage.IfTaken, keying.Found{Rule: f.Rule, Speaks: f.Notes, Notes: f.Notes[:1], Grip: beyondTheHand(f.Rule)})
		}
		for _, i := range q.findings {
			ofText[i] = q.ofText
			passage.Findings = append(passage.Findings, p.found(&w.Result.Findings[i]))
		}
		k.Passages = append(k.Passages, passage)
	}
	for i := range w.Result.Findings {
		one := p.found(&w.Result.Findings[i])
		one.OfText = one.OfText || ofText[i]
		k.Found = append(k.Found, one)
	}
	for i := range w.Result.Stets {
		stands := p.found(&w.Result.Stets[i].Finding)
		stands.Stands = true
		k.Found = append(k.Found, stands)
	}
	return k
}

// found is a finding as lines speak of it.
func (p *decidedPiece) found(f *state.Finding) keying.Found {
	out := keying.Found{
		Rule: f.Rule, Measure: f.MeasureIndex, Hand: f.Hand, Speaks: f.Notes, Notes: review.StandsBy(p.run.Result.ByNumber(), p.run.Result, f),
	}
	if f.Rule != decisionquery.Rule.Name && f.Rule != decisionunplaced.Rule.Name &&
		slices.ContainsFunc(all.OfDecisions(), func(r *lint.Rule) bool { return r.Name == f.Rule }) {
		out.Instead = "it is about an entry of decisions: decide anew, or mend the entry in its file"
		if f.Fix != "" {
			out.Instead = f.Fix
		}
		if entryOf(f) != "" {
			out.Instead += "; by the sheet's number: #7 remove"
		}
	}
	rule := all.Rule(f.Rule)
	out.OfText, out.Entry, out.Grip = rule != nil && rule.Text, entryOf(f), beyondTheHand(f.Rule)
	return out
}

// beyondTheHand says that a rule tells of keys struck together that are beyond the hand.
func beyondTheHand(rule string) bool {
	return rule == gripoutofreach.Rule.Name || rule == spanbeyondhand.Rule.Name
}

// entryOf is the entry of decisions of which a finding says that it holds for nothing, or has no place: "" for others.
func entryOf(f *state.Finding) string {
	if f.Rule != decisionstale.Rule.Name && f.Rule != decisionunplaced.Rule.Name {
		return ""
	}
	return f.Entry()
}

// pieceFlags adds the options of commands on one piece.
func pieceFlags(cmd *cobra.Command, options *workOptions, in *string) {
	options.addInputs(cmd)
	cmd.Flags().StringVar(in, "in", ".", "the collection, folder or score")
}

func newDecisionsTemplate(env *environment) *cobra.Command {
	var options workOptions
	var in string
	cmd := &cobra.Command{
		Use:   "template PIECE",
		Short: "Print a sheet that numbers every passage to judge",
		Long: `template prints a sheet for the piano: every passage to judge with a number, what is
suggested, the choices, and room for a pencil. Key the outcome in with ` + "`decisions enter`" + `:

` + keying.LinesHelp + "\n" + exitStatusHelp,
		Example: "  fingerproof decisions template op7-nocturne > sheet.txt",
		Args:    oneID("template"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := openDecided(&options, in, args[0])
			if err != nil {
				return err
			}
			var since page.Passed
			var changes []page.Change
			if changed := sincePassed(p.job.Collection.Root); changed != nil {
				since, changes = changed(p.run)
			}
			return writeSheet(env.Stdout, p.run, optionsAgain(&options, in), page.Reasons(p.run, since, changes))
		},
	}
	pieceFlags(cmd, &options, &in)
	return cmd
}

// optionsAgain are the options by which a later command finds the same piece in the same style, each with a space before.
func optionsAgain(o *workOptions, in string) (out string) {
	for _, option := range [][2]string{{"--in", in}, {"--policy", o.policy}, {"--hand", o.hand}, {"--weights", o.weights}} {
		value := option[1]
		if value == "" || option[0] == "--in" && value == "." {
			continue
		}
		if strings.ContainsAny(value, " '\"$&;()\\") {
			value = "'" + strings.ReplaceAll(value, "'", `'\''`) + "'"
		}
		out += " " + option[0] + " " + value
	}
	return out
}

// oneID refuses anything but the id of a piece.
func oneID(command string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) != 1 {
			return fmt.Errorf("%s needs one piece, by its id\nhint: fingerproof decisions %s op7-nocturne", command, command)
		}
		return nil
	}
}
