package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/keying"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/lint/decision-query"
	"fingerproof/rules/lint/decision-unplaced"
	"fingerproof/rules/lint/grip-out-of-reach"

	"github.com/spf13/cobra"
)

func newDecisionsEnter(env *environment) *cobra.Command {
	var options workOptions
	var in, by, sheet string
	var yes, anyway bool
	cmd := &cobra.Command{
		Use:   "enter PIECE [FILE]",
		Short: "Key in what was pencilled, line by line",
		Long: `enter reads short lines from FILE, or from standard input, and adds them to the editor's
file of decisions. One line a decision:

` + keying.LinesHelp + `

A line that ends in "alike", as 12 r 1 1 2 3 alike or #7 ok alike, goes to the measures too in
which its measures stand again for the same hand, exact, transposed or with other accidentals where the hand allows it:
they are shown before anything is added.

Every line is accounted for: carried out, left since it stands so already, refused by its number
with the reason, or a remark. Either every line is understood and all are added, or none is; two
lines that cannot both be are refused, but a place has its own word beside that of its passage,
and a question is asked of what the other lines decide. Digits with which one finger takes
two keys at once, or which lie against the order of the keys, are added only with --anyway. Lines that name passages by number
(#7) need the name of their sheet, as it says at its head: --sheet NAME, or a line "sheet NAME"
before them. A sheet can be keyed in at several sittings: #7 stays what is printed there as #7.
Where decisions came in by other means since, or text or policy changed, nothing is added.
` + exitStatusHelp,
		Example: `  fingerproof decisions enter op7-nocturne --by AB pencilled.txt
  echo '12 r 3 5-4' | fingerproof decisions enter op7-nocturne --by AB`,
		Args: cobra.RangeArgs(1, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			by, err := initials(env, "enter needs to know whose decisions these are", by)
			if err != nil {
				return err
			}
			p, err := openDecided(&options, in, args[0])
			if err != nil {
				return err
			}
			name, input := stdinName, env.Stdin
			if len(args) == 2 && args[1] != "-" {
				f, err := os.Open(args[1])
				if err != nil {
					return fmt.Errorf("reading the lines: %w", err)
				}
				defer f.Close()
				name, input = args[1], f
			}
			lines, named, err := readLines(name, input)
			if err != nil {
				return err
			}
			if sheet != "" && named != "" && sheet != named {
				return fmt.Errorf("--sheet says %s, and %s says sheet %s\nhint: one of them", sheet, name, named)
			}
			read, err := p.asOnSheet(cmp.Or(sheet, named), name, lines)
			if err != nil {
				return err
			}
			return enter(cmd.Context(), env, p, read, name, lines, by, cmp.Or(sheet, named) != "", yes, anyway)
		},
	}
	pieceFlags(cmd, &options, &in)
	cmd.Flags().StringVar(&by, "by", "", "initials of the editor")
	cmd.Flags().BoolVar(&yes, "yes", false, "add decisions for like places without asking")
	cmd.Flags().BoolVar(&anyway, "anyway", false, "add digits too with which one finger takes two keys at once, or which lie against the order of the keys")
	cmd.Flags().StringVar(&sheet, "sheet", "", "the sheet whose numbers the lines use, as it is named at its head")
	return cmd
}

// stdinName is what standard input is called in messages.
const stdinName = "standard input"

// leftStanding says which findings of the passages that lines answered by number stay open: a box for digits closes no
// finding.
func leftStanding(
	out io.Writer, k *keying.Keying, finder *decision.Finder, lines []string, decided []decision.Decision,
) {
	for _, line := range lines {
		words := strings.Fields(line)
		stet, roll := len(words) > 1 && strings.HasPrefix(words[1], "stet"), len(words) > 1 && words[1] == "roll"
		if len(words) < 2 || !strings.HasPrefix(words[0], "#") || words[1] != "ok" && words[1] != "ok!" && !stet && !roll {
			continue
		}
		i := slices.IndexFunc(k.Passages, func(p keying.SheetPassage) bool { return fmt.Sprintf("#%d", p.Number) == words[0] })
		if i < 0 || k.Passages[i].Offer.To != score.NoHand {
			continue
		}
		digits := len(digitsLeft(&k.Passages[i], finder, decided))
		them := map[bool]string{true: "it", false: "them"}[digits == 1]
		switch {
		case digits == 0:
		case stet:
			fmt.Fprintf(out, "%s: %s suggested there %s open; %s ok takes %s\n", words[0], wording.Count(digits, "digit"),
				map[bool]string{true: "stays", false: "stay"}[digits == 1], words[0], them)
		case roll:
			fmt.Fprintf(out, "%s: of the %s suggested there nothing is decided by that; %s ok takes %s\n", words[0], wording.Count(digits, "digit"),
				words[0], them)
		}
		var open []string
		for _, f := range k.Passages[i].Findings {
			if f.Instead == "" && !slices.ContainsFunc(decided, func(d decision.Decision) bool {
				rolled := d.On == decision.Roll && d.Verb == decision.Take && f.Rule == gripoutofreach.Rule.Name
				since := f.Rule == decisionunplaced.Rule.Name && d.On != decision.Finding && d.Verb != decision.Query
				return (rolled || since || d.On == decision.Finding && d.Rule == f.Rule) && names(finder, &d, f.Notes)
			}) {
				open = append(open, f.Rule)
			}
		}
		if len(open) > 0 {
			fmt.Fprintf(out, "%s: %s there %s open (%s); %s stet: REASON lets what is found stand\n", words[0],
				wording.Count(len(open), "finding"), map[bool]string{true: "stays", false: "stay"}[len(open) == 1],
				strings.Join(slices.Compact(open), ", "), words[0])
		}
	}
}

// digitsLeft gives the notes whose digits a passage suggests and none of some decisions gives.
func digitsLeft(p *keying.SheetPassage, finder *decision.Finder, decided []decision.Decision) (left []int) {
	for _, n := range p.Taken {
		if !slices.ContainsFunc(decided, func(d decision.Decision) bool {
			return d.On == decision.Notes && (d.Verb == decision.Take || d.Verb == decision.Amend) && names(finder, &d, []int{n})
		}) {
			left = append(left, n)
		}
	}
	return left
}

// names says that a decision names one of some notes.
func names(f *decision.Finder, d *decision.Decision, notes []int) bool {
	return slices.ContainsFunc(d.Notes, func(ref decision.NoteRef) bool {
		n, _, _ := f.Find(&ref)
		return slices.Contains(notes, n)
	})
}

// chords writes notes with their fingers as a sheet does, stroke by stroke, a chord from its lowest key.
func (p *decidedPiece) chords(notes []int, fingers func(int) []int) string {
	order := make([]int, len(notes))
	for k := range order {
		order[k] = k
	}
	w := p.run
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := playing.InstantOf(w.Score, notes[a]), playing.InstantOf(w.Score, notes[b])
		return cmp.Or(x.Compare(y), w.Score.Notes[notes[a]].Pitch.Midi()-w.Score.Notes[notes[b]].Pitch.Midi())
	})
	out := ""
	for i, k := range order {
		switch {
		case i == 0:
		case w.Playing.Stroke(notes[k]) != nil && w.Playing.Stroke(notes[k]) == w.Playing.Stroke(notes[order[i-1]]):
			out += "+"
		default:
			out += " "
		}
		out += fmt.Sprintf("%s=%s", w.Score.Notes[notes[k]].Pitch, decision.Digits(fingers(k)))
	}
	return out
}

// enter keys lines in, read against the piece as it stood on their sheet, and adds them to the editor's file: all of them
// or none.
func enter(
	ctx context.Context, env *environment, p, read *decidedPiece, name string, lines []keyedLine, by string, onSheet, yes, anyway bool,
) error {
	k, f := read.keying(by, p.job.Today), decision.NewFinder(p.run.Score)
	var add, carried []decision.Decision
	var faults []error
	var answered, remove []string // remove: entries that are taken out
	given, words, went, own, like := givenDigits{}, otherWords{}, givenDigits{}, ownWords{}, 0
	var alikes []alikeLine
	count, same, left := newLineCount(name, lines), stays{}, stays{}
	did := map[int]bool{} // lines that do something
	since := decidedSince(p, read, by)
	since.gone = map[string]bool{}
	for _, l := range lines { // what is said in place of an entry that is taken out is no repetition of it
		if out, err := entriesToRemove(k, l.text, by); err == nil {
			for _, entry := range out {
				since.gone[entry] = true
			}
		}
	}
	var shown bytes.Buffer // where decisions go too
	toDo := oneByOne(k, count.toDo())
	k.Spoken = map[int]bool{}
	for _, l := range toDo {
		if number, err := strconv.Atoi(strings.TrimPrefix(strings.SplitN(l.text+" ", " ", 2)[0], "#")); err == nil && strings.HasPrefix(l.text, "#") {
			k.Spoken[number] = true
		}
	}
	for _, l := range toDo {
		refuse := func(err error) {
			faults = append(faults, fmt.Errorf("%s:%d: %w", name, l.number, err))
			count.refused[l.number] = true
		}
		out, err := entriesToRemove(k, l.text, by)
		for _, entry := range out {
			if written := entryAt(read, entry); err == nil && (written == "" || written != entryAt(p, entry)) {
				err = fmt.Errorf("the entry at %s is another than when the sheet was printed\nhint: print the sheet anew", entry)
			}
		}
		if err != nil {
			refuse(err)
			continue
		}
		if out != nil {
			remove, did[l.number] = append(remove, out...), true
			continue
		}
		line, alike := strings.CutSuffix(l.text, " alike")
		if keying.HasReason(line) {
			line, alike = l.text, false // the last word of a reason is no order
		}
		decided, err := keying.Line(k, f, line)
		if err == nil && (len(decided) == 0 || slices.ContainsFunc(decided, func(d decision.Decision) bool { return len(d.Notes) == 0 })) {
			err = fmt.Errorf("%q names no note that it could be about\nhint: name the place, as in: 12 r 3 ? why 4", line)
		}
		if err == nil { // before what is decided so already is left out: two lines that differ are refused in any case
			err = errors.Join(given.add(l.number, decided), words.add(l.number, decided))
		}
		if err == nil && alike { // what is decided so already here goes to like places all the same
			if err = goesAlike(decided); err == nil {
				all := together(decided)
				all.Notes = slices.Clone(all.Notes)
				alikes = append(alikes, alikeLine{l, &all, numbered.MatchString(line)})
			}
		}
		if err == nil && numbered.MatchString(line) {
			since.leave(f, decided)
		} else if err == nil {
			since.leaveSame(p, f, decided)
		}
		if err == nil {
			since.leaveStanding(p, f, decided)
		}
		same.add(l.number, since.same)
		left.add(l.number, since.left)
		since.same, since.left = nil, nil
		if err != nil {
			refuse(err)
			continue
		}
		did[l.number] = did[l.number] || !whole(decided)
		own.add(f, l, decided)
		add, answered = append(add, decided...), append(answered, line)
	}
	for _, a := range alikes { // once it is known what the other lines say of the places to which they go
		places, goes := p.carry(&shown, f, &a, own)
		if err := went.reach(a.line.number, places); err != nil {
			faults = append(faults, fmt.Errorf("%s:%d: %w", name, a.line.number, err))
			count.refused[a.line.number] = true
			continue
		}
		did[a.line.number] = did[a.line.number] || len(places) > 0
		carried, like = append(carried, places...), like+goes
	}
	if len(faults) > 0 {
		return errors.Join(append(faults, count.refusal())...)
	}
	for _, l := range count.toDo() {
		if !did[l.number] {
			count.left[l.number] = true
		}
	}
	if _, err := shown.WriteTo(env.Stdout); err != nil {
		return fmt.Errorf("showing like places: %w", err)
	}
	add = slices.DeleteFunc(add, func(d decision.Decision) bool { return len(d.Notes) == 0 }) // all of it stays as it was decided since
	same.say(env.Stdout, "decided so already")
	left.say(env.Stdout, "left as you decided since the sheet was printed")
	if len(add) == 0 && len(remove) == 0 && len(carried) == 0 {
		if len(count.toDo()) == 0 {
			return fmt.Errorf("%s holds no decision\nhint: one a line, as in: 12 r 3 5-4", name)
		}
		fmt.Fprintf(env.Stdout, "nothing was added: %s\n", count.say())
		return nil
	}
	for _, q := range p.run.Decided.Queries {
		if q.Decision.By == by && answersQuery(f, q, add) {
			fmt.Fprintf(env.Stdout, "that answers your query at %s: %s\n", p.run.Score.Place(q.Notes[0]), q.Decision.Why)
		}
		if q.Decision.By != by && q.Decision.When == p.job.Today && answersQuery(f, q, add) {
			// The files do not say who spoke first on one day; here it is known.
			add = append(add, decision.Decision{
				Verb: decision.Stet, On: decision.Finding, Rule: decisionquery.Rule.Name, Why: byWhat(q, by), By: by,
				When: p.job.Today, Notes: []decision.NoteRef{f.Ref(q.Notes[0], nil)},
			})
			fmt.Fprintf(env.Stdout, "that answers the query of %s at %s: %s\n", q.Decision.By, p.run.Score.Place(q.Notes[0]), q.Decision.Why)
		}
		sayUnanswered(env.Stdout, p.run.Score, f, q, add)
	}
	if len(carried) > 0 && !yes {
		question := fmt.Sprintf("Decide for %s too?", wording.Count(like, "like place"))
		if !env.StdinIsTTY || name == stdinName {
			return fmt.Errorf("nothing was added: the digits would go to %s too\nhint: --yes adds them there",
				wording.Count(like, "like place"))
		}
		if !confirmed(env, question) {
			fmt.Fprintln(env.Stdout, "nothing was added")
			return nil
		}
	}
	add = inOrderOfWeight(carried, add)
	after := &withDecisions{p: p, add: add}
	made, unseen := madeByDigits(after, f)
	if err := refuseSlips(made); err != nil && !anyway {
		return err
	}
	notes := 0
	for i := range add {
		notes += len(add[i].Notes)
	}
	file := filepath.Join(p.job.Collection.Root, decision.Folder, p.run.Piece.ID+"."+by+".yaml")
	what := fmt.Sprintf("%s on %s added", wording.Count(len(add), "decision"), wording.Count(notes, "note"))
	taken, err := removals(p.job.Collection, remove)
	if err != nil {
		return err
	}
	stays, fell := staying(p.run, remove)
	all := addition{piece: p.run.Piece.ID, measures: decision.NewFinder(p.run.Score).Table(), decisions: slices.Concat(stays, add)}
	for _, a := range taken { // all are of this editor's file
		all.file, all.remove = a.file, a.remove
		what += ", " + takenOut(taken) + fell
	}
	if err := addDecisions(ctx, env, p.job.Collection.Root, by, p.run.Piece.ID+": "+what, []addition{all}); err != nil {
		return err
	}
	if len(add) == 0 {
		fmt.Fprintf(env.Stdout, "%s%s\n%s\n", takenOut(taken), fell, count.say())
		return nil
	}
	fmt.Fprintf(env.Stdout, "%s: %s: %s\n", asTyped(file), what, measuresOf(add))
	fmt.Fprintln(env.Stdout, count.say())
	sayGoes(env.Stdout, f, after)
	sayNotThere(env.Stdout, k, f, after)
	sayGone(env.Stdout, f, after)
	sayUnprinted(env.Stdout, f, after)
	sayDiffers(env.Stdout, after)
	sayRolled(env.Stdout, f, after)
	sayPartly(env.Stdout, k, f, add, onSheet)
	leftStanding(env.Stdout, k, f, answered, add)
	sayMade(env.Stdout, made, unseen)
	return nil
}

// byWhat is the answer that is written down for an editor who speaks after another's question of the same day.
func byWhat(q decide.Asked, by string) string {
	if q.Decision.On == decision.Finding {
		return "by what " + by + " said of it"
	}
	return "by the digits that " + by + " gave"
}

// together is what a line says of notes as one: what of it holds for returns stands apart from what does not.
func together(decided []decision.Decision) decision.Decision {
	all := decided[0]
	for _, d := range decided[1:] {
		if d.On == all.On && d.Verb == all.Verb {
			all.Notes, all.Returns = slices.Concat(all.Notes, d.Notes), all.Returns || d.Returns
		}
	}
	return all
}

// sayPartly says which passages of the sheet were answered in part by lines that name places: the rest of them is still asked.
// Their numbers are said where a sheet was named: without one nobody has them before his eyes.
func sayPartly(out io.Writer, k *keying.Keying, f *decision.Finder, add []decision.Decision, onSheet bool) {
	for i := range k.Passages {
		p := &k.Passages[i]
		left := digitsLeft(p, f, add)
		if p.Offer.To != score.NoHand || len(left) == 0 || len(left) == len(p.Taken) {
			continue
		}
		measures := map[int]bool{}
		for _, n := range left {
			measures[k.Score.Notes[n].Measure] = true
		}
		number := ""
		if onSheet {
			number = fmt.Sprintf(" (#%d)", p.Number)
		}
		fmt.Fprintf(out, "%s, %s%s: answered in part, %s there %s still asked, with those of returns\n",
			review.MeasureList(k.Score, slices.Sorted(maps.Keys(measures))), k.Playing.Hand(p.Taken[0]).Words(), number,
			wording.Count(len(left), "digit"), map[bool]string{true: "is", false: "are"}[len(left) == 1])
	}
}

// measuresOf names the measures that decisions speak of, in the order of the score, those that follow each other as a
// stretch: a line that went on over its barline, or a number of another sheet, is seen there.
func measuresOf(decisions []decision.Decision) string {
	number := map[int]string{} // by index
	var named []string         // first those that a file names by their number alone
	for i := range decisions {
		for _, n := range decisions[i].Notes {
			if n.Index >= 0 {
				number[n.Index] = n.Printed
			} else if !slices.Contains(named, n.Printed) {
				named = append(named, n.Printed)
			}
		}
	}
	slices.SortStableFunc(named, func(a, b string) int { // as their numbers go, where they are numbers
		x, wrong := strconv.Atoi(a)
		y, wrongToo := strconv.Atoi(b)
		if wrong != nil || wrongToo != nil {
			return 0
		}
		return x - y
	})
	order := slices.Sorted(maps.Keys(number))
	for k := 0; k < len(order); {
		last := k
		for last+1 < len(order) && order[last+1] == order[last]+1 {
			last++
		}
		switch {
		case last > k+1:
			named = append(named, number[order[k]]+"–"+number[order[last]])
		case last > k:
			named = append(named, number[order[k]], number[order[last]])
		default:
			named = append(named, number[order[k]])
		}
		k = last + 1
	}
	named = slices.Compact(named)
	if len(named) == 1 && !strings.Contains(named[0], "–") {
		return "m. " + named[0]
	}
	return "mm. " + strings.Join(named, ", ")
}
