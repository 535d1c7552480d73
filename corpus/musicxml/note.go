package musicxml

import (
	"fmt"
	"regexp"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// sungDigits is sung text that can only be meant as fingers: one digit, or a
// change as in "4-3".
var sungDigits = regexp.MustCompile(`^[(\[]?[1-5]([-–][1-5])?[)\]]?$`)

// noteTypes are the note values that there are (MusicXML 4.0, note-type-value).
var noteTypes = map[string]bool{
	"1024th": true, "512th": true, "256th": true, "128th": true, "64th": true, "32nd": true, "16th": true, "eighth": true,
	"quarter": true, "half": true, "whole": true, "breve": true, "long": true, "maxima": true,
}

// note reads one note element.
func (p *partReader) note(e *xmltree.Element) error {
	if len(p.score.Notes) >= p.limits.Notes {
		return p.scan.Fault(int(e.Span.Start), fmt.Sprintf("the score has more than %d notes", p.limits.Notes), "")
	}
	at := p.place(e.Span.Start)
	n := score.Note{
		ID: e.Attribute("id"), Part: p.part, Measure: p.measure, Staff: 1, Voice: "1", TiedFrom: -1, TiedTo: -1,
		Hidden: e.Attribute("print-object") == "no", Line: at.Line, Column: at.Column,
	}
	index := len(p.score.Notes)
	p.checkWords(e, index)
	lay := noteLayout{note: e.Span, before: e.Span.OpenEnd, noStaff: e.Span.OpenEnd, chordHead: int32(index)}
	var grace *xmltree.Element
	wholeRest := false
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "grace":
			grace = c
			n.Slashed = c.Attribute("slash") == "yes"
		case "cue":
			n.Cue = true
		case "chord":
			n.Chord = true
		case "pitch":
			n.Pitch = p.pitch(c, index)
		case "rest":
			n.Kind = score.Rest
			wholeRest = c.Attribute("measure") == "yes"
			n.RestOn = restOn(c)
		case "unpitched":
			n.Kind = score.Unpitched
		case "duration":
			n.Duration = p.duration(c, index)
		case "tie":
			n.TieStart = n.TieStart || c.Attribute("type") == "start"
			n.TieStop = n.TieStop || c.Attribute("type") == "stop"
		case "voice":
			n.Voice = c.Trimmed()
		case "type":
			n.Type = c.Trimmed()
			if !noteTypes[n.Type] {
				p.unreadable(index, c, "the note value", "the length is taken from the duration")
			}
		case "dot":
			n.Dots++
		case "time-modification":
			n.Tuplet = p.tuplet(c, index)
		case "stem":
			n.Stem, lay.stem = c.Trimmed(), c.Span
		case "staff":
			n.Staff, lay.staff = p.staff(c), c.Span
		case "beam":
			n.Beams++
			p.beam(&n, c)
		case "lyric":
			if text := strings.TrimSpace(c.ChildText("text")); sungDigits.MatchString(text) {
				p.odd(score.OddDigitLyric, index, p.part, p.measure, n.Line, "%s stands below the note as sung text", text)
			}
		case "notations":
			// A digit put among notations that are not printed would not be either.
			if !lay.notations.Exists() && c.Attribute("print-object") != "no" {
				lay.notations = c.Span
			}
			lay.last = c.Span.End
			p.notations(&n, &lay, c)
		}
		switch c.Name { // what may stand before <staff> and <notations> (MusicXML 4.0, element note)
		case "notations", "lyric", "play", "listen":
		case "staff", "beam":
			lay.before = c.Span.End
		default:
			lay.before, lay.noStaff = c.Span.End, c.Span.End
		}
	}
	switch {
	case n.Kind == score.Pitched && n.Pitch.Step == 0:
		n.Kind = score.Unpitched
	case n.Kind == score.Pitched:
		n.Midi = n.Pitch.Midi() + p.transposed(n.Staff)
	default: // what is called a rest is one, whatever pitch stands beside
		n.Pitch = score.Pitch{}
	}
	if e.Child("pitch") == nil && e.Child("rest") == nil && e.Child("unpitched") == nil {
		p.missing(index, e, "the pitch", "the note counts as one without pitch")
	}
	if v := e.Child("voice"); v != nil && v.Trimmed() == "" {
		p.missing(index, v, "the voice", "the note counts as in one of its own")
	}
	if grace == nil && e.Child("duration") == nil {
		p.missing(index, e, "the duration", "it counts as none")
	}
	if p.cue[staffKey{p.part, n.Staff}] {
		n.Cue = true
	}
	p.setTime(&n, grace, index, &lay)
	p.beamSigns(e, &n, index)
	p.tieSigns(e, &n, index)
	p.valueSign(e, &n, index)
	p.lineSigns(e, &n, index)
	p.ends.note(&n, wholeRest)
	if n.ID != "" {
		if p.ids[n.ID] {
			p.odd(score.OddDuplicateID, index, p.part, p.measure, n.Line, "the id %.40q stands at two notes", n.ID)
		}
		p.ids[n.ID] = true
	}
	p.score.Notes = append(p.score.Notes, n)
	p.layout.notes = append(p.layout.notes, lay)
	p.stretches = append(p.stretches, int32(p.stretch))
	p.noteItems(e, &n, index)
	return nil
}

// setTime gives a note its onset and moves on.
func (p *partReader) setTime(n *score.Note, grace *xmltree.Element, index int, lay *noteLayout) {
	joins := n.Chord && p.chordHead >= 0
	if joins {
		head := &p.score.Notes[p.chordHead]
		n.Onset = head.Onset
		lay.chordHead = int32(p.chordHead)
		if grace != nil || head.Grace > 0 {
			n.Grace, n.GraceAfter, n.Duration = head.Grace, head.GraceAfter, score.Fraction{}
			if run := p.graces[n.Voice]; run != nil && n.Grace > 0 {
				run.notes = append(run.notes, index)
			}
		}
		// A chord note longer than its first note still moves the end of the measure.
		p.end = score.Max(p.end, n.Onset.Add(n.Duration))
		return
	}
	n.Onset = p.at
	p.chordHead = index
	if grace != nil {
		n.Duration = score.Fraction{}
		run := p.graces[n.Voice]
		if run == nil {
			run = &graceRun{}
			p.graces[n.Voice] = run
		}
		n.Grace = 1
		if k := len(run.notes); k > 0 {
			n.Grace = p.score.Notes[run.notes[k-1]].Grace + 1
		}
		run.notes = append(run.notes, index)
		if grace.Attribute("steal-time-previous") != "" {
			n.GraceAfter = true
		}
		return
	}
	if run := p.graces[n.Voice]; run != nil {
		if n.Kind == score.Rest || len(run.notes) > 0 && p.score.Notes[run.notes[0]].Onset != n.Onset {
			p.afterNotes(run)
		}
		delete(p.graces, n.Voice)
	}
	p.at = p.at.Add(n.Duration)
	p.end = score.Max(p.end, p.at)
}

// afterNotes marks grace notes that lean on nothing that follows them: they
// belong to the end of the note before (the close of a trill, say).
func (p *partReader) afterNotes(run *graceRun) {
	for _, i := range run.notes {
		p.score.Notes[i].GraceAfter = true
	}
}

// transposed is how many semitones a staff sounds above what is written.
func (p *partReader) transposed(staff int) int {
	if semitones, own := p.transpose[staff]; own {
		return semitones
	}
	return p.transpose[0] // of all staves
}

// restOn reads where a rest is set on its staff (MusicXML 4.0, display-step and display-octave).
func restOn(e *xmltree.Element) score.Pitch {
	step, octave := e.ChildText("display-step"), e.ChildText("display-octave")
	if len(step) != 1 || step[0] < 'A' || step[0] > 'G' || len(octave) != 1 || octave[0] < '0' || octave[0] > '9' {
		return score.Pitch{}
	}
	return score.Pitch{Step: step[0], Octave: int8(octave[0] - '0')}
}

// pitch reads a pitch as written. What is no pitch is noted.
func (p *partReader) pitch(e *xmltree.Element, index int) score.Pitch {
	const then = "the note counts as one without pitch"
	var pitch score.Pitch
	hasStep, hasOctave := false, false
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "step":
			if step := c.Trimmed(); len(step) == 1 && step[0] >= 'A' && step[0] <= 'G' {
				pitch.Step, hasStep = step[0], true
			} else {
				p.unreadable(index, c, "the letter of the pitch", then)
			}
		case "octave":
			octave, ok := p.number(index, c, "the octave", then, 0, 9)
			pitch.Octave, hasOctave = int8(octave), ok
		case "alter":
			text := c.Trimmed()
			if text == "" {
				continue
			}
			alter, fine := parseDecimal(trimSign(text))
			a := alter.Scaled(1)
			if text[0] == '-' {
				a = -a
			}
			if !fine || a < -4 || a > 4 {
				p.unreadable(index, c, "the alteration in semitones", "it is left out")
				a = 0
			}
			pitch.Alter = int8(a)
		}
	}
	for _, part := range []struct{ name, what string }{{"step", "the letter of the pitch"}, {"octave", "the octave"}} {
		if e.Child(part.name) == nil {
			p.missing(index, e, part.what, then)
		}
	}
	if !hasStep || !hasOctave {
		return score.Pitch{}
	}
	return pitch
}

// tuplet reads how many notes stand in the time of how many.
func (p *partReader) tuplet(e *xmltree.Element, index int) (t score.Tuplet) {
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "actual-notes":
			t.Actual, _ = p.number(index, c, "the number of notes in a tuplet", "the note counts as it lasts", 1, 1024)
		case "normal-notes":
			t.Normal, _ = p.number(index, c, "the number of notes in a tuplet", "the note counts as it lasts", 1, 1024)
		}
	}
	return t
}

func trimSign(s string) string {
	if s != "" && (s[0] == '-' || s[0] == '+') {
		return s[1:]
	}
	return s
}

func (p *partReader) staff(c *xmltree.Element) int {
	n, ok := p.number(len(p.score.Notes), c, "the staff", "the first is taken", 1, 16)
	if !ok {
		return 1
	}
	if p.declared > 0 && n > p.declared {
		p.unreadable(len(p.score.Notes), c, "the staff", fmt.Sprintf("the part has %d", p.declared))
	}
	p.score.Parts[p.part].Staves = max(p.score.Parts[p.part].Staves, n)
	return n
}

// beam gives notes under one beam a common number. Only the first beam counts.
func (p *partReader) beam(n *score.Note, c *xmltree.Element) {
	if number := c.Attribute("number"); number != "" && number != "1" {
		return
	}
	switch c.Trimmed() {
	case "begin":
		p.beamCount++
		p.beams[n.Voice] = p.beamCount
		n.BeamGroup = p.beamCount
	case "continue":
		n.BeamGroup = p.beams[n.Voice]
	case "end":
		n.BeamGroup = p.beams[n.Voice]
		delete(p.beams, n.Voice)
	}
}
