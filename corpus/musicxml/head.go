package musicxml

import (
	"encoding/xml"
	"fmt"
	"regexp"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// headChild reads a child of the root that is no part.
func (r *reader) headChild(start xml.StartElement) error {
	r.scan.Reset()
	e, err := r.scan.Tree(start)
	if err != nil {
		return err
	}
	return r.headElement(e)
}

// headElement takes up a child of the root that is no part.
func (r *reader) headElement(e *xmltree.Element) error {
	r.headItems(e)
	switch e.Name {
	case "work":
		if r.score.Title == "" {
			r.score.Title = e.ChildText("work-title")
		}
	case "movement-title":
		if r.score.Title == "" {
			r.score.Title = e.Trimmed()
		} else {
			r.score.Subtitle = e.Trimmed()
		}
	case "identification":
		r.identification(e)
	case "credit":
		if !r.layout.head.legend.Exists() && e.ChildText("credit-type") == LegendType {
			r.layout.head.legend = e.Span
		}
	case "part-list":
		r.layout.head.partList = e.Span.Start
		return r.partList(e)
	}
	if e.Name == "work" || strings.HasPrefix(e.Name, "movement-") {
		r.layout.head.beforePartList = e.Span.End
	}
	return nil
}

func (r *reader) identification(e *xmltree.Element) {
	h := &r.layout.head
	h.identification = e.Span
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "creator":
			if c.Attribute("type") == "composer" && r.score.Composer == "" {
				r.score.Composer = c.Trimmed()
			}
		case "miscellaneous":
			h.miscellaneous = c.Span
			r.miscellaneous(c)
			continue
		}
		h.lastChild = c.Span.End
	}
}

func (r *reader) miscellaneous(e *xmltree.Element) {
	for c := e.First; c != nil; c = c.Next {
		name := c.Attribute("name")
		if c.Name != "miscellaneous-field" || !strings.HasPrefix(name, FieldPrefix) {
			continue
		}
		r.layout.head.fields[name] = c.Span
		if r.score.Edition == nil {
			r.score.Edition = &score.EditionMark{Fields: map[string]string{}}
		}
		r.score.Edition.Fields[strings.TrimPrefix(name, FieldPrefix)] = c.Trimmed()
	}
}

func (r *reader) partList(e *xmltree.Element) error {
	group, depth := 0, 0
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "part-group":
			brace := c.ChildText("group-symbol") == "brace"
			switch c.Attribute("type") {
			case "start":
				if brace {
					group++
					depth++
				}
			case "stop":
				depth = max(depth-1, 0)
			}
		case "score-part":
			id := c.Attribute("id")
			if id == "" {
				return r.scan.Fault(int(c.Span.Start), "a part in the list of parts has no id", "")
			}
			if _, twice := r.listed[id]; twice {
				return r.scan.Fault(int(c.Span.Start), fmt.Sprintf("the list of parts names part %q twice", id), "")
			}
			if len(r.score.Parts) >= r.limits.Parts {
				return r.scan.Fault(int(c.Span.Start), fmt.Sprintf("the score has more than %d parts", r.limits.Parts), "")
			}
			p := score.Part{ID: id, Name: plain(c.ChildText("part-name")), Instrument: instrumentOf(c), Staves: 1}
			if depth > 0 {
				p.Group = group
			}
			r.listed[id] = len(r.score.Parts)
			r.score.Parts, r.listedAt = append(r.score.Parts, p), append(r.listedAt, r.place(c.Span.Start).Line)
		}
	}
	return nil
}

// plain folds the line breaks that engraving programs put into names.
func plain(s string) string { return strings.Join(strings.Fields(s), " ") }

func instrumentOf(scorePart *xmltree.Element) string {
	var names []string
	for c := scorePart.First; c != nil; c = c.Next {
		if c.Name == "score-instrument" {
			names = append(names, plain(c.ChildText("instrument-name")), plain(c.ChildText("instrument-sound")))
		}
	}
	return strings.TrimSpace(strings.Join(names, " "))
}

// Names of keyboards and of what looks like one on two staves, in the
// languages scores are printed in (common practice).
var (
	keyboardName    = regexp.MustCompile(`(?i)\b(piano|pianoforte|forte-?piano|hammer\w*|klavier|clavier|clavi\w*|flügel|pfte?\.?|pno\.?|fortepian|harpsichord|cembalo|clavecin|celesta|organ|orgel|orgue|harmonium|primo|secondo|keyboard)\b|keyboard\.`)
	otherTwoStaves  = regexp.MustCompile(`(?i)\bvoice\.|\b(voices?|soprano|mezzo|contralto|tenor|singstimme|gesang|chant|canto|harp\w*|harfe|arpa|accordion|bayan|marimba|vibraphone|xylophone|strings?|chor(us|ir)?|coro|orchestra|orchester)\b`)
	ossiaName       = regexp.MustCompile(`(?i)\bossia\b`)
	rightHandOfPair = regexp.MustCompile(`(?i)\b(r\.? ?h\.?|right|rechts|rechte|m\.? ?d\.?|droite|destra)\b`)
	leftHandOfPair  = regexp.MustCompile(`(?i)\b(l\.? ?h\.?|left|links|linke|m\.? ?[sg]\.?|gauche|sinistra)\b`)
)

// keyboards decides which parts are played at a keyboard, once the staves are known.
func (r *reader) keyboards() {
	parts := r.score.Parts
	grand := false // some keyboard has its two staves
	for i := range parts {
		p := &parts[i]
		p.Keyboard = p.Staves >= 2 && !otherTwoStaves.MatchString(p.Name+" "+p.Instrument)
		grand = grand || p.Keyboard
	}
	for i := range parts {
		p := &parts[i]
		// Beside a keyboard on two staves the sound a part plays back with
		// proves nothing: singers are often set to the piano's.
		names := p.Name
		if !grand {
			names += " " + p.Instrument
		}
		p.Keyboard = p.Keyboard || keyboardName.MatchString(names)
		if ossiaName.MatchString(p.Name) {
			p.Keyboard = false
		}
	}
	// A score of one part, or of two parts of one staff each under a brace or
	// named as two hands, is piano music unless it says otherwise.
	if len(parts) == 1 && !otherTwoStaves.MatchString(parts[0].Name+" "+parts[0].Instrument) {
		parts[0].Keyboard = true
	}
	for i := 0; i+1 < len(parts); i++ {
		a, b := &parts[i], &parts[i+1]
		if a.Staves != 1 || b.Staves != 1 {
			continue
		}
		named := rightHandOfPair.MatchString(a.Name) && leftHandOfPair.MatchString(b.Name)
		braced := a.Group > 0 && a.Group == b.Group && a.Keyboard && b.Keyboard
		same := a.Keyboard && b.Keyboard && a.Name == b.Name && len(parts) == 2
		if named || braced || same {
			a.Keyboard, b.Keyboard = true, true
			a.Hand, b.Hand = score.Right, score.Left
			i++
		}
	}
}
