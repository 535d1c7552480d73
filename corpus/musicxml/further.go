package musicxml

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// What can be seen on the page and is read under no other kind: attributes of the standard that few files have. They are kept
// as they are written, so that two files of this format can be held against each other in them. `workbench one-change` finds
// what is missing here.

// furtherAttribute is one of them, at the elements where it prints (none: at all), with what holds without it.
type furtherAttribute struct {
	usual string
	at    []string
}

var furtherAttributes = map[string]furtherAttribute{
	"line-type":           {at: []string{"glissando", "slide"}},
	"line-end":            {at: []string{"bracket"}},
	"enclosure":           {at: []string{"rehearsal"}},
	"line-through":        {usual: "0", at: []string{"rehearsal", "text"}},
	"underline":           {usual: "0", at: []string{"rehearsal", "text"}},
	"overline":            {usual: "0", at: []string{"rehearsal", "text"}},
	"print-dot":           {usual: "yes", at: []string{"note"}},
	"print-leger":         {usual: "yes", at: []string{"note"}},
	"print-lyric":         {usual: "yes", at: []string{"note"}},
	"print-object":        {usual: "yes", at: []string{"degree", "root-alter", "bass-alter", "harmonic"}},
	"parentheses":         {usual: "no", at: []string{"figured-bass"}},
	"separator":           {usual: "none", at: []string{"time"}},
	"smufl":               {},
	"use-symbols":         {usual: "no"},
	"stack-degrees":       {usual: "no"},
	"parentheses-degrees": {usual: "no"},
	"plus-minus":          {usual: "no"},
	"symbol":              {at: []string{"degree-value"}},
	"arrangement":         {},
	"print-frame":         {usual: "yes"},
	"location":            {at: []string{"root-alter", "bass-alter"}},
	"show-frets":          {usual: "numbers"},
	"repeater":            {usual: "no"},
	"type":                {usual: "up", at: []string{"strong-accent"}},
	"size":                {usual: "full", at: []string{"accidental", "accidental-mark"}},
}

// straightOrWavy is what a line over two notes is where it is not what the standard takes it for.
var straightOrWavy = map[string]string{"glissando": "solid", "slide": "wavy"}

// furtherTexts are the elements whose text says how they are drawn, with what is usual.
var furtherTexts = map[string][]string{"breath-mark": {"", "comma"}, "caesura": {"", "normal"}}

// furtherIn keeps what of it stands in an element and below it, at a place.
func (p *partReader) furtherIn(e *xmltree.Element, at score.Item) {
	if p.score.Format != "musicxml" { // MEI keeps its own
		return
	}
	p.furtherBelow(e, at)
}

func (p *partReader) furtherBelow(e *xmltree.Element, at score.Item) {
	at.Kind, at.Note = score.ItemFurther, -1
	for i := range e.Attributes {
		a := &e.Attributes[i]
		f, is := furtherAttributes[a.Name.Local]
		if !is || a.Value == f.usual || a.Value == "" || len(f.at) > 0 && !slices.Contains(f.at, e.Name) {
			continue
		}
		switch {
		case e.Name == "bracket" && e.Attribute("type") == "continue":
			continue
		case a.Name.Local == "line-type" && (e.Attribute("type") == "stop" || a.Value != straightOrWavy[e.Name]): // the others are read
			continue
		}
		at.Reading = spaced(e.Name) + ": " + a.Name.Local + " " + plain(a.Value)
		p.add(at)
	}
	if usual, is := furtherTexts[e.Name]; is && !slices.Contains(usual, e.Trimmed()) {
		at.Reading = spaced(e.Name) + ": " + plain(e.Text)
		p.add(at)
	}
	for c := e.First; c != nil; c = c.Next {
		p.furtherBelow(c, at)
	}
}
