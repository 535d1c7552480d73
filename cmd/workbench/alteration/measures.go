package alteration

import (
	"strconv"

	"github.com/beevik/etree"
)

// parts gives the measures of each part, or nil where they do not run in step.
func (d *Draft) parts() [][]*etree.Element {
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
func (d *Draft) quiet(m *etree.Element) bool {
	if d.closed[m] {
		return false
	}
	for _, tag := range []string{"attributes", "barline", "tie", "tied", "slur", "octave-shift", "wedge", "pedal", "dashes",
		"bracket", "wavy-line"} {
		if m.FindElement(".//"+tag) != nil {
			return false
		}
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
func (d *Draft) stretch(k int) ([][]*etree.Element, int) {
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
func (d *Draft) ringsOn(m *etree.Element) bool {
	for _, n := range m.SelectElements("note") {
		if i, ok := d.OldN[n]; ok && d.old.Notes[i].TieStart && d.old.Notes[i].TiedTo < 0 {
			return true
		}
	}
	return false
}

func (d *Draft) pianoNotes(measure int) int {
	n := 0
	for _, e := range d.Notes {
		if i, ok := d.OldN[e]; ok && d.old.Notes[i].Measure == measure {
			n++
		}
	}
	return n
}

// CutMeasures takes measures out.
func CutMeasures(d *Draft) bool {
	k := 1 + d.Rng.IntN(3)
	if !d.inStep() {
		return false
	}
	parts, at := d.stretch(k)
	if parts == nil {
		return false
	}
	for m := at; m < at+k; m++ {
		d.truths = append(d.truths, planted{kind: "measure-missing", measureA: m})
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
func (d *Draft) inStep() bool {
	parts := d.parts()
	return parts != nil && len(parts[0]) == len(d.old.Measures)
}

// InsertMeasures copies measures from elsewhere, up a third of the scale so
// that they are new music, to before another place.
func InsertMeasures(d *Draft) bool {
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
				d.truths = append(d.truths, planted{kind: "measure-added", measureA: -1, measureB: c})
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
