package main

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/keying"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
	"fingerproof/rules/lint/decision-query"
)

// pencilLine is the room for a pencil below a passage.
const pencilLine = "     ........................................................................\n"

// sheetKey says what the boxes and words of a sheet mean.
var sheetKey = `ok: the digits below are taken. stet: the text's digits stay, and other digits that are asked stay open; of notes
offered to the other hand: they stay where they are. roll: the chords that are named are rolled.
?: a query, with its question. "let it stand": what is found there stays, for the reason given.
without doubt: no digit of the passage is in doubt: each is at least ` + strconv.Itoa(review.RealDoubt) + ` of 100 sure, and
lint finds nothing of them, nor would once they are taken, but what somebody let stand.
* behind a digit: it stands in the text. ! behind a digit: it will print, and nobody has decided it. ° behind a digit: it is
decided, and stands as it is. A point: a stroke, or a key of a chord, that is not asked here.
A number that is missing belongs to a passage that comes again: it is decided with the first. #7 ok not 26: not in m. 26.
`

// sheetPassage is a passage to judge, with its number on the sheet.
type sheetPassage struct {
	number      int
	hand        score.Hand
	part        string
	from, to    int                   // measures, by index
	notes       []int                 // struck notes, in the order of playing; of an offer those offered
	offer       *state.Redistribution // nil where it is none
	sure        bool                  // nothing in it is doubtful
	firm        int                   // printed digits that are open, where that is so
	returns     []int                 // numbers of the passages that are judged with it
	too         bool                  // what is decided holds for its returns
	goes        []review.Going        // where it holds then
	prints      []int                 // of notes, those whose digit will print and nobody has decided
	taken       []int                 // of notes, those whose finger is taken with it
	findings    []int                 // indices into Result.Findings
	rolls       []int                 // indices into Result.Rolls of chords that may be rolled
	ifTaken     []review.FoundIfTaken // what lint would find, were it taken
	inText      []review.FoundIfTaken // what lint would say of its digits, were they the text's
	wantsReason bool                  // to take it makes an error
	ofText      bool                  // what is found of the text, and asks no hand
	bare        bool                  // it asks what is found alone: its digits are asked elsewhere
	after       []int                 // numbers of the redistributions to be judged before it
	before      []int                 // of a redistribution, those that it is judged before
	like        []int                 // of a redistribution, those that its answer holds for, too
	likeOf      int                   // … and the one with which it is answered, 0 for none
}

// sheetPassages lists the passages to judge under the numbers that they have on
// the piece's page; returns that are judged with an earlier passage are not on
// the sheet.
func sheetPassages(w *pipeline.PieceRun) []sheetPassage {
	var out []sheetPassage
	passages := review.All(w.ReviewInput())
	for i := range passages {
		p := &passages[i]
		if p.ReturnOf != 0 {
			continue
		}
		q := sheetPassage{
			number: p.Number, hand: p.Hand, part: p.Part, from: p.First, to: p.Last, notes: p.Notes, too: p.ForReturns, goes: p.Goes, prints: p.Open,
			taken: review.Taken(w.Result, p), findings: p.Findings, ifTaken: p.IfTaken, inText: p.InText, wantsReason: review.WantsReason(p), rolls: p.Rolls, bare: p.Bare, ofText: p.OfText, like: p.LikeOffers, likeOf: p.LikeOf,
		}
		for k := range passages {
			if passages[k].ReturnOf == p.Number {
				q.returns = append(q.returns, passages[k].Number)
			}
			if review.Waits(w.Result, p, &passages[k]) {
				q.after = append(q.after, passages[k].Number)
			}
			if review.Waits(w.Result, &passages[k], p) {
				q.before = append(q.before, passages[k].Number)
			}
		}
		if p.Firm {
			q.sure, q.firm = true, len(p.Open)
		}
		if p.Redistribution >= 0 {
			if q.offer = &w.Result.Redistributions[p.Redistribution]; q.offer.Decided {
				continue
			}
			q.notes = nil
			for _, n := range q.offer.Notes {
				q.notes = append(q.notes, n.N)
			}
		}
		out = append(out, q)
	}
	return out
}

// sheetName names a numbering: what was decided since, or a corrected text,
// may number the passages otherwise, and #7 of a sheet must never be taken for
// another passage.
func sheetName(passages []sheetPassage) string {
	var b strings.Builder
	for _, p := range passages {
		fmt.Fprintln(&b, p.number, p.hand, p.from, p.to, p.notes, p.offer != nil)
	}
	return source.Sum([]byte(b.String()))[:6]
}

// writeSheet prints the sheet; options are those by which the piece is found again, why the reasons by which passages are
// asked, by number.
func writeSheet(out io.Writer, w *pipeline.PieceRun, options string, why map[int][]string) error {
	var b strings.Builder
	passages := sheetPassages(w)
	title := w.Result.Summary.Title
	if title == "" {
		title = w.Piece.ID
	}
	fmt.Fprintf(&b, "%s\n%s to judge, %s, %s\n",
		title, wording.Count(len(passages), "passage"), w.Policy.Title(), w.Result.Summary.Hand)
	fmt.Fprintf(&b, "Key in: fingerproof decisions enter %s%s --by INITIALS --sheet %s\n", w.Piece.ID, options, sheetName(passages))
	b.WriteString(sheetKey)
	if slices.ContainsFunc(w.Result.Asked, func(a state.Asked) bool { return a.Cause == state.CauseBeside }) {
		b.WriteString("Digits that changed with what is decided beside them are named; of the others nothing is said: they are as they were\nbefore anything was decided, though some may print only now.\n")
	}
	at := map[int]*state.Note{}
	for i := range w.Result.Notes {
		at[w.Result.Notes[i].N] = &w.Result.Notes[i]
	}
	if slices.ContainsFunc(passages, func(p sheetPassage) bool {
		return slices.ContainsFunc(p.notes, func(n int) bool { return rowAt(w, at[n]) != nil })
	}) {
		b.WriteString("At a trill, turn or mordent a digit stands for each key of the sign: 4-3, 5-4-3-4.\n")
	}
	for _, p := range passages {
		place := p.place(w)
		if p.sure {
			prints := wording.Count(p.firm, "note") + " with a digit in print"
			if p.firm == 0 {
				prints = "no digit asked here prints"
			}
			fmt.Fprintf(&b, "\n#%-3d %s, without doubt: %s    ok [ ]  ? [ ]\n", p.number, place, prints)
			writeAsked(&b, why[p.number])
			writeAfter(&b, &p)
			p.writeGoes(&b, w)
			writeDrafted(&b, p.notes, at)
			digitLines(&b, w, p, at)
			continue
		}
		if p.offer != nil {
			writeOffer(&b, w, p, place)
			writeLike(&b, w, passages, &p)
			continue
		}
		fmt.Fprintf(&b, "\n#%-3d %s    %s\n", p.number, place, p.boxes(w))
		p.writeGoes(&b, w)
		if elsewhere := askedElsewhere(passages, &p); len(elsewhere) > 0 {
			fmt.Fprintf(&b, "     what is found here is asked; its digits are asked in %s\n", numbers(elsewhere))
		}
		writeAsked(&b, why[p.number])
		writeAfter(&b, &p)
		writeDrafted(&b, p.notes, at)
		if len(p.notes) > 0 {
			sheetLines(&b, w, p, at)
		}
		for _, f := range p.ifTaken {
			fmt.Fprintf(&b, "     if taken as it is, %s: %s [%s]\n", f.Severity, f.Message, f.Rule)
		}
		for _, f := range p.inText {
			fmt.Fprintf(&b, "     in the text this would be a %s: %s [%s]\n", f.Severity, f.Message, f.Rule)
		}
		for _, i := range p.findings {
			f := &w.Result.Findings[i]
			fmt.Fprintf(&b, "     %s: %s [%s]\n", f.Severity, f.Sentence(), f.Rule)
		}
		writeRolls(&b, w, &p)
		live, entries, fell := p.answers(w)
		if p.ofText && !live && !entries {
			b.WriteString("     told only: nothing is played there by which it could be let stand\n")
		}
		if live {
			fmt.Fprintf(&b, "     let it stand [ ] because (#%d stet: REASON):\n", p.number)
		}
		if entries {
			fmt.Fprintf(&b, "     take the entry out of the file [ ] (#%d remove%s)\n", p.number, fell)
		}
		b.WriteString(pencilLine)
	}
	_, err := io.WriteString(out, b.String())
	return err
}

// writeGoes says where the answer to a passage holds too, by measures, and by the numbers that are missing for it.
func (p *sheetPassage) writeGoes(b *strings.Builder, w *pipeline.PieceRun) {
	places := goesWords(w, p.goes)
	if len(places) == 0 {
		return
	}
	missing := ""
	if len(p.returns) > 0 {
		missing = " (" + numbers(p.returns) + ")"
	}
	fmt.Fprintf(b, "     the answer holds too where this comes again: %s%s\n", wording.List(places), missing)
}

// askedElsewhere are the passages in which the digits are asked of one that asks what is found alone.
func askedElsewhere(passages []sheetPassage, p *sheetPassage) (out []int) {
	if !p.bare || len(p.notes) == 0 {
		return nil
	}
	for i := range passages {
		q := &passages[i]
		if q.number != p.number && q.offer == nil && slices.ContainsFunc(q.taken, func(n int) bool { return slices.Contains(p.notes, n) }) {
			out = append(out, q.number)
		}
	}
	return out
}

// answers says whether findings of a passage can be let stand, and whether some are about an entry that is taken out, of
// which some digits may stay.
func (p *sheetPassage) answers(w *pipeline.PieceRun) (live, entries bool, fell string) {
	said := map[string]bool{}
	for _, i := range p.findings {
		f := &w.Result.Findings[i]
		if entry := entryOf(f); entry != "" {
			entries = true
			if stays, gone, ok := w.Holding(entry); ok && !said[entry] {
				said[entry] = true
				fell += fmt.Sprintf(": only %s, %s", wording.List(gone), staysWords(len(stays.Notes)))
			}
		} else if len(review.StandsBy(w.Result.ByNumber(), w.Result, f)) == 0 {
			continue // nothing is played there by which it could be let stand
		} else if f.Rule == decisionquery.Rule.Name ||
			!slices.ContainsFunc(all.OfDecisions(), func(r *lint.Rule) bool { return r.Name == f.Rule }) {
			live = true
		}
	}
	return live, entries, fell
}

// boxes are what can be answered by a tick: digits are taken where some are suggested, and stay where the text has some.
func (p *sheetPassage) boxes(w *pipeline.PieceRun) string {
	out := ""
	switch {
	case len(p.taken) > 0 && p.wantsReason:
		out += "ok: REASON [ ]  "
	case len(p.taken) > 0:
		out += "ok [ ]  "
	}
	if len(p.rolls) > 0 {
		out += "roll [ ]  "
	}
	if slices.ContainsFunc(p.notes, func(n int) bool { return len(w.Score.Notes[n].Indications) > 0 }) {
		out += "stet [ ]  "
	}
	return out + "? [ ]"
}

// writeRolls names the chords of a passage that may be rolled.
func writeRolls(b *strings.Builder, w *pipeline.PieceRun, p *sheetPassage) {
	too := ""
	if len(p.taken) > 0 {
		too = fmt.Sprintf("; #%d ok roll takes the digits too", p.number)
	}
	for _, i := range p.rolls {
		r := &w.Result.Rolls[i]
		fmt.Fprintf(b, "     %s (#%d roll, #%d roll down; #%d roll no: as written)%s\n", r.Why, p.number, p.number, p.number, too)
	}
}

// writeAsked says why notes are asked, or asked again, beside what is decided.
func writeAsked(b *strings.Builder, why []string) {
	for _, said := range why {
		fmt.Fprintf(b, "     asked because %s\n", said)
	}
}

// writeAfter says which redistributions come before a passage.
func writeAfter(b *strings.Builder, p *sheetPassage) {
	if len(p.after) > 0 {
		fmt.Fprintf(b, "     judge %s first: notes that go to the other hand are not asked here\n", numbers(p.after))
	}
}

// writeOffer prints notes that the other hand may take, and why.
func writeOffer(b *strings.Builder, w *pipeline.PieceRun, p sheetPassage, place string) {
	fmt.Fprintf(b, "\n#%-3d %s, notes offered to the %s    ok [ ]  stet [ ]  ? [ ]\n", p.number, place, p.offer.To.Words())
	measure, last := -1, score.Fraction{}
	for i, n := range p.offer.Notes {
		note := &w.Score.Notes[n.N]
		switch {
		case note.Measure != measure:
			if measure >= 0 {
				b.WriteString("\n")
			}
			fmt.Fprintf(b, "     %s %s→%s  %s ", w.Score.Measures[note.Measure].Number, p.hand, p.offer.To,
				w.Score.BeatAt(note.Measure, note.Onset).Key())
		case i > 0 && note.Onset.Equal(last):
			b.WriteString("+")
		default:
			fmt.Fprintf(b, "  %s ", w.Score.BeatAt(note.Measure, note.Onset).Key())
		}
		measure, last = note.Measure, note.Onset
		fmt.Fprintf(b, "%s=%d", note.Pitch, n.Finger)
	}
	if len(p.before) > 0 {
		fmt.Fprintf(b, "\n     before %s: notes that go to the other hand are not asked there", numbers(p.before))
	}
	fmt.Fprintf(b, "\n     %s\n", p.offer.Why)
}

// writeLike says for which other redistributions the answer to one holds too, or with which one it is answered.
func writeLike(b *strings.Builder, w *pipeline.PieceRun, passages []sheetPassage, p *sheetPassage) {
	place := func(number int) string {
		k := slices.IndexFunc(passages, func(q sheetPassage) bool { return q.number == number })
		return fmt.Sprintf("%s (#%d)", w.Score.MeasureRange(passages[k].from, passages[k].to), number)
	}
	switch {
	case p.likeOf > 0:
		fmt.Fprintf(b, "     the same keys as in %s: answered with it; #%d ok or #%d stet answers this place by itself\n", place(p.likeOf), p.number, p.number)
	case len(p.like) > 0:
		var places []string
		for _, n := range p.like {
			places = append(places, place(n))
		}
		fmt.Fprintf(b, "     the answer holds too where this comes again: %s; #%d ok not %s leaves one out, #%d ok here all\n", wording.List(places), p.number, w.Score.Measures[passages[slices.IndexFunc(passages, func(q sheetPassage) bool { return q.number == p.like[0] })].from].Number, p.number)
	}
	b.WriteString(pencilLine)
}

// place names the measures of a passage and its hand.
func (p *sheetPassage) place(w *pipeline.PieceRun) string {
	place := w.Score.MeasureRange(p.from, p.to)
	if p.ofText {
		return place + ", text"
	}
	place += ", " + p.hand.Words()
	if p.part != "" {
		place += " (" + p.part + ")"
	}
	return place
}

// numbers lists passages by their numbers: "#4 and #7".
func numbers(passages []int) string {
	var out []string
	for _, n := range passages {
		out = append(out, fmt.Sprintf("#%d", n))
	}
	return wording.List(out)
}

// sheetLines prints a passage measure by measure as it could be keyed in, and
// the choices below.
func sheetLines(b *strings.Builder, w *pipeline.PieceRun, p sheetPassage, at map[int]*state.Note) {
	digitLines(b, w, p, at)
	choiceLines(b, w, p, at)
}

// rowAt are the fingers of a note's sign, nil where it has none.
func rowAt(w *pipeline.PieceRun, e *state.Note) []int {
	if e == nil || len(e.Fingers) < 2 || !slices.Contains(suggest.RowLengths(&w.Score.Notes[e.N]), len(e.Fingers)) {
		return nil
	}
	return e.Fingers
}

// written is a note with its finger as a sheet spells it.
func (p *sheetPassage) written(w *pipeline.PieceRun, e *state.Note) string {
	out := fmt.Sprintf("%s=%d", w.Score.Notes[e.N].Pitch, e.Finger)
	if row := rowAt(w, e); row != nil { // the digits of its sign, as they print
		out = fmt.Sprintf("%s=%s", w.Score.Notes[e.N].Pitch, decision.Digits(row))
	} else {
		for _, f := range e.Changes() {
			out += fmt.Sprintf("-%d", f)
		}
	}
	if e.Responsibility != score.Editor && (e.Piled != "" || slices.ContainsFunc(e.Source, func(s state.Source) bool { return !s.WitnessOnly })) {
		out += "*"
	}
	if slices.Contains(p.prints, e.N) {
		out += "!"
	} else if w.Bound[e.N].Finger() > 0 {
		out += decidedMark
	}
	return out
}

// decidedMark stands behind a digit that is decided: the player leaves it as it is.
const decidedMark = "°"

// strokeWritten is a stroke as it could be keyed in, from its lowest key: a point stands for a key of which the passage does
// not speak, and for the whole stroke where it speaks of none.
func (p *sheetPassage) strokeWritten(w *pipeline.PieceRun, stroke []int, at map[int]*state.Note) (string, bool) {
	var keys []string
	spoken := false
	for i, n := range stroke {
		shared := i > 0 && w.Score.Notes[stroke[i-1]].Midi == w.Score.Notes[n].Midi
		here := slices.Contains(p.notes, n)
		switch last := len(keys) - 1; {
		case here && shared && keys[last] == ".":
			keys[last] = p.written(w, at[n])
		case shared && (!here || at[stroke[i-1]] != nil && at[stroke[i-1]].Finger == at[n].Finger &&
			len(at[stroke[i-1]].Changes())+len(at[n].Changes()) == 0):
			// two voices share the key: it has one finger
		case here:
			keys = append(keys, p.written(w, at[n]))
		default:
			keys = append(keys, ".")
		}
		spoken = spoken || here
	}
	if !spoken {
		return ".", false
	}
	return strings.Join(keys, "+"), true
}

// digitLines prints a passage measure by measure as it could be keyed in: what stands between two of its strokes and is none
// of it is a point, as in a line that is keyed.
func digitLines(b *strings.Builder, w *pipeline.PieceRun, p sheetPassage, at map[int]*state.Note) {
	letter := strings.ToLower(p.hand.String())
	var begun, points string // the line as far as it goes, and the strokes since that are none of the passage
	width := 0
	end := func() {
		if begun != "" {
			b.WriteString(begun + "\n")
		}
		begun, points, width = "", "", 0
	}
	measure, onset := -1, score.Fraction{} // of the stroke before
	for _, stroke := range keying.Strokes(w.Playing, p.hand) {
		first := &w.Score.Notes[stroke[0]]
		written, spoken := p.strokeWritten(w, stroke, at)
		if first.Measure != measure || spoken && begun != "" && width+len(points)+len(written) > sheetWidth && !first.Onset.Equal(onset) {
			end()
		}
		if begun == "" && (first.Measure != measure || !first.Onset.Equal(onset)) {
			points = "" // a line begins with the first stroke on its beat
		}
		switch {
		case !spoken:
			points += ". "
		case begun == "":
			begun = fmt.Sprintf("     %s %s %s  %s%s", w.Score.Measures[first.Measure].Number, letter,
				w.Score.BeatAt(first.Measure, first.Onset).Key(), points, written)
			width, points = len(points)+len(written), ""
		default:
			begun += " " + points + written
			width, points = width+1+len(points)+len(written), ""
		}
		measure, onset = first.Measure, first.Onset
	}
	end()
}

// writeDrafted says of how many notes the digit is an editor's own, of the draft.
func writeDrafted(b *strings.Builder, notes []int, at map[int]*state.Note) {
	by, count := "", 0
	for _, n := range notes {
		if e := at[n]; e != nil && e.Draft != "" {
			by, count = e.Draft, count+1
		}
	}
	if count > 0 {
		fmt.Fprintf(b, "     of the draft of %s: %s\n", by, wording.Count(count, "note"))
	}
}

// sheetWidth is how many letters a line of digits has on a sheet: as many as a page of paper takes.
const sheetWidth = 88

// choicePlace names a note before its choices.
func choicePlace(w *pipeline.PieceRun, n int) string {
	note := &w.Score.Notes[n]
	return fmt.Sprintf("m. %s, beat %s, %s", w.Score.Measures[note.Measure].Number, w.Score.Beat(note.Measure, note.Onset), note.Pitch)
}

// choiceLines prints the choices at the doubts of a passage, those that come again on their key once.
func choiceLines(b *strings.Builder, w *pipeline.PieceRun, p sheetPassage, at map[int]*state.Note) {
	type line struct {
		place, said string
		more        int
	}
	var all []*line
	by := map[string]*line{} // by key and choices
	for _, n := range p.notes {
		e := at[n]
		against := review.AgainstGiven(e)
		if e.Piled != "" && e.Confidence != nil {
			all = append(all, &line{said: fmt.Sprintf(": %d, one of the digits at %s, read as those of the keys struck together", e.Finger, e.Piled),
				place: choicePlace(w, n)})
			continue
		}
		if e.Confidence == nil || !against && (*e.Confidence >= review.RealDoubt || len(e.Alternatives) == 0) {
			continue
		}
		note := &w.Score.Notes[n]
		said := fmt.Sprintf(": %d", e.Finger)
		if against {
			said += ", " + e.OutOfReach
		}
		for _, a := range e.Alternatives {
			if a.Finger != e.Finger {
				said += fmt.Sprintf(", or %d (%s)", a.Finger, wording.AsLikely(a.Regret))
			}
		}
		key := note.Pitch.String() + said
		if l := by[key]; l != nil {
			l.more++
			continue
		}
		by[key] = &line{said: said, place: choicePlace(w, n)}
		all = append(all, by[key])
	}
	for _, l := range all {
		again := ""
		if l.more > 0 {
			again = ", and " + wording.Count(l.more, "time") + " more"
		}
		fmt.Fprintf(b, "     %s%s%s\n", l.place, again, l.said)
	}
}
