package alteration

import (
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/corpus/score"
)

func loneStroke(n *score.Note) bool {
	tied := n.TiedTo >= 0 || n.TieStart || n.TieStop
	return n.Struck() && !tied && n.Grace == 0 && !n.GraceAfter && !n.Hidden && len(n.Slurs) == 0
}

const stepNames = "CDEFGAB"

// SetPitch gives a note another pitch; alter is in semitones.
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

// OtherPitch moves a note by a step or two.
func OtherPitch(d *Draft) bool {
	by := []int{-2, -1, 1, 2}[d.Rng.IntN(4)]
	suits := func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && n.Midi > 30 && n.Midi < 100 && n.Pitch.Alter == 0 && d.free(d.OldN[e], n.Midi+2*by, 4)
	}
	return d.change("pitch", suits, func(e *etree.Element) {
		n := &d.old.Notes[d.OldN[e]]
		at := 0
		for i := range stepNames {
			if stepNames[i] == n.Pitch.Step {
				at = i
			}
		}
		at += by + 7*int(n.Pitch.Octave)
		SetPitch(e, string(stepNames[at%7]), 0, at/7)
	})
}

func otherOctave(d *Draft) bool {
	by := 1 - 2*d.Rng.IntN(2)
	suits := func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && n.Midi > 36 && n.Midi < 96 && d.free(d.OldN[e], n.Midi+12*by, 0)
	}
	return d.change("octave", suits, func(e *etree.Element) {
		n := &d.old.Notes[d.OldN[e]]
		SetPitch(e, string(n.Pitch.Step), int(n.Pitch.Alter), int(n.Pitch.Octave)+by)
	})
}

func respell(d *Draft) bool {
	type name struct {
		step  string
		alter int
	}
	other := map[name]name{
		{"C", 1}: {"D", -1}, {"D", 1}: {"E", -1}, {"F", 1}: {"G", -1}, {"G", 1}: {"A", -1}, {"A", 1}: {"B", -1},
	}
	for k, v := range other { // both directions; the order does not matter
		other[v] = k
	}
	suits := func(e *etree.Element, n *score.Note) bool {
		_, ok := other[name{string(n.Pitch.Step), int(n.Pitch.Alter)}]
		return ok && loneStroke(n)
	}
	return d.change("spelling", suits, func(e *etree.Element) {
		n := &d.old.Notes[d.OldN[e]]
		to := other[name{string(n.Pitch.Step), int(n.Pitch.Alter)}]
		SetPitch(e, to.step, to.alter, int(n.Pitch.Octave))
	})
}

// octaveOfMeasure moves one staff of one measure by an octave.
func octaveOfMeasure(d *Draft) bool {
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

// octaveOfStaff moves a whole staff from a place on: a forgotten octave sign.
func octaveOfStaff(d *Draft) bool {
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

func (d *Draft) moveOctave(e *etree.Element, by int) {
	o := e.FindElement("pitch/octave")
	n, _ := strconv.Atoi(o.Text())
	o.SetText(strconv.Itoa(n + by))
	d.plant("octave", e)
	d.touched[e] = true
}
