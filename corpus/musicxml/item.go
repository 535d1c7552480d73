package musicxml

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// Items are read beside the music: everything that stands on the page and is
// no key and no length, in the words in which it is compared. Elements.go says
// of every element of the schema what becomes of it.

// add keeps an item and gives its index.
func (r *reader) add(i score.Item) int {
	r.score.Items = append(r.score.Items, i)
	return len(r.score.Items) - 1
}

// here is an item at the place that is being read.
func (p *partReader) here(kind score.ItemKind, reading string, line int) score.Item {
	return score.Item{Kind: kind, Reading: reading, Part: p.part, Measure: p.measure, Onset: p.at, Note: -1, Line: line}
}

// lineEnd is where a line begins or ends: a hairpin, a pedal, dashes. Files
// write them staff by staff, so that an end may stand before its beginning;
// they are joined in the order of time when the whole part is read.
type lineEnd struct {
	key   lineKey
	begin int        // index of the item that begins, -1 for an end
	end   score.Item // of an end
	size  int        // of an octave line, as this sign of it says; 0 where it does not
	names string     // of an ending, the number that its end has; empty where it does not say
}

// lineKey says which ends belong together.
type lineKey struct {
	part   int
	kind   score.ItemKind
	number string
}

// openLine keeps an item that has an extent.
func (p *partReader) openLine(number string, i score.Item) {
	p.lines = append(p.lines, lineEnd{key: lineKey{p.part, i.Kind, number}, begin: p.add(i)})
}

// closeLine keeps the end of a line.
func (p *partReader) closeLine(number string, i score.Item) {
	p.lines = append(p.lines, lineEnd{key: lineKey{p.part, i.Kind, number}, begin: -1, end: i})
}

// joinLines gives lines their ends. An end without a beginning is an item of its own.
func (r *reader) joinLines() {
	at := func(l *lineEnd) score.Fraction {
		i := &l.end
		if l.begin >= 0 {
			i = &r.score.Items[l.begin]
		}
		return r.score.Measures[i.Measure].Start.Add(i.Onset)
	}
	slices.SortStableFunc(r.lines, func(a, b lineEnd) int {
		return cmp.Or(at(&a).Cmp(at(&b)), cmp.Compare(min(a.begin, 0), min(b.begin, 0))) // ends first
	})
	r.linesByStaff(at)
	open, ended, crossed := map[lineKey]int{}, map[int]bool{}, map[lineKey]crossing{}
	twins, twinOf := r.pedalTwins(at), map[int][]int{} // by the item that begins: those on other staves
	for k := range r.lines {
		l := &r.lines[k]
		if twins[k] && l.begin < 0 {
			continue
		}
		if l.begin >= 0 {
			if twins[k] {
				twinOf[open[l.key]] = append(twinOf[open[l.key]], l.begin)
				continue
			}
			if !ended[l.begin] {
				crossed[l.key] = crossing{earlier: -1}
				if before, is := open[l.key]; is && l.key.kind == score.ItemHairpin {
					crossed[l.key] = crossing{before, l.begin}
				}
				open[l.key] = l.begin
			}
			continue
		}
		from, known := open[l.key]
		for j := k + 1; !known && j < len(r.lines) && at(&r.lines[j]) == at(l); j++ { // one without extent
			b := r.lines[j].begin // in the same measure: what begins with the next is another one
			if known = r.lines[j].key == l.key && b >= 0 && r.score.Items[b].Measure == l.end.Measure; known {
				from, ended[r.lines[j].begin] = r.lines[j].begin, true
			}
		}
		if !known && l.key.kind == score.ItemEnding {
			if !r.hiddenEndings { // else of one that is not shown
				r.odd(score.OddEnding, -1, l.end.Part, l.end.Measure, l.end.Line, "the bracket of an ending is closed here and was not opened")
			}
			continue
		}
		if c, is := crossed[l.key]; !known && is && c.earlier >= 0 { // the first of two that overlap ends first
			from, known = c.later, true
			r.score.Items[c.earlier].End = r.score.Items[c.later].End
			crossed[l.key] = crossing{earlier: -1}
		}
		if !known {
			l.end.Note, l.end.Reading = -1, strings.TrimSuffix(l.end.Reading, notShown)
			r.add(l.end)
			continue
		}
		i := &r.score.Items[from]
		if sizeOf := map[string]int{"8va": 8, "8vb": 8, "15ma": 15, "15mb": 15, "22ma": 22, "22mb": 22}[i.Reading]; l.size > 0 && sizeOf > 0 && l.size != sizeOf {
			r.odd(score.OddLine, -1, i.Part, i.Measure, i.Line, "an octave line begins as %s and ends as one of %d", i.Reading, l.size)
		}
		if l.names != "" && i.Kind == score.ItemEnding && l.names != i.Reading && !strings.HasPrefix(i.Reading, l.names+" (") {
			r.odd(score.OddEnding, -1, l.end.Part, l.end.Measure, l.end.Line, "the bracket of %s is closed here as that of %s", i.Reading, l.names)
		}
		i.End = &score.Moment{Measure: l.end.Measure, Onset: l.end.Onset}
		for _, twin := range twinOf[from] {
			r.score.Items[twin].End = i.End
		}
		switch {
		case l.end.Reading == leftOpen:
			i.Reading += ", left open"
		case l.key.kind == score.ItemPedal:
			i.Reading = pedalTo(i.Reading, l.end.Reading)
			for _, twin := range twinOf[from] {
				r.score.Items[twin].Reading = pedalTo(r.score.Items[twin].Reading, l.end.Reading)
			}
		}
		delete(open, l.key)
	}
}

// linesByStaff keeps the octave lines, and the hairpins, of staves that have one number apart: those that begin and end on their own staff, the one
// after the other, and in whose time nothing of their number on another staff lacks its end. Lines are in the order of time.
func (r *reader) linesByStaff(at func(*lineEnd) score.Fraction) {
	staffOf := func(l *lineEnd) int {
		if l.begin >= 0 {
			return r.score.Items[l.begin].Staff
		}
		return l.end.Staff
	}
	type line struct {
		key   lineKey
		staff int
	}
	of := map[line][]int{}
	for k := range r.lines {
		if l := &r.lines[k]; l.key.kind == score.ItemOctaveLine || l.key.kind == score.ItemHairpin {
			of[line{l.key, staffOf(l)}] = append(of[line{l.key, staffOf(l)}], k)
		}
	}
	endOf, alone := map[int]int{}, map[lineKey][]int{}
	for l, row := range of {
		begins := func(i int) bool { return i < len(row) && r.lines[row[i]].begin >= 0 }
		for i := 0; i < len(row); i++ {
			if begins(i) && i+1 < len(row) && !begins(i+1) && (i == 0 || !begins(i-1)) && (i+2 >= len(row) || begins(i+2)) {
				endOf[row[i]] = row[i+1]
				i++
				continue
			}
			alone[l.key] = append(alone[l.key], row[i])
		}
	}
	for k := range r.lines {
		end, is := endOf[k]
		if !is {
			continue
		}
		key, staff := r.lines[k].key, staffOf(&r.lines[k])
		if slices.ContainsFunc(alone[key], func(j int) bool {
			return staffOf(&r.lines[j]) != staff && !at(&r.lines[j]).Less(at(&r.lines[k])) && !at(&r.lines[end]).Less(at(&r.lines[j]))
		}) {
			continue
		}
		number := key.number + fmt.Sprint(" of staff ", staff)
		r.lines[k].key.number, r.lines[end].key.number = number, number
	}
}

// pedalTwins are the ends of pedals that stand on two staves at the same moment: one pedal, written twice. The first of
// them counts. Lines are in the order of time.
func (r *reader) pedalTwins(at func(*lineEnd) score.Fraction) map[int]bool {
	type sign struct {
		key    lineKey
		begins bool
	}
	staff := func(l *lineEnd) int {
		if l.begin >= 0 {
			return r.score.Items[l.begin].Staff
		}
		return l.end.Staff
	}
	twins, seen := map[int]bool{}, map[sign]int{}
	for k := range r.lines {
		l := &r.lines[k]
		if l.key.kind != score.ItemPedal {
			continue
		}
		s := sign{l.key, l.begin >= 0}
		if j, is := seen[s]; is && at(&r.lines[j]) == at(l) && staff(&r.lines[j]) != staff(l) {
			twins[k] = true
			continue
		}
		seen[s] = k
	}
	return twins
}

// crossing is two hairpins of one number of which the later one begins before the earlier one has ended.
type crossing struct{ earlier, later int }

// leftOpen is the reading of the end of an ending that has no bracket there.
const leftOpen = "left open"

// Readings of the end of a line, and of what is not printed.
const (
	endOfLine = "end of a line"
	notShown  = ", not shown"
)

// pedalTo is the reading of a pedal with what is seen of its end: a sign may be printed where it goes down, and none where it
// comes up.
func pedalTo(pedal, end string) string {
	begins, unseen := strings.CutSuffix(pedal, notShown)
	switch ends := !strings.HasSuffix(end, notShown); {
	case unseen && ends:
		return begins + ", its beginning not shown"
	case !unseen && !ends:
		return pedal + ", its end not shown"
	}
	return pedal
}

// sideOf is the side of the staff that an element names.
func sideOf(e *xmltree.Element) score.Placement {
	switch e.Attribute("placement") {
	case "above":
		return score.Above
	case "below":
		return score.Below
	}
	return score.PlacementUnset
}

// lookOf gives the letters in which an element is set, as far as it says.
func lookOf(e *xmltree.Element) string {
	var out []string
	for _, name := range [...]string{"font-style", "font-weight", "enclosure", "font-size", "color"} {
		if v := e.Attribute(name); v != "" && v != "normal" && v != "none" {
			out = append(out, v)
		}
	}
	for _, line := range [...][2]string{{"line-through", "struck through"}, {"underline", "underlined"}, {"overline", "overlined"}} {
		if atoi(e.Attribute(line[0])) > 0 {
			out = append(out, line[1])
		}
	}
	return strings.Join(out, ", ")
}

// spaced writes the name of an element or value as words.
func spaced(name string) string { return strings.ReplaceAll(name, "-", " ") }

// describe writes an element that has no words of its own: its name, and every
// text and value in it that can be seen.
func describe(e *xmltree.Element) string {
	out := spaced(e.Name)
	if inner := content(e); inner != "" {
		out += " " + inner
	}
	return out
}

// content writes the texts of an element and of all in it; a child without a
// text gives its name.
func content(e *xmltree.Element) string {
	var out []string
	if t := plain(e.Text); t != "" {
		out = append(out, t)
	}
	for _, name := range [...]string{"type", "shape", "source", "use", "text", "bracket-degrees", "unplayed"} {
		if v := e.Attribute(name); v != "" {
			out = append(out, v)
		}
	}
	for c := e.First; c != nil; c = c.Next {
		if inner := content(c); inner != "" {
			out = append(out, inner)
		} else {
			out = append(out, spaced(c.Name))
		}
	}
	return strings.Join(out, " ")
}

// hidden reports that an element is not printed.
func hidden(e *xmltree.Element) bool { return e.Attribute("print-object") == "no" }
