package mutants

import (
	"io"
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"
)

func passThrough(_ string, r io.Reader) (io.Reader, error) { return r, nil }

// mutation changes a document in one way.
type Mutation struct {
	Name    string
	Neutral bool // means nothing: nothing may be told
	Late    int  // mutations of the whole document come last
	Apply   func(d *Mutant) bool
}

var All = []Mutation{
	{Name: "digit added", Apply: addDigit},
	{Name: "digit missing", Apply: dropDigit},
	{Name: "digit changed", Apply: ChangeDigit},
	{Name: "digit moved", Apply: moveDigit},
	{Name: "substitution", Apply: addSubstitution},
	{Name: "alternative", Apply: addAlternative},
	{Name: "style", Apply: restyle},
	{Name: "placement", Apply: replaceSide},
	{Name: "responsibility", Apply: otherResponsibility},
	{Name: "hand sign", Apply: addHandSign},
	{Name: "hand", Apply: otherHand},
	{Name: "suggestion", Apply: otherSuggestion},
	{Name: "redistribution", Apply: addRedistribution},
	{Name: "pitch", Apply: OtherPitch},
	{Name: "octave", Apply: otherOctave},
	{Name: "spelling", Apply: respell},
	{Name: "duration", Apply: shorten},
	{Name: "onset", Apply: swapWithRest},
	{Name: "tie", Apply: dropTie},
	{Name: "note missing", Apply: DropNote},
	{Name: "note added", Apply: AddNote},
	{Name: "articulation", Apply: addStaccato},
	{Name: "slur", Apply: dropSlur},
	{Name: "measure missing", Late: 1, Apply: CutMeasures},
	{Name: "measure added", Late: 1, Apply: InsertMeasures},
	{Name: "staff an octave off", Late: 1, Apply: octaveOfStaff},
	{Name: "one measure an octave off", Apply: octaveOfMeasure},

	{Name: "voices renumbered", Neutral: true, Late: 2, Apply: RenumberVoices},
	{Name: "divisions multiplied", Neutral: true, Late: 2, Apply: Redivide},
	{Name: "ids and measure numbers", Neutral: true, Late: 2, Apply: Renumber},
	{Name: "staves swapped", Neutral: true, Late: 2, Apply: swapStaves},
	{Name: "chord over two voices", Neutral: true, Apply: spreadChord},
	{Name: "tie split", Neutral: true, Apply: splitByTie},
}

func oneDigit(e *etree.Element, n *score.Note) bool {
	return len(n.Indications) == 1 && n.Indications[0].Finger() > 0 && len(FingeringsOf(e)) == 1 && !n.Indications[0].Old
}

func (d *Mutant) finger() string { return strconv.Itoa(1 + d.Rng.IntN(5)) }

func addDigit(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool { return n.Struck() && len(n.Indications) == 0 })
	if e == nil {
		return false
	}
	TechnicalOf(e).CreateElement("fingering").SetText(d.finger())
	d.plant(compare.DigitAdded, e)
	return true
}

func dropDigit(d *Mutant) bool {
	e := d.pick(oneDigit)
	if e == nil {
		return false
	}
	f := FingeringsOf(e)[0]
	f.Parent().RemoveChild(f)
	d.plant(compare.DigitMissing, e)
	return true
}

func ChangeDigit(d *Mutant) bool {
	e := d.pick(oneDigit)
	if e == nil {
		return false
	}
	f := FingeringsOf(e)[0]
	old := d.old.Notes[d.OldN[e]].Indications[0].Finger()
	f.SetText(strconv.Itoa(1 + (old+d.Rng.IntN(4))%5))
	d.plant(compare.DigitChanged, e)
	return true
}

// moveDigit hangs a digit on another note of its chord or the next of its voice.
func moveDigit(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		next := nextElement(e)
		if !oneDigit(e, n) || next == nil || next.Tag != "note" || next.SelectElement("pitch") == nil || n.Grace > 0 || n.TiedTo >= 0 {
			return false
		}
		i, ok := d.OldN[next]
		if !ok {
			return false
		}
		m := &d.old.Notes[i]
		return len(m.Indications) == 0 && m.Struck() && !m.Cue && m.Midi != n.Midi && m.Staff == n.Staff && m.Grace == 0 && (m.Chord || m.Onset == n.Onset.Add(n.Duration)) && adjacent(d.old, d.OldN[e], i)
	})
	if e == nil {
		return false
	}
	f := FingeringsOf(e)[0]
	f.Parent().RemoveChild(f)
	next := nextElement(e)
	TechnicalOf(next).AddChild(f)
	d.plant(compare.DigitMoved, e)
	return true
}

// adjacent reports whether no other onset of the piano lies between two notes.
func adjacent(s *score.Score, i, j int) bool {
	p, q := s.Notes[i].Onset, s.Notes[j].Onset
	for k := range s.Notes {
		n := &s.Notes[k]
		if n.Kind == score.Pitched && n.Measure == s.Notes[i].Measure && p.Less(n.Onset) && n.Onset.Less(q) {
			return false
		}
	}
	return true
}

func addSubstitution(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool { return oneDigit(e, n) && !n.Indications[0].Substitution })
	if e == nil {
		return false
	}
	f := FingeringsOf(e)[0].Parent().CreateElement("fingering")
	f.CreateAttr("substitution", "yes")
	f.SetText(d.finger())
	d.plant(compare.Substitution, e)
	return true
}

func addAlternative(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool { return oneDigit(e, n) && !n.Indications[0].Alternate })
	if e == nil {
		return false
	}
	f := FingeringsOf(e)[0].Parent().CreateElement("fingering")
	f.CreateAttr("alternate", "yes")
	f.SetText(d.finger())
	d.plant(compare.Alternative, e)
	return true
}

func restyle(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool { return oneDigit(e, n) && !n.Indications[0].Style.Italic })
	if e == nil {
		return false
	}
	FingeringsOf(e)[0].CreateAttr("font-style", "italic")
	d.plant(compare.Style, e)
	return true
}

func replaceSide(d *Mutant) bool {
	e := d.pick(oneDigit)
	if e == nil {
		return false
	}
	d.after = append(d.after, func(a, b *score.Score, n map[*etree.Element]int) {
		if i, ok := n[e]; ok && len(b.Notes[i].Indications) > 0 {
			a.Notes[d.OldN[e]].Indications[0].Placement = score.Above
			b.Notes[i].Indications[0].Placement = score.Below
		}
	})
	d.plant(compare.Placement, e)
	return true
}

func otherResponsibility(d *Mutant) bool {
	e := d.pick(oneDigit)
	if e == nil {
		return false
	}
	d.after = append(d.after, func(_, b *score.Score, n map[*etree.Element]int) {
		if i, ok := n[e]; ok && len(b.Notes[i].Indications) > 0 {
			b.Notes[i].Indications[0].Responsibility = score.Editor
		}
	})
	d.plant(compare.Responsibility, e)
	return true
}

func addHandSign(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return n.Struck() && n.Grace == 0 && !n.GraceAfter && !n.Chord
	})
	if e == nil {
		return false
	}
	dir := etree.NewElement("direction")
	words := dir.CreateElement("direction-type").CreateElement("words")
	words.SetText([]string{"m.s.", "m.d."}[d.Rng.IntN(2)])
	dir.CreateElement("staff").SetText(strconv.Itoa(max(intOf(e, "staff"), 1)))
	e.Parent().InsertChildAt(e.Index(), dir)
	d.plant(compare.HandSign, e)
	return true
}

func SetPitch(e *etree.Element, step string, alter, octave int) {
	p := e.SelectElement("pitch")
	p.SelectElement("step").SetText(step)
	a := p.SelectElement("alter")
	if alter == 0 && a != nil {
		p.RemoveChild(a)
	}
	if alter != 0 {
		if a == nil {
			a = etree.NewElement("alter")
			p.InsertChildAt(p.SelectElement("step").Index()+1, a)
		}
		a.SetText(strconv.Itoa(alter))
	}
	p.SelectElement("octave").SetText(strconv.Itoa(octave))
}

// free reports that no other note at this moment is near a key.
func (d *Mutant) free(i, key, within int) bool {
	n := &d.old.Notes[i]
	for j := range d.old.Notes {
		m := &d.old.Notes[j]
		if j != i && m.Kind == score.Pitched && m.Measure == n.Measure && m.Onset == n.Onset && m.Midi >= key-within && m.Midi <= key+within {
			return false
		}
	}
	return true
}

func loneStroke(n *score.Note) bool {
	return n.Struck() && n.TiedTo < 0 && !n.TieStart && !n.TieStop && n.Grace == 0 && !n.GraceAfter && !n.Hidden && len(n.Slurs) == 0
}

const stepNames = "CDEFGAB"

func OtherPitch(d *Mutant) bool {
	by := []int{-2, -1, 1, 2}[d.Rng.IntN(4)]
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && n.Midi-12*0 > 30 && n.Midi < 100 && n.Pitch.Alter == 0 && d.free(d.OldN[e], n.Midi+2*by, 4)
	})
	if e == nil {
		return false
	}
	n := &d.old.Notes[d.OldN[e]]
	at := 0
	for i := range stepNames {
		if stepNames[i] == n.Pitch.Step {
			at = i
		}
	}
	at += by + 7*int(n.Pitch.Octave)
	SetPitch(e, string(stepNames[at%7]), 0, at/7)
	d.plant(compare.Pitch, e)
	return true
}

func otherOctave(d *Mutant) bool {
	by := 1 - 2*d.Rng.IntN(2)
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && n.Midi > 36 && n.Midi < 96 && d.free(d.OldN[e], n.Midi+12*by, 0)
	})
	if e == nil {
		return false
	}
	n := &d.old.Notes[d.OldN[e]]
	SetPitch(e, string(n.Pitch.Step), int(n.Pitch.Alter), int(n.Pitch.Octave)+by)
	d.plant(compare.Octave, e)
	return true
}

func respell(d *Mutant) bool {
	type name struct {
		step  string
		alter int
	}
	other := map[name]name{{"C", 1}: {"D", -1}, {"D", 1}: {"E", -1}, {"F", 1}: {"G", -1}, {"G", 1}: {"A", -1}, {"A", 1}: {"B", -1}}
	for k, v := range other { // both directions; the order does not matter
		other[v] = k
	}
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		_, ok := other[name{string(n.Pitch.Step), int(n.Pitch.Alter)}]
		return ok && loneStroke(n)
	})
	if e == nil {
		return false
	}
	n := &d.old.Notes[d.OldN[e]]
	to := other[name{string(n.Pitch.Step), int(n.Pitch.Alter)}]
	SetPitch(e, to.step, to.alter, int(n.Pitch.Octave))
	d.plant(compare.Spelling, e)
	return true
}

// shorten halves a note outside chords and fills up with a rest.
func shorten(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && !inChord(e) && intOf(e, "duration")%2 == 0 && intOf(e, "duration") >= 2 && e.SelectElement("rest") == nil && n.Tremolo.Strokes == 0
	})
	if e == nil {
		return false
	}
	half := intOf(e, "duration") / 2
	setInt(e, "duration", half)
	e.Parent().InsertChildAt(e.Index()+1, restLike(e, half))
	d.plant(compare.Duration, e)
	return true
}

func restLike(e *etree.Element, duration int) *etree.Element {
	r := etree.NewElement("note")
	r.CreateElement("rest")
	r.CreateElement("duration").SetText(strconv.Itoa(duration))
	for _, tag := range []string{"voice", "staff"} {
		if c := e.SelectElement(tag); c != nil {
			r.CreateElement(tag).SetText(c.Text())
		}
	}
	return r
}

// swapWithRest exchanges a note outside chords with the rest after it.
func swapWithRest(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		next := nextElement(e)
		return loneStroke(n) && e.SelectElement("chord") == nil && next != nil && next.Tag == "note" && next.SelectElement("rest") != nil &&
			next.SelectElement("chord") == nil && n.Duration.Cmp(score.Whole(2)) <= 0 && intOf(next, "duration") > 0 && d.old.Notes[d.OldN[next]].Duration.Cmp(score.Whole(1)) <= 0 && intOf(next, "voice") == intOf(e, "voice")
	})
	if e == nil {
		return false
	}
	next := nextElement(e)
	p := e.Parent()
	p.RemoveChild(next)
	p.InsertChildAt(e.Index(), next)
	d.plant(compare.Onset, e)
	return true
}

func dropTie(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return n.TiedTo >= 0 && n.TiedFrom < 0 && d.old.Notes[n.TiedTo].TiedTo < 0
	})
	if e == nil {
		return false
	}
	from := d.OldN[e]
	to := d.old.Notes[from].TiedTo
	for other, i := range d.OldN { // finds the one element; the order does not matter
		if i == to {
			dropTies(other)
			d.plant(compare.Tie, other)
		}
	}
	dropTies(e)
	return true
}

func dropTies(e *etree.Element) {
	for _, t := range e.SelectElements("tie") {
		e.RemoveChild(t)
	}
	for _, t := range e.FindElements("notations/tied") {
		t.Parent().RemoveChild(t)
	}
}

// dropNote takes a note out: another note of its chord stays, or a rest.
func DropNote(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && n.Arpeggio == score.Arpeggio{} && n.Marks == 0 && len(n.Ornaments) == 0 && d.free(d.OldN[e], n.Midi, 0)
	})
	if e == nil {
		return false
	}
	p := e.Parent()
	switch next := nextElement(e); {
	case e.SelectElement("chord") != nil:
	case next != nil && next.Tag == "note" && next.SelectElement("chord") != nil:
		next.RemoveChild(next.SelectElement("chord"))
	default:
		p.InsertChildAt(e.Index(), restLike(e, intOf(e, "duration")))
	}
	p.RemoveChild(e)
	d.plant(compare.NoteMissing, e)
	return true
}

// addNote puts a note more into a chord, far enough from its neighbours.
func AddNote(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && n.Midi > 40 && n.Midi < 90 && d.free(d.OldN[e], n.Midi+7, 0)
	})
	if e == nil {
		return false
	}
	n := e.Copy()
	n.RemoveAttr("id")
	n.RemoveAttr("default-x")
	if n.SelectElement("chord") == nil {
		n.InsertChildAt(0, etree.NewElement("chord"))
	}
	for _, tag := range []string{"notations", "beam", "lyric"} {
		for _, c := range n.SelectElements(tag) {
			n.RemoveChild(c)
		}
	}
	for _, c := range n.SelectElements("accidental") {
		n.RemoveChild(c)
	}
	old := &d.old.Notes[d.OldN[e]]
	key := old.Midi + 7
	names := [...]struct {
		step  string
		alter int
	}{{"C", 0}, {"C", 1}, {"D", 0}, {"E", -1}, {"E", 0}, {"F", 0}, {"F", 1}, {"G", 0}, {"A", -1}, {"A", 0}, {"B", -1}, {"B", 0}}
	key -= old.Midi - old.Pitch.Midi()
	SetPitch(n, names[key%12].step, names[key%12].alter, key/12-1)
	e.Parent().InsertChildAt(e.Index()+1, n)
	d.plant(compare.NoteAdded, n)
	return true
}

func addStaccato(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && !inChord(e) && n.Marks&score.Staccato == 0
	})
	if e == nil {
		return false
	}
	NotationsOf(e).CreateElement("articulations").CreateElement("staccato")
	d.plant(compare.Articulation, e)
	return true
}

func dropSlur(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool { return len(n.Slurs) == 1 && n.Slurs[0].Start })
	if e == nil {
		return false
	}
	start := e.FindElement("notations/slur")
	if start == nil {
		return false
	}
	number := start.SelectAttrValue("number", "1")
	seen := false
	part := e.Parent().Parent()
	for _, other := range part.FindElements("measure/note") {
		if other == e {
			seen = true
			continue
		}
		if !seen {
			continue
		}
		for _, s := range other.FindElements("notations/slur") {
			if s.SelectAttrValue("number", "1") != number {
				continue
			}
			if s.SelectAttrValue("type", "") != "stop" || intOf(other, "voice") != intOf(e, "voice") || d.touchedAway(other) {
				return false
			}
			s.Parent().RemoveChild(s)
			start.Parent().RemoveChild(start)
			d.plant(compare.Slur, e)
			return true
		}
	}
	return false
}

// touchedAway reports that a note was made or moved by another mutation.
func (d *Mutant) touchedAway(e *etree.Element) bool {
	_, ok := d.OldN[e]
	return !ok
}
