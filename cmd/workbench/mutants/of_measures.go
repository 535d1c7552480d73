package mutants

import (
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"
)

// parts gives the measures of each part, or nil where they do not run in step.
func (d *Mutant) parts() [][]*etree.Element {
	var out [][]*etree.Element
	for _, p := range d.Doc.FindElements("//part") {
		out = append(out, p.SelectElements("measure"))
		if len(out[len(out)-1]) != len(out[0]) {
			return nil
		}
	}
	return out
}

// quiet reports that a measure is untouched and holds nothing that ties,
// slurs, signs or attributes would leave dangling when it goes.
func (d *Mutant) quiet(m *etree.Element) bool {
	if d.closed[m] || len(m.FindElements(".//attributes")) > 0 || len(m.FindElements(".//barline")) > 0 ||
		len(m.FindElements(".//tie")) > 0 || len(m.FindElements(".//tied")) > 0 || len(m.FindElements(".//slur")) > 0 || len(m.FindElements(".//octave-shift")) > 0 {
		return false
	}
	for _, n := range m.SelectElements("note") {
		if i, ok := d.OldN[n]; !ok || d.touched[n] || d.old.Notes[i].TiedFrom >= 0 || d.old.Notes[i].TiedTo >= 0 {
			return false
		}
	}
	return true
}

// stretch finds k measures in a row that are quiet in all parts, with music
// for the piano, and quiet neighbours.
func (d *Mutant) stretch(k int) ([][]*etree.Element, int) {
	parts := d.parts()
	if parts == nil || len(parts[0]) < k+4 {
		return nil, 0
	}
	for range 40 {
		at := 1 + d.Rng.IntN(len(parts[0])-k-2)
		ok := true
		for m := at; m < at+k && ok; m++ {
			for _, p := range parts {
				ok = ok && d.quiet(p[m])
			}
			ok = ok && d.pianoNotes(m) > 2
		}
		for _, p := range parts {
			ok = ok && !d.closed[p[at-1]] && !d.closed[p[at+k]] && !d.ringsOn(p[at-1])
		}
		if ok {
			return parts, at
		}
	}
	return nil, 0
}

// ringsOn reports ties that lead nowhere (let ring): they would find a note
// when the measures after them go.
func (d *Mutant) ringsOn(m *etree.Element) bool {
	for _, n := range m.SelectElements("note") {
		if i, ok := d.OldN[n]; ok && d.old.Notes[i].TieStart && d.old.Notes[i].TiedTo < 0 {
			return true
		}
	}
	return false
}

func (d *Mutant) pianoNotes(measure int) int {
	n := 0
	for _, e := range d.Notes {
		if i, ok := d.OldN[e]; ok && d.old.Notes[i].Measure == measure {
			n++
		}
	}
	return n
}

func CutMeasures(d *Mutant) bool {
	k := 1 + d.Rng.IntN(3)
	if !d.inStep() {
		return false
	}
	parts, at := d.stretch(k)
	if parts == nil {
		return false
	}
	for m := at; m < at+k; m++ {
		d.truths = append(d.truths, planted{kind: compare.MeasureMissing, measureA: m})
	}
	for _, p := range parts {
		d.closed[p[at-1]], d.closed[p[at+k]] = true, true
		for m := at; m < at+k; m++ {
			d.closed[p[m]] = true
			p[m].Parent().RemoveChild(p[m])
		}
	}
	return true
}

// inStep reports that no measure was cut or inserted yet, so that indices of
// measures in the document are those of the old score.
func (d *Mutant) inStep() bool {
	parts := d.parts()
	return parts != nil && len(parts[0]) == len(d.old.Measures)
}

// insertMeasures copies measures from elsewhere, up a third of the scale so
// that they are new music, to before another place.
func InsertMeasures(d *Mutant) bool {
	k := 1 + d.Rng.IntN(2)
	if !d.inStep() {
		return false
	}
	parts, at := d.stretch(k)
	if parts == nil {
		return false
	}
	for pi, p := range parts {
		place := p[at]
		for m := at; m < at+k; m++ {
			c := p[m].Copy()
			for _, n := range c.FindElements(".//note") {
				n.RemoveAttr("id")
				if e := n.SelectElement("pitch"); e != nil {
					shiftSteps(e, 2+3*(m-at))
				}
			}
			place.Parent().InsertChildAt(place.Index(), c)
			d.closed[c] = true
			if pi == 0 {
				d.truths = append(d.truths, planted{kind: compare.MeasureAdded, measureA: -1, measureB: c})
			}
		}
		d.closed[p[at-1]], d.closed[place] = true, true
	}
	return true
}

func shiftSteps(pitch *etree.Element, by int) {
	step := pitch.SelectElement("step").Text()
	octave, _ := strconv.Atoi(pitch.SelectElement("octave").Text())
	at := 0
	for i := range stepNames {
		if stepNames[i:i+1] == step {
			at = i
		}
	}
	at += by + 7*octave
	pitch.SelectElement("step").SetText(stepNames[at%7 : at%7+1])
	pitch.SelectElement("octave").SetText(strconv.Itoa(at / 7))
}

// octaveOfMeasure moves one staff of one measure by an octave.
func octaveOfMeasure(d *Mutant) bool {
	if !d.inStep() {
		return false
	}
	parts, at := d.stretch(1)
	if parts == nil {
		return false
	}
	staff := 1 + d.Rng.IntN(2)
	by := 1
	if staff == 2 {
		by = -1
	}
	any := false
	for _, p := range parts {
		d.closed[p[at]] = true
	}
	for _, e := range d.Notes {
		i, ok := d.OldN[e]
		if !ok || e.Parent() == nil || d.old.Notes[i].Measure != at || d.old.Notes[i].Staff != staff {
			continue
		}
		if key := d.old.Notes[i].Midi + 12*by; key < 15 || key > 115 {
			continue
		}
		d.moveOctave(e, by)
		any = true
	}
	return any
}

func (d *Mutant) moveOctave(e *etree.Element, by int) {
	o := e.FindElement("pitch/octave")
	n, _ := strconv.Atoi(o.Text())
	o.SetText(strconv.Itoa(n + by))
	d.plant(compare.Octave, e)
	d.touched[e] = true
}

// octaveOfStaff moves a whole staff from a place on: a forgotten octave sign.
func octaveOfStaff(d *Mutant) bool {
	if len(d.Notes) == 0 || !d.inStep() {
		return false
	}
	at := d.Rng.IntN(len(d.old.Measures))
	any := false
	for _, e := range d.Notes {
		i, ok := d.OldN[e]
		if !ok || e.Parent() == nil || d.touched[e] || d.closed[e.Parent()] {
			continue
		}
		n := &d.old.Notes[i]
		if n.Measure < at || n.Measure > at+3 || n.Staff != 1 || n.TiedFrom >= 0 || n.TiedTo >= 0 || n.Midi > 100 {
			continue
		}
		d.moveOctave(e, 1)
		any = true
	}
	for _, p := range d.parts() {
		for m := at; m <= at+3 && m < len(p); m++ {
			d.closed[p[m]] = true
		}
	}
	return any
}

// The changes that mean nothing.

func RenumberVoices(d *Mutant) bool {
	by := 1 + d.Rng.IntN(9)
	for _, v := range d.Doc.FindElements("//voice") {
		if n, err := strconv.Atoi(v.Text()); err == nil {
			v.SetText(strconv.Itoa((n*7+by)%97 + 1))
		}
	}
	return true
}

func Redivide(d *Mutant) bool {
	by := 2 + d.Rng.IntN(6)
	for _, path := range []string{"//divisions", "//duration", "//direction/offset"} {
		for _, e := range d.Doc.FindElements(path) {
			if n, err := strconv.Atoi(e.Text()); err == nil {
				e.SetText(strconv.Itoa(n * by))
			}
		}
	}
	return true
}

func Renumber(d *Mutant) bool {
	for i, m := range d.Doc.FindElements("//measure") {
		m.CreateAttr("number", strconv.Itoa(100+i))
		m.RemoveAttr("id")
	}
	for _, n := range d.Doc.FindElements("//note") {
		n.RemoveAttr("id")
	}
	return true
}

func swapStaves(d *Mutant) bool {
	for _, p := range d.Doc.FindElements("//part") {
		if s := p.FindElement("measure/attributes/staves"); s == nil || s.Text() != "2" {
			continue
		}
		for _, s := range p.FindElements("measure/*/staff") {
			if s.Text() == "1" {
				s.SetText("2")
			} else {
				s.SetText("1")
			}
		}
	}
	return true
}

// spreadChord gives one note of a chord a voice of its own.
func spreadChord(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		next := nextElement(e)
		return n.Chord && n.Grace == 0 && !n.GraceAfter && (next == nil || next.SelectElement("chord") == nil) && intOf(e, "duration") > 0
	})
	if e == nil {
		return false
	}
	p := e.Parent()
	e.RemoveChild(e.SelectElement("chord"))
	if v := e.SelectElement("voice"); v != nil {
		v.SetText("77")
	}
	back := etree.NewElement("backup")
	back.CreateElement("duration").SetText(e.SelectElement("duration").Text())
	p.InsertChildAt(e.Index(), back)
	return true
}

// splitByTie writes one note as two tied ones.
func splitByTie(d *Mutant) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && !inChord(e) && intOf(e, "duration")%2 == 0 && intOf(e, "duration") >= 2 && n.Tremolo.Strokes == 0
	})
	if e == nil {
		return false
	}
	half := intOf(e, "duration") / 2
	setInt(e, "duration", half)
	second := e.Copy()
	second.RemoveAttr("id")
	for _, tag := range []string{"notations", "beam", "lyric"} {
		for _, c := range second.SelectElements(tag) {
			second.RemoveChild(c)
		}
	}
	tie := func(e *etree.Element, kind string) {
		t := etree.NewElement("tie")
		t.CreateAttr("type", kind)
		e.InsertChildAt(e.SelectElement("duration").Index()+1, t)
	}
	tie(e, "start")
	tie(second, "stop")
	e.Parent().InsertChildAt(e.Index()+1, second)
	return true
}
