package alteration

import (
	"github.com/beevik/etree"

	"fingerproof/corpus/score"
)

// How notes are printed that stay the same music.

// notation hangs a sign on a note outside chords that has none of its kind.
func notation(kind, inner string) func(d *Draft) bool {
	return func(d *Draft) bool {
		sign := fragment(inner)
		suits := func(e *etree.Element, n *score.Note) bool {
			return loneStroke(n) && !inChord(e) && !d.nearClosed(e.Parent()) && e.FindElement("notations/"+sign.Tag) == nil
		}
		return d.change(kind, suits, func(e *etree.Element) { NotationsOf(e).AddChild(sign) })
	}
}

// printedNote changes a note outside chords that suits.
func (d *Draft) printedNote(kind string, suits suitable, make func(e *etree.Element)) bool {
	return d.change(kind, func(e *etree.Element, n *score.Note) bool {
		return !inChord(e) && !d.nearClosed(e.Parent()) && suits(e, n)
	}, make)
}

func addLyric(d *Draft) bool {
	return d.printedNote("lyric", func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && e.SelectElement("lyric") == nil
	}, func(e *etree.Element) {
		e.AddChild(fragment(`<lyric number="1"><syllabic>single</syllabic><text>la</text></lyric>`))
	})
}

// dropAccidental takes one accidental of several out.
func dropAccidental(d *Draft) bool {
	if len(d.Doc.FindElements("//note/accidental")) < 3 {
		return false
	}
	return one("accidental", ".//note/accidental", drop)(d)
}

func otherValue(d *Draft) bool {
	return d.printedNote("note-value", func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && (n.Type == "quarter" || n.Type == "eighth") && n.Dots == 0
	}, func(e *etree.Element) {
		t := e.SelectElement("type")
		t.SetText(map[string]string{"quarter": "eighth", "eighth": "quarter"}[t.Text()])
	})
}

func dropDot(d *Draft) bool {
	return d.printedNote("dots", func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && n.Dots == 1 && n.Type != ""
	}, func(e *etree.Element) { drop(e.SelectElement("dot")) })
}

func otherSlash(d *Draft) bool {
	return d.printedNote("grace-slash", func(_ *etree.Element, n *score.Note) bool { return n.Grace > 0 && !n.GraceAfter },
		func(e *etree.Element) {
			g := e.SelectElement("grace")
			slash := map[string]string{"yes": "no"}[g.SelectAttrValue("slash", "no")]
			if slash == "" {
				slash = "yes"
			}
			g.CreateAttr("slash", slash)
		})
}

func small(d *Draft) bool {
	return d.printedNote("size", func(_ *etree.Element, n *score.Note) bool { return loneStroke(n) && !n.Cue },
		func(e *etree.Element) { e.InsertChildAt(0, etree.NewElement("cue")) })
}

func head(d *Draft) bool {
	return d.printedNote("notehead", func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && e.SelectElement("notehead") == nil
	}, func(e *etree.Element) {
		h := etree.NewElement("notehead")
		h.SetText("diamond")
		at := len(e.Child)
		for _, tag := range []string{"staff", "beam", "notations", "lyric"} {
			if c := e.SelectElement(tag); c != nil {
				at = min(at, c.Index())
			}
		}
		e.InsertChildAt(at, h)
	})
}

func otherStaff(d *Draft) bool {
	return d.printedNote("staff", func(e *etree.Element, n *score.Note) bool {
		s := intOf(e, "staff")
		return loneStroke(n) && (s == 1 || s == 2) && d.old.Parts[n.Part].Staves == 2
	}, func(e *etree.Element) { setInt(e, "staff", 3-intOf(e, "staff")) })
}

// otherStem turns a stem: among voices or where one voice is alone on its staff in this measure.
func otherStem(among bool) func(d *Draft) bool {
	return func(d *Draft) bool {
		kind := "stem-direction"
		if among {
			kind = "stem"
		}
		return d.printedNote(kind, func(e *etree.Element, n *score.Note) bool {
			s := e.SelectElement("stem")
			if s == nil || s.Text() != "up" && s.Text() != "down" || !loneStroke(n) || n.Type == "whole" {
				return false
			}
			voices := map[string]bool{}
			for _, other := range e.Parent().SelectElements("note") {
				if intOf(other, "staff") == intOf(e, "staff") && other.SelectAttrValue("print-object", "yes") == "yes" {
					v := other.SelectElement("voice")
					if v != nil {
						voices[v.Text()] = true
					}
				}
			}
			return (len(voices) > 1) == among
		}, func(e *etree.Element) {
			s := e.SelectElement("stem")
			s.SetText(map[string]string{"up": "down", "down": "up"}[s.Text()])
		})
	}
}

// ofRest changes a rest that is printed and does not fill its measure.
func ofRest(change func(e *etree.Element)) func(d *Draft) bool {
	return func(d *Draft) bool {
		e := d.open("measure/note/rest")
		if e == nil {
			return false
		}
		note := e.Parent()
		if e.SelectAttr("measure") != nil || note.SelectAttr("print-object") != nil || note.SelectElement("cue") != nil ||
			intOf(note, "duration") == 0 || note.SelectElement("notations") != nil || note.SelectElement("lyric") != nil {
			return false
		}
		s := spotOf(note)
		change(note)
		d.plantAt("rest", s)
		return true
	}
}

func restToForward(e *etree.Element) {
	f := etree.NewElement("forward")
	f.CreateElement("duration").SetText(e.SelectElement("duration").Text())
	for _, tag := range []string{"voice", "staff"} {
		if c := e.SelectElement(tag); c != nil {
			f.CreateElement(tag).SetText(c.Text())
		}
	}
	p, at := e.Parent(), e.Index()
	p.RemoveChild(e)
	p.InsertChildAt(at, f)
}

// inHead changes an element above the music.
func inHead(kind, path string, change func(e *etree.Element) bool) func(d *Draft) bool {
	return func(d *Draft) bool {
		all := d.Doc.Root().FindElements(path)
		if len(all) == 0 || d.head[kind] {
			return false
		}
		if !change(all[d.Rng.IntN(len(all))]) {
			return false
		}
		d.plantInHead(kind)
		return true
	}
}

func addCredit(kind, creditType, words string) func(d *Draft) bool {
	return func(d *Draft) bool {
		list := d.Doc.Root().SelectElement("part-list")
		if list == nil || d.head[kind] {
			return false
		}
		c := etree.NewElement("credit")
		c.CreateAttr("page", "1")
		if creditType != "" {
			c.CreateElement("credit-type").SetText(creditType)
		}
		c.CreateElement("credit-words").SetText(words)
		d.Doc.Root().InsertChildAt(list.Index(), c)
		d.plantInHead(kind)
		return true
	}
}

func (d *Draft) plantInHead(kind string) {
	d.head[kind] = true
	d.truths = append(d.truths, planted{kind: kind, measureA: -1, head: true})
}

// dropPart takes out a part that the piano's notes are not in.
func dropPart(d *Draft) bool {
	parts := d.Doc.FindElements("//part")
	if len(parts) < 2 || len(parts) != len(d.old.Parts) || len(d.truths) > 0 {
		return false
	}
	for i, p := range parts {
		if d.old.Parts[i].Keyboard {
			continue
		}
		id := p.SelectAttrValue("id", "")
		for _, s := range d.Doc.FindElements("//score-part") {
			if s.SelectAttrValue("id", "") == id {
				drop(s)
			}
		}
		drop(p)
		d.plantInHead("part-missing")
		return true
	}
	return false
}

// copyPart writes the part of a singer twice.
func copyPart(d *Draft) bool {
	if len(d.truths) > 0 {
		return false
	}
	for i, p := range d.Doc.FindElements("//part") {
		if i >= len(d.old.Parts) || d.old.Parts[i].Keyboard {
			continue
		}
		for _, s := range d.Doc.FindElements("//score-part") {
			if s.SelectAttrValue("id", "") != p.SelectAttrValue("id", "") {
				continue
			}
			again, part := s.Copy(), p.Copy()
			for _, e := range []*etree.Element{again, part} {
				e.CreateAttr("id", "copy")
			}
			s.Parent().InsertChildAt(s.Index()+1, again)
			p.Parent().InsertChildAt(p.Index()+1, part)
			d.plantInHead("part-added")
			return true
		}
	}
	return false
}
