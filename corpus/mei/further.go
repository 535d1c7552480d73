package mei

import (
	"fmt"
	"hash/crc32"
	"slices"
	"strings"
	"unicode/utf8"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// What the music of a document has besides what is read of it: elements that are not read, and attributes that mean nothing
// to the reader where they stand. It is kept as it is written, so that two documents can be held against each other in it.
// Whatever stands in none of the lists here counts as seen on the page: a new word of the format is told, never passed over.

// unseenOf are attributes that put nothing on the page, or what reports name as not compared (compare.NotCompared): names
// and links, playback, exact positions, sizes, fonts, colours, sides of signs at notes, brackets of tuplets and of staves.
var unseenOf = set(`class copyof corresp decls evidence cert facs follows precedes next prev sameas synch resp source hand seq label n type
	target targettype when evaluate part partstaff analog altrend def layer staff startid endid plist tstamp tstamp2 instr
	layerscheme aboveorder beloworder betweenorder instant subtype base translit func
	dur.ppq dur.metrical dur.recip dur.quality ppq pnum vel val val2 deg intm inth mfunc pclass psolfa chordref grace.time
	key.mode key.pname key.accid mode folium metcon control expand join restart notationtype notationsubtype mm.unit mm.dots mm
	ho vo to startho endho startvo endvo startto endto x y x2 y2 bulge bezier loc oloc ploc stem.len stem.pos stem.x stem.y
	opening opening.vertical angle.optimize vgrp halign valign width scale spacing optimize compressable
	fontfam fontname fontsize fontstyle fontweight letterspacing lineheight lwidth color colored glyph.auth glyph.uri
	curvedir bracket.place bracket.visible num.place symbol bar.thru barthru level lyric.align vu.height
	keysig.cancelaccid cancelaccid sig.showchange key.sig.showchange system.leftline`)

// seenAll are attributes that print though their names end like those that do not: signs by their names, pedals as lines.
var seenAll = set("glyph.name pedal.style")

// unseenEnds and unseenBegins are how names of such attributes end and begin.
var (
	unseenEnds   = []string{".ges", ".real", ".dist", ".color", ".fillcolor", ".size", ".fam", ".name", ".weight", ".style", ".lwidth", "mar"}
	unseenBegins = []string{"midi.", "tune.", "page.", "spacing.", "music.", "text.", "grid."}
)

// readAt are the attributes that are read, by the elements where they are.
var readAt = map[string]map[string]bool{
	"accid":      set("note accid keySig keyAccid"),
	"accidlower": set("trill mordent turn ornam"), "accidupper": set("trill mordent turn ornam"),
	"artic": set("note chord artic"), "attach": set("graceGrp"),
	"beam": set("note chord rest"), "tuplet": set("note chord rest"), "beams": set("fTrem bTrem"), "unitdur": set("bTrem fTrem"),
	"clef.dis": set("scoreDef staffDef"), "clef.dis.place": set("scoreDef staffDef"), "clef.line": set("scoreDef staffDef"),
	"clef.shape": set("scoreDef staffDef"), "con": set("syl"), "wordpos": set("syl"),
	"count": set("meterSig"), "unit": set("meterSig"), "sym": set("meterSig"), "cue": set("layer note chord"),
	"delayed": set("turn"), "dir": set("pedal"), "dis": set("clef octave"), "dis.place": set("clef octave"),
	"dots": set("note chord rest"), "dur": set("note chord rest space"), "dur.default": set("scoreDef staffDef"),
	"octave.default": set("scoreDef staffDef"), "enclose": set("note chord accid artic fermata trill mordent turn ornam arpeg"),
	"extender": set("trill dir dynam tempo"), "fermata": set("note chord rest mRest"),
	"form": set("mordent turn fermata hairpin pedal barLine fingGrp meterSig"), "gliss": set("note chord"),
	"glyph.num": set("symbol"), "glyph.name": set("symbol"), "grace": set("note chord graceGrp"),
	"head.shape": set("note"), "head.visible": set("note"),
	"key.sig": set("scoreDef staffDef"), "key.sig.show": set("scoreDef staffDef"), "keysig": set("scoreDef staffDef"),
	"keysig.visible": set("scoreDef staffDef"), "left": set("measure"), "right": set("measure"),
	"line": set("clef"), "shape": set("clef fermata"), "lines": set("staffDef"), "long": set("mordent"), "lv": set("note chord"),
	"meter.count": set("scoreDef staffDef"), "meter.form": set("scoreDef staffDef"), "meter.sym": set("scoreDef staffDef"),
	"meter.unit": set("scoreDef staffDef"), "meter.visible": set("scoreDef staffDef"), "niente": set("hairpin"),
	"num": set("note rest tuplet multiRest mRpt multiRpt"), "numbase": set("note rest tuplet"),
	"num.format": set("tuplet"), "num.visible": set("tuplet"), "oct": set("note"), "pname": set("note keyAccid"),
	"ornam": set("note chord"), "place": nil, "sig": set("keySig"), "sig.mixed": set("keySig"), "slur": set("note chord"),
	"tie": set("note chord"), "stem.dir": set("note chord"), "stem.mod": set("note chord"), "stem.visible": set("note chord"),
	"syl": set("note chord"), "trans.semi": set("scoreDef staffDef"),
	"visible": set("staffDef staff layer note chord rest clef keySig meterSig"),
}

// readValues are the values that are read of attributes of which others are not.
var readValues = map[string]map[string]map[string]bool{
	"lform": {
		"slur": set("solid dashed dotted"), "phrase": set("solid dashed dotted"), "tie": set("solid dashed dotted"), "gliss": set("solid dashed dotted"),
		"hairpin": set("solid dashed dotted"), "bracketSpan": set("solid dashed dotted"), "line": set("solid dashed dotted"),
	},
	"lendsym": {"ending": set("none")}, "head.mod": {"note": set("paren")}, "head.fill": {"note": set("solid void")},
	"order": {"arpeg": set("up down nonarp")}, "rend": {"rend": set("box circle")}, "con": {"syl": set("d u")},
	"dir": {"pedal": set("down up bounce")}, "meter.form": {"scoreDef": set("norm num invis"), "staffDef": set("norm num invis"), "meterSig": set("norm num invis")},
	"enclose": {
		"note": set("paren brack"), "chord": set("paren brack"), "accid": set("paren brack"), "arpeg": set("paren brack"),
		"artic": set("paren brack box"), "fermata": set("paren brack box"), "trill": set("paren brack box"),
		"mordent": set("paren brack box"), "turn": set("paren brack box"), "ornam": set("paren brack box"),
	},
}

// readWith are attributes that are read only beside another of the same element.
var readWith = map[string][]string{
	"keysig.visible": {"keysig", "key.sig"}, "key.sig.show": {"keysig", "key.sig"}, "meter.visible": {"meter.count", "meter.sym"},
	"meter.form": {"meter.count", "meter.sym"}, "meter.unit": {"meter.count", "meter.sym"}, "clef.line": {"clef.shape"},
	"clef.dis": {"clef.shape"}, "clef.dis.place": {"clef.dis"}, "dis.place": {"dis"}, "numbase": {"num"},
	"extender": {"tstamp2", "endid"},
}

// knownIn are the elements that are read, or hold others together, or stand for what reports name as not compared.
var knownIn = set(`mdiv score parts part section ending expansion measure staff layer scoreDef staffDef layerDef staffGrp label labelAbbr grpSym
	instrDef instrGrp note chord rest space mRest mSpace multiRest beam tuplet graceGrp bTrem fTrem clef keySig keyAccid meterSig meterSigGrp
	barLine accid artic dot verse syl mRpt mRpt2 multiRpt halfmRpt beatRpt ossia fing fingGrp tie slur phrase lv fermata breath
	caesura trill mordent turn ornam arpeg gliss dynam dir attacca stageDir anchoredText tempo reh repeatMark harm fb f pedal
	octave hairpin bracketSpan line pb sb cb lb mNum annot`)

// inWords are the elements whose children are running text.
var inWords = set("dynam dir attacca stageDir anchoredText tempo reh repeatMark harm f syl fing mNum label labelAbbr ornam trill gliss")

func set(words string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(words) {
		out[w] = true
	}
	return out
}

// further gathers what stands in the music and is not read, and where.
type further struct {
	*reader
	events map[xmltree.Span]*event
	starts map[xmltree.Span]int // measures by their elements
	out    []score.Item
	next   int // the measure that comes next
}

// mostFurther bounds what is kept of it.
const mostFurther = 20_000

// furtherOf adds to the items of a score what its document has besides what is read.
func (r *reader) furtherOf(s *score.Score) {
	b := &further{reader: r, events: map[xmltree.Span]*event{}, starts: map[xmltree.Span]int{}}
	for i, m := range r.measures {
		if _, known := b.starts[m.at.Span]; !known {
			b.starts[m.at.Span] = i
		}
		for _, l := range m.layers {
			for _, ev := range l.events {
				for _, n := range append([]*event{ev}, ev.chord...) {
					for _, e := range []*xmltree.Element{n.at, n.on} {
						if e != nil && b.events[e.Span] == nil {
							b.events[e.Span] = n
						}
					}
				}
			}
		}
	}
	odd := len(r.odd)
	b.below(r.find("music", "body"), moment{staff: r.numbers()[0]}, nil)
	r.odd = r.odd[:odd] // what is odd was said when it was read
	s.Items = append(s.Items, b.out...)
}

// below looks at the children of an element that stands at a moment, in the measure in (nil for none yet).
func (b *further) below(parent *xmltree.Element, at moment, in *measure) {
	firstHead := map[string]bool{}
	b.notOfTheText(parent, at, in)
	for c := range b.content(parent) {
		here, within := at, in
		if k, is := b.starts[c.Span]; is && c.Name == "measure" {
			within, here, b.next = b.measures[k], moment{measure: k, staff: b.numbers()[0]}, k+1
		} else if within == nil {
			here.measure = min(b.next, len(b.measures)-1)
		}
		if c.Name == "staff" || c.Name == "staffDef" {
			if n := atoi(c.Attribute("n")); b.staves[n] != nil {
				here.staff = n
			}
		}
		if ev := b.events[c.Span]; ev != nil {
			here = moment{ev.measure, ev.onset, ev.staff, ev}
		} else if within != nil && here.event == nil {
			here = b.inTime(c, here, within)
		}
		switch {
		case c.Name == "pgHead" || c.Name == "pgFoot" || c.Name == "pgHead2" || c.Name == "pgFoot2":
			if !firstHead[c.Name] && len(c.Name) == len("pgHead") { // of each the first is read
				firstHead[c.Name] = true
				continue
			}
			b.whole(c, here, within)
		case !knownIn[c.Name]:
			b.whole(c, here, within)
		case c.Name == "annot" || c.Name == "instrDef":
		case c.Name == "anchoredText" && c.Attribute("startid") == "": // of words without a note nobody knows where they stand
			b.whole(c, here, within)
		case (c.Name == "rest" || c.Name == "mRest") && parent.Name == "oLayer":
		default:
			b.attributes(c, b.inside(c, here), within)
			if inWords[c.Name] {
				b.letters(c, c, here)
			} else {
				b.below(c, here, within)
			}
		}
	}
}

// notOfTheText are the elements that content leaves out and that a reader of the page sees all the same: marks that stand for
// music, and marks of the writer's. A gap is what does not stand there.
func (b *further) notOfTheText(parent *xmltree.Element, at moment, in *measure) {
	for c := parent.First; c != nil; c = c.Next {
		if c.Name == "cpMark" || c.Name == "metaMark" {
			here := at
			if in != nil {
				here = b.inTime(c, at, in)
			}
			b.whole(c, here, in)
		}
	}
}

// inTime is the moment of a sign beside the notes, and of what stands in a layer and groups notes that of its first.
func (b *further) inTime(e *xmltree.Element, at moment, in *measure) moment {
	if e.Attribute("startid")+e.Attribute("tstamp")+e.Attribute("plist") != "" {
		if where, ok := b.moment(in, e, "startid", "tstamp"); ok {
			return where
		}
	}
	if n := b.staffOf(e); n > 0 {
		at.staff = n
	}
	return at
}

// inside is where the first note in an element stands that groups notes.
func (b *further) inside(e *xmltree.Element, at moment) moment {
	if at.event != nil {
		return at
	}
	switch e.Name {
	case "beam", "tuplet", "graceGrp", "bTrem", "fTrem":
		for c := range b.content(e) {
			if ev := b.events[c.Span]; ev != nil {
				return moment{ev.measure, ev.onset, ev.staff, ev}
			}
			if found := b.inside(c, at); found.event != nil {
				return found
			}
		}
	}
	return at
}

// attributes keeps those of an element that are not read.
func (b *further) attributes(e *xmltree.Element, at moment, in *measure) {
	if said := unreadOf(e); len(said) > 0 {
		b.keep(e, b.nameOf(e)+": "+strings.Join(said, ", "), at, in)
	}
}

// nameOf names an element, with its words where it is known by them.
func (b *further) nameOf(e *xmltree.Element) string {
	switch e.Name {
	case "dynam", "dir", "tempo", "fing", "syl", "reh", "harm":
		if text := b.textOf(e); text != "" {
			return e.Name + " " + shortened(text)
		}
	}
	return e.Name
}

// unreadOf are the attributes of an element that are seen on the page, or may be, and are not read, in the order of their names.
func unreadOf(e *xmltree.Element) (out []string) {
	for _, a := range e.Attributes {
		name := a.Name.Local
		if a.Name.Space != "" || a.Value == "" || passedOver(e.Name, name, strings.TrimSpace(a.Value)) && !lacksPartner(e, name) {
			continue
		}
		out = append(out, name+" "+shortened(a.Value))
	}
	slices.Sort(out)
	return out
}

// lacksPartner says that an attribute is read only beside others, of which an element has none.
func lacksPartner(e *xmltree.Element, name string) bool {
	with := readWith[name]
	return len(with) > 0 && readAt[name][e.Name] && either(e, with...) == "" && usualValues[name] != e.Attribute(name)
}

// usualValues say what holds without them.
var usualValues = map[string]string{
	"visible": "true", "lines.visible": "true", "cue": "false", "enclose": "none", "stem.visible": "true",
	"head.visible": "true", "extender": "false", "keysig.visible": "true", "meter.visible": "true",
}

// passedOver says that an attribute is read at its element, or puts nothing on the page that is compared.
func passedOver(element, name, value string) bool {
	if usualValues[name] == value && value != "" {
		return true
	}
	if values, some := readValues[name]; some {
		if of, here := values[element]; here {
			return of[value]
		}
		return false
	}
	if at, read := readAt[name]; read {
		if name == "place" { // of a sign beside the notes a side is looked at or named, of these it makes another sign
			return element != "beam" && element != "barLine"
		}
		if at[element] {
			return true
		}
	}
	if unseenOf[name] {
		return !(name == "beam" || name == "tuplet")
	}
	if seenAll[name] {
		return false
	}
	for _, end := range unseenEnds {
		if strings.HasSuffix(name, end) {
			return true
		}
	}
	for _, begin := range unseenBegins {
		if strings.HasPrefix(name, begin) {
			return true
		}
	}
	return false
}

// letters looks at how the words of an element are set: what styleOf reads, and parentheses of digits, are known.
func (b *further) letters(of, e *xmltree.Element, at moment) {
	for c := range b.content(e) {
		said := unreadOf(c)
		switch {
		case c.Name == "rend":
			v := c.Attribute("rend")
			framed := v == "box" || v == "circle"
			switch {
			case v == "":
			case of.Name == "fing" && (v == "paren" || v == "brack"):
				said = slices.DeleteFunc(said, func(s string) bool { return s == "rend "+v })
			case framed && (of.Name == "fing" || of.Name == "dynam" || of.Name == "reh" || of.Name == "syl"):
				said = append(said, "rend "+v) // read of words alone
			}
		case c.Name == "symbol":
		default: // names, dates, links: what the words are about
			said = nil
		}
		if len(said) > 0 {
			b.keep(c, fmt.Sprintf("%s: %s", b.nameOf(of), strings.Join(said, ", ")), at, nil)
		}
		b.letters(of, c, at)
	}
}

// whole keeps an element that is not read, with all that is in it.
func (b *further) whole(e *xmltree.Element, at moment, in *measure) {
	var all strings.Builder
	notes := 0
	var gather func(e *xmltree.Element)
	gather = func(e *xmltree.Element) {
		fmt.Fprintf(&all, "<%s", e.Name)
		if e.Name == "note" {
			notes++
		}
		for _, a := range e.Attributes {
			if n := a.Name.Local; a.Name.Space == "" && (readAt[n] != nil || n == "place" || !passedOver(e.Name, n, a.Value)) {
				fmt.Fprintf(&all, " %s=%q", n, a.Value)
			}
		}
		all.WriteString(">" + plain(e.Text))
		for c := range b.content(e) {
			gather(c)
		}
		all.WriteString("</>")
	}
	gather(e)
	words := e.Name
	if text := b.textOf(e); text != "" {
		words += " " + shortened(text)
	}
	if notes > 0 {
		words += fmt.Sprintf(" (notes: %d)", notes)
	}
	// What is in it is not described: two that are unlike have other sums.
	if e.First != nil || len(unreadOf(e)) > 0 || utf8.RuneCountInString(e.Text) > longestShown {
		words += fmt.Sprintf(" (fingerprint %08x)", crc32.ChecksumIEEE([]byte(all.String())))
	}
	b.keep(e, words, at, in)
}

// keep keeps one of them.
func (b *further) keep(e *xmltree.Element, reading string, at moment, in *measure) {
	if len(b.out) >= mostFurther {
		return
	}
	s := b.staves[at.staff]
	if s == nil || at.measure < 0 || at.measure >= len(b.measures) {
		return
	}
	i := score.Item{
		Kind: score.ItemFurther, Reading: reading, Part: s.part, Measure: at.measure, Onset: at.onset, Staff: s.local, Note: -1,
		Line: b.doc.Place(int(e.Span.Start)).Line,
	}
	if in != nil && e.Attribute("endid")+e.Attribute("tstamp2") != "" && !knownIn[e.Name] {
		if to, ended := b.end(in, e, at); ended {
			i.End = &score.Moment{Measure: to.measure, Onset: to.onset}
		}
	}
	b.out = append(b.out, i)
}

// longestShown is how much of a text is shown.
const longestShown = 30

func shortened(s string) string {
	s = plain(s)
	if utf8.RuneCountInString(s) > longestShown {
		return string([]rune(s)[:longestShown]) + "…"
	}
	return s
}
