package musicxml

import (
	"strings"

	"fingerproof/corpus/score"
)

// metre is a time signature in force.
type metre struct {
	beats   string // "3/4", "C", "C|", "2+3/8"
	nominal score.Fraction
	unit    score.Fraction // the felt beat
}

// apply writes the metre into a measure.
func (t metre) apply(m *score.Measure) { m.Beats, m.Nominal, m.BeatUnit = t.beats, t.nominal, t.unit }

func (p *partReader) attributes(e *element) {
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "divisions":
			p.readDivisions(c)
		case "key":
			if f := c.child("fifths"); f != nil && p.part == 0 {
				p.score.Measures[p.measure].Fifths = min(max(atoi(f.trimmed()), -14), 14)
			}
		case "time":
			p.metre = readMetre(c)
			// A measure whose first music has not been read yet takes it.
			if p.at.Sign() == 0 && p.part == 0 {
				p.metre.apply(&p.score.Measures[p.measure])
			}
		case "staves":
			if n := atoi(c.trimmed()); n >= 1 && n <= 16 {
				p.score.Parts[p.part].Staves = max(p.score.Parts[p.part].Staves, n)
			} else {
				p.odd(score.OddStaff, -1, p.part, p.measure, p.place(c.span.start).Line, "a part cannot have %.20q staves", c.trimmed())
			}
		case "transpose":
			semitones := atoi(c.childText("chromatic")) + 12*atoi(c.childText("octave-change"))
			if semitones < -60 || semitones > 60 {
				continue
			}
			p.transpose[atoi(c.attribute("number"))] = semitones
			p.score.Parts[p.part].Transposed = semitones
		case "staff-details":
			p.staffDetails(c)
		}
	}
}

// readDivisions takes the file's unit of time. Anything but a positive whole
// number of sane size leaves the unit as it was.
func (p *partReader) readDivisions(c *element) {
	d, ok := parseDecimal(c.trimmed())
	if !ok || d.Sign() <= 0 || d.Den() != 1 || d.Num() > 1<<31 {
		p.odd(score.OddDivisions, -1, p.part, p.measure, p.place(c.span.start).Line, "time cannot be counted in divisions of %.40q; those before stay in force", c.trimmed())
		return
	}
	p.divisions = d.Num()
}

// staffDetails recognises ossia and cue staves: by their type, or because
// they are drawn small.
func (p *partReader) staffDetails(c *element) {
	staff := max(atoi(c.attribute("number")), 1)
	switch c.childText("staff-type") {
	case "ossia", "cue", "editorial", "alternate":
		p.cue[staffKey{p.part, staff}] = true
		p.score.Parts[p.part].HasCueStaves = true
	case "regular":
		delete(p.cue, staffKey{p.part, staff})
	}
	// A part printed small as a whole (a singer's, above the piano) is no ossia.
	if size, ok := parseDecimal(c.childText("staff-size")); ok && size.Sign() > 0 && size.Less(score.Whole(75)) && p.score.Parts[p.part].Staves > 2 {
		p.cue[staffKey{p.part, staff}] = true
		p.score.Parts[p.part].HasCueStaves = true
	}
}

// readMetre reads a time signature; the zero metre where there is none
// (senza misura) or where it makes no sense.
func readMetre(e *element) metre {
	var total score.Fraction
	var text []string
	var beats, unitText string
	var lastType, count int64
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "senza-misura":
			return metre{beats: "senza misura"}
		case "beats":
			beats = c.trimmed()
		case "beat-type":
			unitText = c.trimmed()
			b := int64(atoi(unitText))
			if b <= 0 || b > 1024 {
				return metre{}
			}
			var n int64
			for _, w := range strings.Split(beats, "+") {
				n += int64(max(atoi(w), 0))
			}
			if n <= 0 || n > 1024 {
				return metre{}
			}
			total = total.Add(score.Frac(4*n, b))
			text = append(text, beats+"/"+unitText)
			lastType, count = b, n
		}
	}
	if total.Sign() <= 0 {
		return metre{}
	}
	t := metre{beats: strings.Join(text, "+"), nominal: total, unit: score.Frac(4, lastType)}
	compound := len(text) == 1 && count > 3 && count%3 == 0 && lastType >= 8
	switch {
	case e.attribute("symbol") == "cut":
		t.beats, t.unit = "C|", score.Whole(2)
	case e.attribute("symbol") == "common":
		t.beats = "C"
	case compound:
		t.unit = score.Frac(12, lastType)
	}
	return t
}
