package musicxml

import (
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// metre is a time signature in force.
type metre struct {
	beats   string // "3/4", "C", "C|", "2+3/8"
	nominal score.Fraction
	unit    score.Fraction // the felt beat
}

// apply writes the metre into a measure.
func (t metre) apply(m *score.Measure) { m.Beats, m.Nominal, m.BeatUnit = t.beats, t.nominal, t.unit }

func (p *partReader) attributes(e *xmltree.Element) {
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "divisions":
			p.readDivisions(c)
		case "key":
			if f := c.Child("fifths"); f != nil {
				fifths, ok := p.number(-1, f, "the key signature", "no sharps or flats are taken", -14, 14)
				if p.part == 0 && ok {
					p.score.Measures[p.measure].Fifths = fifths
				}
			}
		case "time":
			p.metre = p.readMetre(c)
			// A measure whose first music has not been read yet takes it.
			if p.at.Sign() == 0 && p.part == 0 {
				p.metre.apply(&p.score.Measures[p.measure])
			}
		case "staves":
			if n, ok := p.number(-1, c, "the number of staves", "staves are counted by their notes", 1, 16); ok {
				p.score.Parts[p.part].Staves = max(p.score.Parts[p.part].Staves, n)
				p.declared = max(p.declared, n)
			}
		case "transpose":
			semitones, ok := p.semitones(c)
			if !ok {
				continue
			}
			p.transpositionItem(c, semitones)
			p.transpose[atoi(c.Attribute("number"))] = semitones
			p.score.Parts[p.part].Transposed = semitones
		case "staff-details":
			p.staffDetails(c)
		case "measure-style":
			p.measureStyle(c)
		}
	}
}

// readDivisions takes the file's unit of time. Anything but a positive whole
// number of sane size leaves the unit as it was.
func (p *partReader) readDivisions(c *xmltree.Element) {
	d, ok := Divisions(c.Trimmed())
	if !ok {
		stays := "the one before stays in force"
		if !p.divided {
			stays = "none stands before it"
		}
		p.unreadable(-1, c, "the number of divisions", stays)
		return
	}
	p.divisions, p.divided = d, true
}

// Divisions reads how many units of time a quarter has; false for anything but
// a positive whole number of sane size.
func Divisions(text string) (int64, bool) {
	d, ok := parseDecimal(text)
	if !ok || d.Sign() <= 0 || d.Den() != 1 || d.Num() > 1<<31 {
		return 0, false
	}
	return d.Num(), true
}

// staffDetails recognises ossia and cue staves: by their type, or because
// they are drawn small.
func (p *partReader) staffDetails(c *xmltree.Element) {
	staff := max(atoi(c.Attribute("number")), 1)
	switch c.ChildText("staff-type") {
	case "ossia", "cue", "editorial", "alternate":
		p.smallStaff(c, staff)
	case "regular":
		delete(p.cue, staffKey{p.part, staff})
	}
	// A part printed small as a whole (a singer's, above the piano) is no ossia.
	if size, ok := parseDecimal(c.ChildText("staff-size")); ok && size.Sign() > 0 && size.Less(score.Whole(75)) && p.score.Parts[p.part].Staves > 2 {
		p.smallStaff(c, staff)
	}
}

// smallStaff notes a staff that is no part of the text that is played.
func (p *partReader) smallStaff(c *xmltree.Element, staff int) {
	if p.cue[staffKey{p.part, staff}] {
		return
	}
	p.cue[staffKey{p.part, staff}] = true
	p.score.Parts[p.part].HasCueStaves = true
	p.odd(score.OddNoDigits, -1, p.part, p.measure, p.place(c.Span.Start).Line,
		"staff %d is small, an ossia or cues, from here on: it is kept as it stands, not looked at, and gets no digits", staff)
}

// semitones reads how far a part sounds from what is written; false where it cannot be read.
func (p *partReader) semitones(e *xmltree.Element) (sum int, ok bool) {
	for c := e.First; c != nil; c = c.Next {
		each, most := 1, 60
		switch c.Name {
		case "chromatic":
		case "octave-change":
			each, most = 12, 5
		default:
			continue
		}
		n, read := p.number(-1, c, "the transposition", "it is left out", -most, most)
		if !read {
			return 0, false
		}
		sum += each * n
	}
	return sum, sum >= -60 && sum <= 60
}

// readMetre reads a time signature; the zero metre where there is none
// (senza misura) or where it makes no sense.
func (p *partReader) readMetre(e *xmltree.Element) metre {
	const then = "the music counts as unmeasured"
	var total score.Fraction
	var text []string
	var beats, unitText string
	var lastType, count int64
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "senza-misura":
			return metre{beats: "senza misura"}
		case "beats":
			beats, count = c.Trimmed(), beatsIn(c.Trimmed())
			if count == 0 {
				p.unreadable(-1, c, "the number of beats", then)
			}
		case "beat-type":
			unitText = c.Trimmed()
			b, n := int64(atoi(unitText)), count
			if b <= 0 || b > 1024 {
				p.unreadable(-1, c, "the value of the beat", then)
			}
			if b <= 0 || b > 1024 || n == 0 {
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
	case e.Attribute("symbol") == "cut":
		t.beats, t.unit = "C|", score.Whole(2)
	case e.Attribute("symbol") == "common":
		t.beats = "C"
		if total != score.Whole(4) {
			p.odd(score.OddValue, -1, p.part, p.measure, p.place(e.Span.Start).Line,
				"the sign of the metre is C, which is 4/4, and the metre counts as %s", strings.Join(text, "+"))
		}
	case compound:
		t.unit = score.Frac(12, lastType)
	}
	return t
}

// beatsIn counts the beats of a time signature ("3", "2+3"), 0 where they cannot be read.
func beatsIn(text string) (n int64) {
	for _, w := range strings.Split(text, "+") {
		k := int64(atoi(w))
		if k <= 0 {
			return 0
		}
		n += k
	}
	if n > 1024 {
		return 0
	}
	return n
}
