package main

import (
	"fmt"
	"strconv"

	"github.com/beevik/etree"
)

// Names of the collection; like everything here they are invented.
const (
	composerName  = "Ottoline Brambleworth (invented)"
	publisherName = "Kettle & Plover (invented)"
	inventedNote  = "Invented for demonstration: neither composer nor publisher nor sources have ever existed."
)

// scoreWriter builds the MusicXML document of one piece as one witness has it.
type scoreWriter struct {
	piece     *Piece
	witness   *Witness // nil for the text itself
	divisions int
	notes     int
	measure   *etree.Element
}

// writeScore gives the bytes of the score. The piece must be resolved.
func writeScore(p *Piece, witness *Witness) ([]byte, error) {
	w := &scoreWriter{piece: p, witness: witness}
	unit := quarter
	for _, m := range p.Measures {
		unit = divisor(unit, m.Ticks)
		for _, v := range m.Voices {
			for _, e := range v.Events {
				unit = divisor(divisor(unit, e.Ticks), e.Onset)
			}
		}
		for _, sign := range m.Pedal {
			unit = divisor(unit, sign.At)
		}
	}
	w.divisions = quarter / unit
	document := etree.NewDocument()
	document.CreateProcInst("xml", `version="1.0" encoding="UTF-8"`)
	document.CreateDirective(
		`DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN"` +
			` "http://www.musicxml.org/dtds/partwise.dtd"`,
	)
	root := document.CreateElement("score-partwise")
	root.CreateAttr("version", "4.0")
	w.header(root)
	part := root.CreateElement("part")
	part.CreateAttr("id", "P1")
	for i, m := range p.Measures {
		w.writeMeasure(part, m, i == 0)
	}
	document.Indent(1)
	return document.WriteToBytes()
}

func divisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// add appends a child with text.
func add(parent *etree.Element, name, text string, attributes ...string) *etree.Element {
	child := parent.CreateElement(name)
	if text != "" {
		child.SetText(text)
	}
	for i := 0; i+1 < len(attributes); i += 2 {
		child.CreateAttr(attributes[i], attributes[i+1])
	}
	return child
}

func (w *scoreWriter) header(root *etree.Element) {
	p := w.piece
	work := root.CreateElement("work")
	add(work, "work-title", p.Work)
	if p.Number != "" {
		add(root, "movement-number", p.Number)
	}
	add(root, "movement-title", p.Title)
	identification := root.CreateElement("identification")
	add(identification, "creator", composerName, "type", "composer")
	add(identification, "rights", inventedNote)
	encoding := identification.CreateElement("encoding")
	add(encoding, "software", "fingerproof demo composer")
	for _, element := range []string{"accidental", "beam", "stem"} {
		add(encoding, "supports", "", "element", element, "type", "yes")
	}
	source := publisherName
	if w.witness != nil {
		source = fmt.Sprintf("Witness %s: %s (invented)", w.witness.Siglum, w.witness.Description)
	}
	add(identification, "source", source)
	list := root.CreateElement("part-list")
	part := add(list, "score-part", "", "id", "P1")
	add(part, "part-name", "Piano", "print-object", "no")
}

func (w *scoreWriter) ticks(ticks int) string { return strconv.Itoa(ticks * w.divisions / quarter) }

func (w *scoreWriter) writeMeasure(part *etree.Element, m *Measure, first bool) {
	w.measure = add(part, "measure", "", "number", strconv.Itoa(m.Number))
	if m.Pickup || m.Short {
		w.measure.CreateAttr("implicit", "yes")
	}
	if m.RepeatStart || m.Volta != "" {
		w.barline("left", m)
	}
	w.attributes(m, first)
	tempo := m.NewTempo
	if first {
		tempo = &w.piece.Tempo
	}
	if tempo != nil {
		w.tempo(*tempo)
	}
	pedal := m.Pedal
	for i, v := range m.Voices {
		if i > 0 {
			add(w.measure.CreateElement("backup"), "duration", w.ticks(m.Ticks))
		}
		for _, e := range v.Events {
			for _, d := range e.Before {
				w.direction(d, v)
			}
			if i == len(m.Voices)-1 && e.Grace == noGrace {
				pedal = w.pedal(pedal, e.Onset, e.Ticks)
			}
			w.event(e, v)
		}
		for _, d := range v.After {
			w.direction(d, v)
		}
	}
	w.pedal(pedal, m.Ticks, 1)
	if m.RepeatEnd || m.VoltaEnd || m.Double || m.Final {
		w.barline("right", m)
	}
}

func (w *scoreWriter) barline(side string, m *Measure) {
	line := add(w.measure, "barline", "", "location", side)
	if side == "left" {
		if m.RepeatStart {
			add(line, "bar-style", "heavy-light")
		}
		if m.Volta != "" {
			add(line, "ending", m.Volta+".", "number", m.Volta, "type", "start")
		}
		if m.RepeatStart {
			add(line, "repeat", "", "direction", "forward")
		}
		return
	}
	style := "light-heavy"
	if m.Double && !m.RepeatEnd && !m.Final {
		style = "light-light"
	}
	if m.RepeatEnd || m.Double || m.Final {
		add(line, "bar-style", style)
	}
	if m.VoltaEnd {
		number, kind := "2", "discontinue"
		if m.RepeatEnd {
			number, kind = "1", "stop"
		}
		add(line, "ending", "", "number", number, "type", kind)
	}
	if m.RepeatEnd {
		add(line, "repeat", "", "direction", "backward")
	}
}

func (w *scoreWriter) attributes(m *Measure, first bool) {
	if !first && m.NewKey == nil && m.NewTime == nil {
		return
	}
	attributes := w.measure.CreateElement("attributes")
	if first {
		add(attributes, "divisions", strconv.Itoa(w.divisions))
	}
	if first || m.NewKey != nil {
		key := attributes.CreateElement("key")
		add(key, "fifths", strconv.Itoa(m.Key.Fifths))
		add(key, "mode", m.Key.Mode)
	}
	if first || m.NewTime != nil {
		time := attributes.CreateElement("time")
		add(time, "beats", strconv.Itoa(m.Metre.Beats))
		add(time, "beat-type", strconv.Itoa(m.Metre.Unit))
	}
	if first {
		add(attributes, "staves", "2")
		w.clef(attributes, 1, w.piece.Clefs[0])
		w.clef(attributes, 2, w.piece.Clefs[1])
	}
}

func (w *scoreWriter) clef(attributes *etree.Element, staff int, clef Clef) {
	element := add(attributes, "clef", "", "number", strconv.Itoa(staff))
	sign, line := "G", "2"
	if clef == bass {
		sign, line = "F", "4"
	}
	add(element, "sign", sign)
	add(element, "line", line)
}

func (w *scoreWriter) tempo(tempo Tempo) {
	direction := add(w.measure, "direction", "", "placement", "above")
	if tempo.Words != "" {
		add(direction.CreateElement("direction-type"), "words", tempo.Words, "font-weight", "bold")
	}
	if tempo.Beat != "" {
		metronome := direction.CreateElement("direction-type").CreateElement("metronome")
		add(metronome, "beat-unit", tempo.Beat)
		if tempo.Dotted {
			metronome.CreateElement("beat-unit-dot")
		}
		add(metronome, "per-minute", strconv.Itoa(tempo.PerMinute))
	}
	add(direction, "staff", "1")
	if tempo.Beat != "" {
		quarters := map[string]float64{"half": 2, "quarter": 1, "eighth": 0.5}[tempo.Beat] * float64(tempo.PerMinute)
		if tempo.Dotted {
			quarters *= 1.5
		}
		add(direction, "sound", "", "tempo", strconv.FormatFloat(quarters, 'f', -1, 64))
	}
}

// pedal writes the signs that fall within an event, and returns the rest.
func (w *scoreWriter) pedal(signs []PedalSign, onset, ticks int) []PedalSign {
	for len(signs) > 0 && signs[0].At < onset+ticks {
		direction := add(w.measure, "direction", "", "placement", "below")
		add(direction.CreateElement("direction-type"), "pedal", "", "type", signs[0].Kind, "line", "no", "sign", "yes")
		if offset := signs[0].At - onset; offset > 0 {
			add(direction, "offset", w.ticks(offset))
		}
		add(direction, "staff", "2")
		signs = signs[1:]
	}
	return signs
}

func (w *scoreWriter) direction(d Direction, v *Voice) {
	if d.Kind == "clef" {
		w.clef(w.measure.CreateElement("attributes"), d.Staff, Clef(d.Value))
		return
	}
	placement := "below"
	if d.Above {
		placement = "above"
	}
	direction := add(w.measure, "direction", "", "placement", placement)
	content := direction.CreateElement("direction-type")
	switch d.Kind {
	case "dynamics":
		content.CreateElement("dynamics").CreateElement(d.Value)
	case "wedge":
		add(content, "wedge", "", "type", d.Value, "number", strconv.Itoa(v.Staff))
	case "octave":
		add(content, "octave-shift", "", "type", d.Value, "size", "8")
	case "words":
		add(content, "words", d.Value, "font-style", "italic")
	}
	add(direction, "voice", strconv.Itoa(v.Number))
	add(direction, "staff", strconv.Itoa(d.Staff))
}
