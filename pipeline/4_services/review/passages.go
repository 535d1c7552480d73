// Package review gathers what an editor has to judge in a piece into passages,
// the worst first.
package review

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/engine"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
	"fingerproof/rules/lint/decision-stale"
	"fingerproof/rules/parallel"
)

// Passage is a stretch of music that an editor judges as one: real doubts that lie close together, what a finding
// or a redistribution speaks of. Notes are indices into Score.Notes.
type Passage struct {
	// Number counts the passages of a piece from 1 in the order of the music: what a pencil mark on a printed sheet
	// refers to.
	Number      int
	Hand        score.Hand
	Part        string // part id where the piece has several players
	First, Last int    // measures, by index
	Notes       []int  // struck notes of the hand, in the order of playing
	Strokes     []int  // places in Notes at which a stroke begins
	Doubts      []int  // those of Notes whose finger is a real doubt
	Findings    []int  // indices into Result.Findings
	// Redistribution is an index into Result.Redistributions, -1 where the passage is none.
	Redistribution int
	// Weight tells how much a passage wants judging: the higher, the earlier.
	Weight int
	// ReturnOf is the number of the passage that this one brings back and that is judged for both, 0 where there is
	// none.
	ReturnOf int
	Kind     parallel.Kind // of the return
	// ForReturns says that a later passage is judged with it.
	ForReturns bool
	// Goes is where an answer that holds for returns goes, in the order of the music (goes.go).
	Goes []Going
	// Firm says that nothing in it is doubtful: its printed digits are open, and can be taken together with those
	// of others.
	Firm bool
	Open []int // notes whose printed digit is open until the passage is judged (AddFirm)
	// Rest are notes of a passage of findings alone whose digit does not print and is asked with what is found: while a
	// printed digit of the piece is open, they may come up as open once more digits are given around them (AddFirm).
	Rest []int
	// Bare says that it asks what its findings say and nothing else: no digit that is suggested in it is spoken of, so its
	// digits belong to other passages, mostly to those without doubt (AddFirm).
	Bare bool
	// OfText says that its findings speak of the text alone, and of no hand's fingering: it has no hand and no notes, and stands
	// behind what is asked of the hands.
	OfText bool
	// LikeOffers are the numbers of the redistributions that give the same keys to the other hand where both hands have the
	// same: one answer holds for all, unless they are answered by themselves. LikeOf is the number of the one they go with.
	LikeOffers []int
	LikeOf     int
	// Rolls are indices into Result.Rolls of the chords in it that are offered to be rolled.
	Rolls []int
	// IfTaken is what lint would find, were it taken as suggested: its notes are among the doubts.
	IfTaken []FoundIfTaken
	// InText is what lint would say of its digits, did they stand in the text: they are among the doubts for it.
	InText []FoundIfTaken
}

// RealDoubt is the confidence, in percent, below which a finger is a real doubt.
const RealDoubt = 55

// Firm is the confidence, in percent, from which a finger is called firm.
const Firm = 80

const (
	passageMeasures = 4 // a passage is no longer than this, so that it can be taken in at a glance
	passageGap      = 6 // doubts with fewer sure notes than this between them are judged together
	errorWeight     = 1 << 20
	warningWeight   = 1 << 12
	handoverWeight  = warningWeight // beside warnings: the gain puts it before most of them
)

// Passages lists what an editor has to judge in a piece, in the order of the music.
func Passages(r *state.Result, p *playing.Playing, returns []parallel.Return) []Passage {
	return passagesOf(r, p, returns, nil)
}

func passagesOf(r *state.Result, p *playing.Playing, returns []parallel.Return, ifTaken []FoundIfTaken) []Passage {
	lines := linesOf(r, p)
	warned := map[int]bool{} // notes of which lint would speak, were they taken
	for i := range ifTaken {
		for _, n := range ifTaken[i].Notes {
			warned[n] = true
		}
	}
	var out []Passage
	for _, l := range lines {
		out = append(out, doubtsOf(r, l, warned)...)
	}
	returns = forward(r.ByNumber(), returns)
	out = apartFromReturns(r.ByNumber(), out, lines, returns)
	for i := range out {
		for _, f := range ifTaken {
			switch {
			case !slices.ContainsFunc(f.Notes, func(n int) bool { return slices.Contains(out[i].Doubts, n) }):
			case f.InText:
				out[i].InText = append(out[i].InText, f)
			default:
				out[i].IfTaken = append(out[i].IfTaken, f)
			}
		}
	}
	for i := range r.Redistributions {
		if !r.Redistributions[i].Decided { // what is decided is not asked again
			out = append(out, handover(r, lines, i))
		}
	}
	for i, f := range r.Findings {
		if f.Rule == decisionstale.Rule.Name && f.Severity == lint.Note.String() {
			continue // a stet whose finding is gone asks nothing
		}
		out = layBeside(r, lines, out, i, f)
	}
	slices.SortStableFunc(out, func(a, b Passage) int {
		return cmp.Or(cmp.Compare(textLast(&a), textLast(&b)), cmp.Compare(a.First, b.First), cmp.Compare(a.Last, b.Last), cmp.Compare(a.Part, b.Part),
			cmp.Compare(a.Hand, b.Hand), cmp.Compare(a.Redistribution, b.Redistribution))
	})
	for i := range out {
		out[i].Number = i + 1
		out[i].Rolls = rollsIn(r, &out[i])
	}
	linkOffers(r, out)
	linkReturns(out, returns)
	return out
}

func textLast(p *Passage) int {
	if p.OfText {
		return 1
	}
	return 0
}

// Whose says of what hand a passage is, in words; of the text where it is of none.
func (p *Passage) Whose() string {
	if p.OfText {
		return "text"
	}
	return p.Hand.Words()
}

// WorstFirst orders passages as they are judged: those of most weight first, then by number.
func WorstFirst(passages []Passage) []Passage {
	out := slices.Clone(passages)
	slices.SortStableFunc(out, func(a, b Passage) int {
		return cmp.Or(-cmp.Compare(a.Weight, b.Weight), cmp.Compare(a.Number, b.Number))
	})
	return out
}

// OffersFirst puts each redistribution that is offered before the passages whose digits hang on it: those are asked for the
// hand that has the notes only once it is decided that they stay.
func OffersFirst(r *state.Result, passages []Passage) []Passage {
	out := slices.Clone(passages)
	changed := map[int]map[int]bool{} // by offer, the notes that hang on it
	for i := range out {
		if p := &out[i]; offered(r, p) {
			changed[p.Redistribution] = map[int]bool{}
			for _, n := range Changed(r, p) {
				changed[p.Redistribution][n] = true
			}
		}
	}
	if len(changed) == 0 {
		return out
	}
	for i := 0; i < len(out); i++ {
		for k := i + 1; k < len(out); k++ {
			if offered(r, &out[k]) && out[i].Redistribution < 0 && asksOf(&out[i], changed[out[k].Redistribution]) {
				offer := out[k]
				out = slices.Insert(slices.Delete(out, k, k+1), i, offer)
				i++
			}
		}
	}
	return out
}

// Waits says that digits of a passage are asked only once it is decided whether an offered redistribution is taken.
func Waits(r *state.Result, p, offer *Passage) bool {
	if p.Redistribution >= 0 || !offered(r, offer) {
		return false
	}
	changed := map[int]bool{}
	for _, n := range Changed(r, offer) {
		changed[n] = true
	}
	return asksOf(p, changed)
}

// offered says that a passage is a redistribution that nobody has decided.
func offered(r *state.Result, p *Passage) bool {
	return p.Redistribution >= 0 && !r.Redistributions[p.Redistribution].Decided
}

// asksOf says that a passage asks about the digit of one of some notes.
func asksOf(p *Passage, notes map[int]bool) bool {
	in := func(n int) bool { return notes[n] }
	return slices.ContainsFunc(p.Doubts, in) || slices.ContainsFunc(p.Open, in)
}

// Changed lists the notes that a redistribution gives to the other hand, or decides with it; none for other passages.
func Changed(r *state.Result, p *Passage) (out []int) {
	if p.Redistribution < 0 {
		return nil
	}
	offer := &r.Redistributions[p.Redistribution]
	for _, n := range offer.Notes {
		out = append(out, n.N)
	}
	if !offer.Decided { // what stays is decided with what goes
		for _, n := range Staying(r, offer) {
			out = append(out, n.N)
		}
	}
	return out
}

// line is the struck notes of one hand in the order of playing.
type line struct {
	hand  score.Hand
	part  string
	notes []*state.Note
	// begins says of each note whether its stroke begins with it.
	begins []bool
}

func linesOf(r *state.Result, p *playing.Playing) []line {
	at := r.ByNumber()
	var out []line
	for i := range p.Lines {
		l := line{hand: p.Lines[i].Hand}
		for k := range p.Lines[i].Strokes {
			for j, n := range p.Lines[i].Strokes[k].Notes {
				l.notes, l.begins, l.part = append(l.notes, at.Of(n)), append(l.begins, j == 0), at.Of(n).Part
			}
		}
		if len(l.notes) > 0 {
			out = append(out, l)
		}
	}
	return out
}

// doubtful says that a finger is a real doubt: it is little sure, or no hand can take it beside the digits that are given, or
// taking it makes a finding.
func doubtful(n *state.Note, warned map[int]bool) bool {
	return n.Confidence != nil && (*n.Confidence < RealDoubt || AgainstGiven(n) || n.Piled != "" || warned[n.N])
}

// AgainstGiven says that a finger is suggested in a grip of given ones that no hand can take: how sure it is says nothing then,
// for one of the digits around it is read otherwise than it is meant.
func AgainstGiven(n *state.Note) bool {
	return n.Confidence != nil && n.OutOfReach == string(engine.BeyondGiven)
}

func doubtsOf(r *state.Result, l line, warned map[int]bool) []Passage {
	at := r.ByNumber()
	var out []Passage
	from, last := -1, -1 // places in the line
	flush := func() {
		if from >= 0 {
			p := stretch(l, l.notes[from].MeasureIndex, l.notes[last].MeasureIndex)
			for _, n := range l.notes[from : last+1] {
				if doubtful(n, warned) {
					p.Doubts = append(p.Doubts, n.N)
				}
			}
			p.Weight = weightOf(at, p.Doubts)
			out = append(out, p)
		}
		from = -1
	}
	for i, n := range l.notes {
		if !doubtful(n, warned) {
			continue
		}
		if from >= 0 && (i-last > passageGap || n.MeasureIndex-l.notes[from].MeasureIndex >= passageMeasures) {
			flush()
		}
		if from < 0 {
			from = i
		}
		last = i
	}
	flush()
	return join(at, l, out)
}

// join makes one passage of those that share measures, as long as it stays short; else what is in doubt in the measures
// that two share belongs to the first, so that no note is asked, and decided, twice.
func join(at state.ByNumber, l line, passages []Passage) []Passage {
	var out []Passage
	for _, p := range passages {
		k := len(out) - 1
		if k >= 0 && p.First <= out[k].Last && p.Last-out[k].First < passageMeasures {
			joined := stretch(l, out[k].First, p.Last)
			joined.Doubts, joined.Weight = append(out[k].Doubts, p.Doubts...), out[k].Weight+p.Weight
			out[k] = joined
			continue
		}
		if k >= 0 && p.First <= out[k].Last {
			behind := slices.IndexFunc(p.Doubts, func(n int) bool { return at.Of(n).MeasureIndex > out[k].Last })
			shared, rest := p.Doubts[:behind], p.Doubts[behind:]
			out[k].Doubts, out[k].Weight = append(out[k].Doubts, shared...), out[k].Weight+weightOf(at, shared)
			p = stretch(l, at.Of(rest[0]).MeasureIndex, p.Last)
			p.Doubts, p.Weight = rest, weightOf(at, rest)
		}
		out = append(out, p)
	}
	return out
}

// weightOf is what doubts weigh together.
func weightOf(at state.ByNumber, doubts []int) (out int) {
	for _, n := range doubts {
		out += max(RealDoubt-int(*at.Of(n).Confidence), 1)
	}
	return out
}

// stretch is a passage of whole measures of a line.
func stretch(l line, first, last int) Passage {
	p := Passage{Hand: l.hand, Part: l.part, First: first, Last: last, Redistribution: -1}
	for i, n := range l.notes {
		if n.MeasureIndex >= first && n.MeasureIndex <= last {
			if l.begins[i] {
				p.Strokes = append(p.Strokes, len(p.Notes))
			}
			p.Notes = append(p.Notes, n.N)
		}
	}
	return p
}

func handover(r *state.Result, lines []line, i int) Passage {
	d := r.Redistributions[i]
	first, last, part := r.Summary.Measures, 0, ""
	hand := d.To.Other()
	at := r.ByNumber()
	for _, n := range d.Notes {
		if note := at.Of(n.N); note != nil {
			first, last, part = min(first, note.MeasureIndex), max(last, note.MeasureIndex), note.Part
		}
	}
	if first > last {
		first = last
	}
	p := stretch(lineFor(lines, hand, part), first, last)
	p.Hand, p.Part = hand, part
	p.Redistribution, p.Weight = i, handoverWeight+d.Gain/100
	return p
}

func lineFor(lines []line, hand score.Hand, part string) line {
	for _, l := range lines {
		if (l.hand == hand || hand == score.NoHand) && (l.part == part || part == "") {
			return l
		}
	}
	return line{hand: hand, part: part}
}

// layBeside lays a finding beside the passage it speaks of, or makes a passage of it. What is found of the text alone is no
// question of a hand's fingering: the findings of a measure are a passage by themselves.
func layBeside(r *state.Result, lines []line, passages []Passage, i int, f state.Finding) []Passage {
	weight := 1
	switch f.Severity {
	case "error":
		weight = errorWeight
	case "warning":
		weight = warningWeight
	}
	if rule := all.Rule(f.Rule); rule != nil && rule.Text {
		for k := range passages {
			if p := &passages[k]; p.OfText && p.First == f.MeasureIndex {
				p.Findings, p.Weight = append(p.Findings, i), p.Weight+weight
				return passages
			}
		}
		return append(passages, Passage{
			OfText: true, First: f.MeasureIndex, Last: f.MeasureIndex, Redistribution: -1, Findings: []int{i}, Weight: weight,
		})
	}
	for k := range passages {
		p := &passages[k]
		if p.Redistribution < 0 && !p.OfText && f.MeasureIndex >= p.First && f.MeasureIndex <= p.Last &&
			(f.Hand == score.NoHand || f.Hand == p.Hand) &&
			samePart(f, p) {
			p.Findings = append(p.Findings, i)
			p.Weight += weight
			return passages
		}
	}
	// The measures of all its notes are shown, as far as they can be taken in at a glance.
	first, last := f.MeasureIndex, f.MeasureIndex
	at := r.ByNumber()
	for _, n := range f.Notes {
		if note := at.Of(n); note != nil && len(f.At) == 0 &&
			max(last, note.MeasureIndex)-min(first, note.MeasureIndex) < passageMeasures {
			first, last = min(first, note.MeasureIndex), max(last, note.MeasureIndex)
		}
	}
	l := lineFor(lines, f.Hand, "")
	// They do not reach into another passage: a note is asked, and decided, in one. Where both are short they are one.
	others := slices.DeleteFunc(pointers(passages), func(q *Passage) bool {
		return q.OfText || q.Redistribution >= 0 || q.Hand != l.hand || q.Part != l.part
	})
	for _, q := range others {
		a, b := min(first, q.First), max(last, q.Last)
		alone := !slices.ContainsFunc(others, func(o *Passage) bool { return o != q && o.First <= b && a <= o.Last })
		if q.First <= last && first <= q.Last && b-a < passageMeasures && alone {
			both := stretch(l, a, b)
			q.First, q.Last, q.Notes, q.Strokes = a, b, both.Notes, both.Strokes
			q.Findings, q.Weight = append(q.Findings, i), q.Weight+weight
			return passages
		}
	}
	for _, q := range others {
		if q.Last < f.MeasureIndex {
			first = max(first, q.Last+1)
		}
		if q.First > f.MeasureIndex {
			last = min(last, q.First-1)
		}
	}
	p := stretch(l, first, last)
	p.Findings, p.Weight = []int{i}, weight
	return append(passages, p)
}

func pointers(passages []Passage) (out []*Passage) {
	for i := range passages {
		out = append(out, &passages[i])
	}
	return out
}

func samePart(f state.Finding, p *Passage) bool {
	return p.Part == "" || len(f.Notes) == 0 ||
		slices.ContainsFunc(f.Notes, func(n int) bool { return slices.Contains(p.Notes, n) })
}

// linkReturns lets a passage of doubts that brings back an earlier one be judged with it: every doubt of the later
// one must correspond to a note of the earlier, by one return or by several.
func linkReturns(passages []Passage, returns []parallel.Return) {
	brings := map[int][]inReturn{} // by note, the returns that bring something back there, in their order
	holding := make(map[int][]int) // by note, the passages that hold it, in their order
	for r := range returns {
		for i, n := range returns[r].Later {
			brings[n] = append(brings[n], inReturn{r, i})
		}
	}
	for k := range passages {
		later := &passages[k]
		if len(later.Doubts) > 0 && len(later.Findings) == 0 && later.Redistribution < 0 {
		search:
			for _, b := range brings[later.Doubts[0]] {
				r := &returns[b.of]
				for _, j := range holding[r.First[b.place]] {
					first := &passages[j]
					if first.Redistribution < 0 && first.ReturnOf == 0 && covers(first, later, brings, returns) {
						later.ReturnOf, later.Kind = first.Number, r.Kind
						first.ForReturns = true
						break search
					}
				}
			}
		}
		for _, n := range later.Notes {
			if h := holding[n]; len(h) == 0 || h[len(h)-1] != k {
				holding[n] = append(h, k)
			}
		}
	}
}

// foundWithFirst lets what lint would find of a passage that is taken with another lie beside that one.
func foundWithFirst(passages []Passage) {
	for i := range passages {
		if later := &passages[i]; later.ReturnOf > 0 {
			first := &passages[later.ReturnOf-1] // numbered in the order in which they stand
			first.IfTaken, later.IfTaken = append(first.IfTaken, later.IfTaken...), nil
			first.InText, later.InText = append(first.InText, later.InText...), nil
		}
	}
}

// forward leaves in returns the notes for which the digit of the first passage, as it is suggested, holds in the later one.
func forward(at state.ByNumber, returns []parallel.Return) []parallel.Return {
	out := slices.Clone(returns)
	for i := range out {
		r := &returns[i]
		out[i].First, out[i].Later, out[i].Given = nil, nil, nil
		for k := range min(len(r.First), len(r.Later)) {
			if holdsThere(at, r, k, false, func(int) bool { return true }) {
				keep(&out[i], r, k)
			}
		}
	}
	return out
}

// inReturn is a place in a return: of which return, and where in it.
type inReturn struct{ of, place int }

// covers reports whether returns bring every doubt of a passage back from a note of an earlier one.
func covers(first, later *Passage, brings map[int][]inReturn, returns []parallel.Return) bool {
	for _, n := range later.Doubts {
		if !slices.ContainsFunc(brings[n], func(b inReturn) bool { return slices.Contains(first.Notes, returns[b.of].First[b.place]) }) {
			return false
		}
	}
	return true
}
