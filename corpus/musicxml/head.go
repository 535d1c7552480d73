package musicxml

import (
	"encoding/xml"
	"fmt"
	"regexp"
	"strings"

	"fingerproof/corpus/score"
)

// headChild reads a child of the root that is no part.
func (r *reader) headChild(start xml.StartElement) error {
	at := int32(r.scan.start)
	r.scan.arena.reset()
	e, err := r.scan.tree(start)
	if err != nil {
		return err
	}
	r.headItems(e)
	switch e.name {
	case "work":
		if r.score.Title == "" {
			r.score.Title = e.childText("work-title")
		}
	case "movement-title":
		if r.score.Title == "" {
			r.score.Title = e.trimmed()
		} else {
			r.score.Subtitle = e.trimmed()
		}
	case "identification":
		r.identification(e)
	case "credit":
		if !r.layout.head.legend.exists() && e.childText("credit-type") == legendType {
			r.layout.head.legend = e.span
		}
	case "part-list":
		r.layout.head.partList = at
		return r.partList(e)
	}
	if e.name == "work" || strings.HasPrefix(e.name, "movement-") {
		r.layout.head.beforePartList = e.span.end
	}
	return nil
}

func (r *reader) identification(e *element) {
	h := &r.layout.head
	h.identification = e.span
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "creator":
			if c.attribute("type") == "composer" && r.score.Composer == "" {
				r.score.Composer = c.trimmed()
			}
		case "miscellaneous":
			h.miscellaneous = c.span
			r.miscellaneous(c)
			continue
		}
		h.lastChild = c.span.end
	}
}

func (r *reader) miscellaneous(e *element) {
	for c := e.first; c != nil; c = c.next {
		name := c.attribute("name")
		if c.name != "miscellaneous-field" || !strings.HasPrefix(name, FieldPrefix) {
			continue
		}
		r.layout.head.fields[name] = c.span
		if r.score.Edition == nil {
			r.score.Edition = &score.EditionMark{Fields: map[string]string{}}
		}
		r.score.Edition.Fields[strings.TrimPrefix(name, FieldPrefix)] = c.trimmed()
	}
}

func (r *reader) partList(e *element) error {
	group, depth := 0, 0
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "part-group":
			brace := c.childText("group-symbol") == "brace"
			switch c.attribute("type") {
			case "start":
				if brace {
					group++
					depth++
				}
			case "stop":
				depth = max(depth-1, 0)
			}
		case "score-part":
			id := c.attribute("id")
			if id == "" {
				return r.scan.fault(int(c.span.start), "a part in the list of parts has no id", "")
			}
			if _, twice := r.listed[id]; twice {
				return r.scan.fault(int(c.span.start), fmt.Sprintf("the list of parts names part %q twice", id), "")
			}
			if len(r.score.Parts) >= r.limits.Parts {
				return r.scan.fault(int(c.span.start), fmt.Sprintf("the score has more than %d parts", r.limits.Parts), "")
			}
			p := score.Part{ID: id, Name: plain(c.childText("part-name")), Instrument: instrumentOf(c), Staves: 1}
			if depth > 0 {
				p.Group = group
			}
			r.listed[id] = len(r.score.Parts)
			r.score.Parts, r.listedAt = append(r.score.Parts, p), append(r.listedAt, r.place(c.span.start).Line)
		}
	}
	return nil
}

// plain folds the line breaks that engraving programs put into names.
func plain(s string) string { return strings.Join(strings.Fields(s), " ") }

func instrumentOf(scorePart *element) string {
	var names []string
	for c := scorePart.first; c != nil; c = c.next {
		if c.name == "score-instrument" {
			names = append(names, plain(c.childText("instrument-name")), plain(c.childText("instrument-sound")))
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
