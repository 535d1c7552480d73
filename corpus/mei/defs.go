package mei

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// part is what one player plays: a staff of its own, or the staves under one brace.
type part struct {
	id, name, instrument string
	at                   *xmltree.Element
	group                int // parts under one brace share a number > 0
	staves               []int
}

// staff is a staff of the document with its place in a part.
type staff struct {
	part  int // index in reader.parts
	local int // 1… in it
}

// definition is what is in force on a staff.
type definition struct {
	at          *xmltree.Element
	key         string // "4f", "0", "mixed …"
	keyHidden   bool
	metre       metre
	metres      []metre          // where they alternate: one a measure, in turn
	clef        *xmltree.Element // of <clef> or with clef.* attributes; nil where nothing is said
	lines       string
	scale       string
	small       bool // an ossia, or cue sized
	ppq         int64
	dur, octave string // what notes have that say nothing
	transpose   int
	hidden      bool // the staff is not shown
}

// metre is a time signature.
type metre struct {
	count, unit, sym string
	hidden           bool
	single           bool // only the number of its beats is shown
}

// length of a measure, 0 where it is not known.
func (m metre) length() score.Fraction {
	sum := int64(0)
	for _, w := range strings.FieldsFunc(m.count, func(c rune) bool { return c < '0' || c > '9' }) {
		sum += int64(min(atoi(w), 1024))
	}
	unit := int64(atoi(m.unit))
	if sum <= 0 || unit <= 0 || unit > 1024 {
		return score.Fraction{}
	}
	return score.Frac(4*sum, unit)
}

// beat is the length of what @tstamp counts: the unit of the metre, a quarter where there is none.
func (m metre) beat() score.Fraction {
	if unit := int64(atoi(m.unit)); unit > 0 && unit <= 1024 {
		return score.Frac(4, unit)
	}
	return score.Whole(1)
}

// mostStaves bounds the staves of a part, as staves of a part in MusicXML are.
const mostStaves = 16

// define takes up a scoreDef or a staffDef.
func (r *reader) define(e *xmltree.Element) error {
	for c := range r.content(e) {
		switch c.Name {
		case "staffGrp":
			if err := r.group(c, 0); err != nil {
				return err
			}
		case "staffDef":
			if err := r.staffDef(c, 0); err != nil {
				return err
			}
		}
	}
	if e.Name == "staffDef" {
		return r.staffDef(e, 0)
	}
	for _, n := range r.numbers() {
		r.fill(r.defs[n], e, true)
	}
	for c := range r.content(e) { // what a staff says of itself comes before what the score says
		if c.Name == "staffGrp" {
			r.own(c)
		}
	}
	return nil
}

// own lets the staves of a group say again what they say of themselves.
func (r *reader) own(e *xmltree.Element) {
	for c := range r.content(e) {
		switch c.Name {
		case "staffGrp":
			r.own(c)
		case "staffDef":
			if d := r.defs[atoi(c.Attribute("n"))]; d != nil {
				r.fill(d, c, false)
			}
		}
	}
}

// numbers are those of the staves, in order.
func (r *reader) numbers() []int {
	var out []int
	for i := range r.parts {
		out = append(out, r.parts[i].staves...)
	}
	return out
}

// group reads a group of staves. Staves under one brace, with one instrument, or two or three with one name, are a part,
// unless they have names or instruments of their own.
func (r *reader) group(e *xmltree.Element, brace int) error {
	symbol := e.Attribute("symbol")
	if g := e.Child("grpSym"); g != nil && symbol == "" {
		symbol = g.Attribute("symbol")
	}
	var staves []*xmltree.Element
	separate := symbol != "brace" && e.Child("instrDef") == nil && r.label(e) == ""
	for c := range r.content(e) {
		switch c.Name {
		case "staffGrp":
			separate = true
		case "staffDef":
			staves = append(staves, c)
			separate = separate || c.Child("instrDef") != nil || r.label(c) != "" && len(staves) > 0
		}
	}
	const mostOfOneName = 3
	separate = separate || symbol != "brace" && e.Child("instrDef") == nil && len(staves) > mostOfOneName
	if len(staves) > mostStaves {
		return r.fault(e, fmt.Sprintf("more than %d staves stand under one brace", mostStaves), "")
	}
	if symbol == "brace" {
		r.layout.braces++
		brace = r.layout.braces
	}
	if !separate {
		return r.together(e, staves)
	}
	for c := range r.content(e) {
		var err error
		switch c.Name {
		case "staffGrp":
			err = r.group(c, brace)
		case "staffDef":
			err = r.staffDef(c, brace)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// together makes one part of the staves of a group.
func (r *reader) together(e *xmltree.Element, staves []*xmltree.Element) error {
	known := len(staves) > 0 && r.staves[atoi(staves[0].Attribute("n"))] != nil
	if !known && len(staves) > 0 {
		r.parts = append(r.parts, &part{id: idOf(e), name: r.label(e), instrument: r.instrument(e), at: e})
	}
	for _, c := range staves {
		n, err := r.staffNumber(c)
		if err != nil {
			return err
		}
		if r.staves[n] == nil {
			r.addStaff(n, len(r.parts)-1, c)
		}
		r.fill(r.defs[n], c, false)
	}
	return nil
}

func (r *reader) addStaff(n, in int, at *xmltree.Element) {
	p := r.parts[in]
	p.staves = append(p.staves, n)
	r.staves[n] = &staff{part: in, local: len(p.staves)}
	r.defs[n] = &definition{at: at}
}

// staffNumber reads the number of a staff.
func (r *reader) staffNumber(e *xmltree.Element) (int, error) {
	n := atoi(e.Attribute("n"))
	if n <= 0 {
		return 0, r.fault(e, fmt.Sprintf("the number %.40q of a staff cannot be read", e.Attribute("n")), "staves are told apart by @n")
	}
	return n, nil
}

// staffDef reads a staff that is a part of its own, or changes one that is known.
func (r *reader) staffDef(e *xmltree.Element, brace int) error {
	n, err := r.staffNumber(e)
	if err != nil {
		return err
	}
	if r.staves[n] == nil {
		r.parts = append(r.parts, &part{id: idOf(e), name: r.label(e), instrument: r.instrument(e), at: e, group: brace})
		r.addStaff(n, len(r.parts)-1, e)
	}
	r.fill(r.defs[n], e, false)
	return nil
}

// label is the name of a staff or group.
func (r *reader) label(e *xmltree.Element) string {
	if l := e.Child("label"); l != nil {
		return r.textOf(l)
	}
	return plain(e.Attribute("label"))
}

func (r *reader) instrument(e *xmltree.Element) string {
	d := e.Child("instrDef")
	if d == nil {
		return ""
	}
	name := plain(d.Attribute("label") + " " + strings.ReplaceAll(d.Attribute("midi.instrname"), "_", " "))
	if n, err := strconv.Atoi(d.Attribute("midi.instrnum")); err == nil && name == "" && n >= 0 {
		for _, f := range sounds {
			if n <= f.last {
				return f.name
			}
		}
	}
	return name
}

// sounds are the families of General MIDI's programs, counted from 0, as far as they tell keyboards from others.
var sounds = []struct {
	last int
	name string
}{
	{5, "Piano"}, {6, "Harpsichord"}, {7, "Clavinet"}, {8, "Celesta"}, {15, "Percussion"}, {20, "Organ"}, {23, "Accordion"},
	{31, "Guitar"}, {39, "Bass"}, {45, "Strings"}, {46, "Harp"}, {51, "Strings"}, {54, "Voice"}, {127, "Instrument"},
}

// either is the first of an element's attributes that is there.
func either(e *xmltree.Element, names ...string) string {
	for _, name := range names {
		if v := e.Attribute(name); v != "" {
			return v
		}
	}
	return ""
}

// fill takes what an element says of a staff; a scoreDef says it of all.
func (r *reader) fill(d *definition, e *xmltree.Element, all bool) {
	if v := either(e, "keysig", "key.sig"); v != "" {
		d.key, d.keyHidden = v, e.Attribute("keysig.visible") == "false" || e.Attribute("key.sig.show") == "false"
	}
	if count, sym := e.Attribute("meter.count"), e.Attribute("meter.sym"); count+sym != "" {
		d.metres = nil
		d.metre = fullMetre(metre{count: count, unit: e.Attribute("meter.unit"), sym: sym,
			hidden: e.Attribute("meter.visible") == "false" || e.Attribute("meter.form") == "invis", single: e.Attribute("meter.form") == "num"})
	}
	if e.Attribute("clef.shape") != "" {
		d.clef = e
	}
	for c := range r.content(e) {
		switch c.Name {
		case "keySig":
			d.key, d.keyHidden = r.keySig(c), c.Attribute("visible") == "false"
		case "meterSig":
			d.metre, d.metres = meterSig(c), nil
		case "meterSigGrp":
			r.metreGroup(d, c)
		case "clef":
			if !all || d.clef == nil {
				d.clef = c
			}
		}
	}
	for name, to := range map[string]*string{"lines": &d.lines, "scale": &d.scale, "dur.default": &d.dur, "octave.default": &d.octave} {
		if v := e.Attribute(name); v != "" { // each has a place of its own: any order will do
			*to = v
		}
	}
	if p := atoi(e.Attribute("ppq")); p > 0 {
		d.ppq = int64(p)
	}
	if t := e.Attribute("trans.semi"); t != "" {
		d.transpose = max(min(atoi(t), 60), -60)
	}
	if v := e.Attribute("visible"); v != "" && e.Name == "staffDef" {
		d.hidden = v == "false"
	}
	d.small = d.small || e.Attribute("type") == "ossia" || e.Attribute("type") == "cue"
}

// keySig reads a key signature: how many sharps or flats, or its own signs.
func (r *reader) keySig(e *xmltree.Element) string {
	if v := either(e, "sig", "accid"); v != "" && v != "mixed" {
		return v
	}
	out := "mixed"
	for c := range r.content(e) {
		if c.Name == "keyAccid" {
			out += " " + strings.ToUpper(c.Attribute("pname")) + " " + accidentalName(c.Attribute("accid"))
		}
	}
	if v := either(e, "sig.mixed"); v != "" {
		out += " " + v
	}
	if out == "mixed" {
		return "0"
	}
	return out
}

func meterSig(e *xmltree.Element) metre {
	return fullMetre(metre{count: e.Attribute("count"), unit: e.Attribute("unit"), sym: e.Attribute("sym"),
		hidden: e.Attribute("visible") == "false" || e.Attribute("form") == "invis", single: e.Attribute("form") == "num"})
}

// fullMetre says the numbers of a sign, and takes a metre that is open for none.
func fullMetre(m metre) metre {
	if m.count == "" {
		switch m.sym {
		case "common":
			m.count, m.unit = "4", "4"
		case "cut":
			m.count, m.unit = "2", "2"
		}
	}
	return m
}

// metreGroup reads metres that stand together: they add up, or take turns measure by measure; else the first is in force.
func (r *reader) metreGroup(d *definition, e *xmltree.Element) {
	var all []metre
	for c := range r.content(e) {
		if c.Name == "meterSig" {
			all = append(all, meterSig(c))
		}
	}
	if len(all) == 0 {
		return
	}
	d.metre, d.metres = all[0], nil
	switch e.Attribute("func") {
	case "mixed":
		d.metre = addedUp(all)
	case "alternating":
		d.metres = all
	}
}

// addedUp is the metre of several that are one after the other in each measure, in the smallest of their units: 2/4 and
// 3/8 are 4+3/8.
func addedUp(all []metre) metre {
	unit := 0
	for _, m := range all {
		unit = max(unit, atoi(m.unit))
	}
	out := all[0]
	var counts []string
	for _, m := range all {
		own := atoi(m.unit)
		if own <= 0 || unit%own != 0 {
			return all[0]
		}
		for _, word := range strings.Split(m.count, "+") {
			n := atoi(word)
			if n <= 0 || n > 1024 {
				return all[0]
			}
			counts = append(counts, strconv.Itoa(n*unit/own))
		}
	}
	out.count, out.unit, out.sym = strings.Join(counts, "+"), strconv.Itoa(unit), ""
	return out
}

// inTurn takes the next of the metres that alternate; what is printed once is not shown again.
func (d *definition) inTurn() {
	if len(d.metres) == 0 {
		return
	}
	d.metre = d.metres[0]
	next := d.metres[0]
	next.hidden = true
	d.metres = append(slices.Clone(d.metres[1:]), next)
}

// fifths reads "4f", "2s", "0".
func fifths(key string) (int, bool) {
	if key == "0" {
		return 0, true
	}
	if len(key) < 2 {
		return 0, false
	}
	n, err := strconv.Atoi(key[:len(key)-1])
	switch {
	case err != nil || n < 0 || n > 14:
		return 0, false
	case key[len(key)-1] == 's':
		return n, true
	case key[len(key)-1] == 'f':
		return -n, true
	}
	return 0, false
}
