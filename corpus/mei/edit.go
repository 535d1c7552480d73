package mei

import (
	"encoding/xml"
	"iter"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"fingerproof/corpus/source/xmltree"
)

// Of passages that a document has in several texts one is read: of an
// apparatus the lemma, or the reading of the chosen source; of a choice what
// the editors made of it (MEI Guidelines 5.1, chapters Critical Apparatus and
// Editorial Markup).

// through are elements around music that say where it comes from and nothing of what it is.
var through = map[string]bool{
	"lem": true, "rdg": true, "corr": true, "reg": true, "expan": true, "add": true, "supplied": true, "unclear": true,
	"damage": true, "restore": true, "sic": true, "orig": true, "abbr": true,
}

// gone are elements that are no part of the text.
var gone = map[string]bool{"del": true, "gap": true, "cpMark": true, "metaMark": true}

// preferred of a choice, in this order.
var preferred = []string{"corr", "reg", "expan", "unclear", "supplied", "orig", "sic", "abbr"}

// content goes through the children of an element as the text that is read has
// them: through what editors put around them.
func (r *reader) content(e *xmltree.Element) iter.Seq[*xmltree.Element] {
	return func(yield func(*xmltree.Element) bool) { r.walk(e, yield) }
}

// walk gives false once the caller has enough.
func (r *reader) walk(e *xmltree.Element, yield func(*xmltree.Element) bool) bool {
	for c := e.First; c != nil; c = c.Next {
		switch {
		case c.Name == "del" && e.Name == "restore": // what was taken out, and put back
			if !r.walk(c, yield) {
				return false
			}
		case gone[c.Name]:
		case c.Name == "app":
			if chosen := r.reading(c); chosen != nil && !r.walk(chosen, yield) {
				return false
			}
		case c.Name == "choice":
			if chosen := r.chosen(c); chosen != nil && !r.walk(chosen, yield) {
				return false
			}
		case c.Name == "subst":
			if !r.walk(c, yield) { // what was taken out in it is gone, what was put in stays
				return false
			}
		case through[c.Name]:
			if !r.walk(c, yield) {
				return false
			}
		default:
			if !yield(c) {
				return false
			}
		}
	}
	return true
}

// reading is the chosen text of an apparatus; nil where it is empty.
func (r *reader) reading(app *xmltree.Element) *xmltree.Element {
	var first *xmltree.Element
	for c := app.First; c != nil; c = c.Next {
		if c.Name != "lem" && c.Name != "rdg" {
			continue
		}
		if first == nil {
			first = c
		}
		for _, word := range strings.Fields(c.Attribute("source") + " " + c.Attribute("wit")) {
			if slices.Contains(r.sources, strings.TrimPrefix(word, "#")) {
				return c
			}
		}
	}
	if lem := app.Child("lem"); lem != nil {
		return lem
	}
	return first
}

func (r *reader) chosen(choice *xmltree.Element) *xmltree.Element {
	for _, name := range preferred {
		if c := choice.Child(name); c != nil {
			return c
		}
	}
	return choice.First
}

// choose finds the names under which a source is pointed at: its siglum is its id, its @n, its @label, or stands in an
// identifier or a siglum in its description.
func (r *reader) choose(siglum string) {
	r.sources = append(r.sources, siglum)
	for id, e := range r.byID {
		switch e.Name {
		case "source", "manifestation", "witness", "item":
			named := e.Attribute("n") == siglum || e.Attribute("label") == siglum || e.ChildText("identifier") == siglum ||
				e.ChildText("abbr") == siglum || e.ChildText("siglum") == siglum
			if named {
				r.sources = append(r.sources, id)
			}
		}
	}
	slices.Sort(r.sources)
}

// omitted are elements of running text that are no part of it; of a choice and an apparatus the first text is read.
var omitted = map[string]bool{"del": true, "gap": true, "fig": true, "rdg": true}

// lesser are the texts of a choice that are not read beside their better twins.
var lesser = map[string]bool{"sic": true, "orig": true, "abbr": true}

// textOf is the running text of an element with all that is in it, in its order.
func (r *reader) textOf(e *xmltree.Element) string {
	if e == nil || e.Span.SelfClosing() {
		return ""
	}
	if e.First == nil {
		return plain(e.Text)
	}
	d := xml.NewDecoder(strings.NewReader(r.doc.Text[e.Span.OpenEnd:e.Span.CloseStart]))
	var b strings.Builder
	var open []string
	skip := 0 // how many elements deep in what is left out
	for b.Len() < longestText {
		t, err := d.RawToken()
		if err != nil {
			break
		}
		switch t := t.(type) {
		case xml.StartElement:
			name := t.Name.Local
			inChoice := len(open) > 0 && open[len(open)-1] == "choice"
			back := name == "del" && len(open) > 0 && open[len(open)-1] == "restore"
			if skip > 0 || omitted[name] && !back || inChoice && lesser[name] {
				skip++
			}
			if name == "symbol" && skip == 0 {
				b.WriteString(glyph(t))
			}
			if name == "lb" {
				b.WriteByte(' ')
			}
			open = append(open, name)
		case xml.EndElement:
			skip, open = max(skip-1, 0), open[:max(len(open)-1, 0)]
		case xml.CharData:
			if skip == 0 {
				b.Write(t)
			}
		}
	}
	return plain(b.String())
}

// glyph is the sign that a <symbol> names by the number of a glyph (SMuFL), "" where it names none.
func glyph(e xml.StartElement) string {
	for _, a := range e.Attr {
		if a.Name.Local != "glyph.num" {
			continue
		}
		number := strings.TrimPrefix(strings.TrimPrefix(strings.ToUpper(strings.TrimSpace(a.Value)), "U+"), "#X")
		if n, err := strconv.ParseUint(number, 16, 21); err == nil && n > 0 && n <= utf8.MaxRune {
			return string(rune(n))
		}
	}
	return ""
}

// longestText is far more than any words in a score.
const longestText = 1 << 14

// plain folds white space.
func plain(s string) string { return strings.Join(strings.Fields(s), " ") }
