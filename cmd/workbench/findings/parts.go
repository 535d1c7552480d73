package findings

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/cmd/workbench/opendata"
	partsreadasone "fingerproof/rules/lint/parts-read-as-one"
)

// parts writes the two staves of a piano part as two parts of its name, as some programs do, and asks for the finding
// that they are read as one player's. It is planted in a copy of its own, since it moves all notes.
func (t *plantTally) parts(name string, data []byte) error {
	s, err := opendata.ParseScore(name, data)
	if err != nil {
		return err
	}
	piano := s.PianoParts()
	// Two parts of one name alone in a score are read as two hands without a word.
	if len(s.Parts) < 2 || len(piano) != 1 || s.Parts[piano[0]].Staves != 2 {
		return nil
	}
	original, err := alteration.Of(name, data, s)
	if err != nil {
		return err
	}
	doc := original.Draft(nil).Doc
	if !splitStaves(doc, s.Parts[piano[0]].ID) {
		return nil
	}
	text, err := doc.WriteToString()
	if err != nil {
		return err
	}
	after, err := linted(passes[0], name, []byte(text), nil)
	if err != nil {
		return fmt.Errorf("linting %s with its staves as parts: %w", name, err)
	}
	count := t.of(partsreadasone.Rule.Name)
	for _, f := range after.Remaining {
		if f.Rule == partsreadasone.Rule.Name {
			count.found++
			return nil
		}
	}
	count.missed++
	t.say("missed  %s %s\n", name, partsreadasone.Rule.Name)
	return nil
}

// splitStaves moves what stands on the second staff of a part into a part of its own, of the same name. False where the
// document has no such part, or where notes go from staff to staff in a chord.
func splitStaves(doc *etree.Document, id string) bool {
	root := doc.Root()
	var part, entry *etree.Element
	for _, p := range root.SelectElements("part") {
		if p.SelectAttrValue("id", "") == id {
			part = p
		}
	}
	list := root.SelectElement("part-list")
	for _, e := range list.SelectElements("score-part") {
		if e.SelectAttrValue("id", "") == id {
			entry = e
		}
	}
	if part == nil || entry == nil {
		return false
	}
	lower := etree.NewElement("part")
	lower.CreateAttr("id", id+"lower")
	for _, m := range part.SelectElements("measure") {
		other := etree.NewElement("measure")
		for _, a := range m.Attr {
			other.CreateAttr(a.Key, a.Value)
		}
		lower.AddChild(other)
		split(m, other)
	}
	root.InsertChildAt(part.Index()+1, lower)
	again := etree.NewElement("score-part")
	again.CreateAttr("id", id+"lower")
	again.CreateElement("part-name").SetText(entry.SelectElement("part-name").Text())
	list.InsertChildAt(entry.Index()+1, again)
	return true
}

// split takes a measure apart: what stands on the second staff goes to another measure, and both keep their places in
// time by steps to and fro.
func split(m, other *etree.Element) {
	children := slices.Clone(m.ChildElements())
	for _, c := range children {
		m.RemoveChild(c)
	}
	now, written := 0, map[*etree.Element]int{} // where the document stands, and where each of the two does
	last := m                                   // where the last note went: its chord follows
	for _, c := range children {
		duration := 0
		if d := c.SelectElement("duration"); d != nil {
			duration, _ = strconv.Atoi(d.Text())
		}
		switch c.Tag {
		case "backup":
			now -= duration
			continue
		case "forward":
			now += duration
			continue
		case "attributes":
			attributes(c, m, other)
			continue
		case "barline", "print":
			m.AddChild(c)
			other.AddChild(c.Copy())
			continue
		}
		to, chord := m, c.SelectElement("chord") != nil
		staff := c.SelectElement("staff")
		switch {
		case c.Tag == "note" && chord:
			to = last
		case staff != nil && staff.Text() == "2":
			to = other
		}
		if staff != nil {
			staff.SetText("1")
		}
		if !chord {
			step(to, now-written[to])
			written[to] = now
		}
		to.AddChild(c)
		if c.Tag == "note" {
			last = to
			if !chord && c.SelectElement("grace") == nil {
				now += duration
				written[to] = now
			}
		}
	}
}

// step moves the place in time of a measure by so many divisions.
func step(m *etree.Element, by int) {
	name := "forward"
	if by < 0 {
		name, by = "backup", -by
	}
	if by > 0 {
		m.CreateElement(name).CreateElement("duration").SetText(strconv.Itoa(by))
	}
}

// attributes gives both measures what holds for both, and each its clef.
func attributes(e, m, other *etree.Element) {
	copied := e.Copy()
	for i, a := range []*etree.Element{e, copied} {
		for _, c := range slices.Clone(a.ChildElements()) {
			switch number := c.SelectAttrValue("number", ""); {
			case c.Tag == "staves", number != "" && number != strconv.Itoa(i+1):
				a.RemoveChild(c)
			case number != "":
				c.RemoveAttr("number")
			case c.Tag == "clef" && i == 1:
				a.RemoveChild(c)
			}
		}
	}
	m.AddChild(e)
	other.AddChild(copied)
}
