package decision

import (
	"cmp"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/strictyaml"

	"gopkg.in/yaml.v3"
)

// The notes of a decision stand in lines of music, one a measure:
//
//	landmarks: -1:0f1e2d3c 0 3:99aabbcc
//	notes:
//	  - m. 12 1a2b3c4d: 0 C5=1+E5=3, 1/2 D5=2, (1 E5)
//
// The measure as printed, with "(index 11)" where its number does not say which one it is, and a fingerprint of its
// music; then strokes, each an onset in quarters from the barline, "grace 2" for a second grace note there, and keys with
// their digits. What stands in brackets is not decided: it helps to find the rest. Landmarks are measures that stand in
// the piece once only, counted from the first line; those that have a line of their own need no fingerprint.
//
// The older form, one note an entry with its context, is read as well.
var (
	lineForm   = regexp.MustCompile(`^m\. ("(?:[^"\\]|\\.)*"|\S+?)(?: \(index (\d{1,7})\))?(?: ([0-9a-f]{8}|[0-9a-f]{16})|(\*)([0-9a-f]{3})?)?$`)
	starForm   = regexp.MustCompile(`\*(?:[0-9a-f]{3})?$`)
	momentForm = regexp.MustCompile(`^(-?\d+(?:/\d+)?)(?: grace (\d{1,4}))? (\S.*)$`)
	keyForm    = regexp.MustCompile(`^([A-G](?:b{0,3}|#{0,3})-?\d)((?: \((?:staff|no\.|midi) \d{1,4}\)| \(stays\))*)(?:=([1-5](?:-[1-5])*))?$`)
	extraForm  = regexp.MustCompile(`\((staff|no\.|midi) (\d+)\)`)
	plainForm  = regexp.MustCompile(`^[\pL\d][\pL\d._-]*$`)
)

// strokeHint shows what a line of music holds.
const strokeHint = "strokes with commas between them, each an onset in quarters and keys with digits: 0 C5=1+E5=3, 1/2 D5=2"

// musicLine is a measure of a decision as it is read or written.
type musicLine struct {
	printed string
	index   int // -1: not given
	music   string
	tabled  bool // its music is that of the file's table
	by      int  // measures from the first line
	line    int  // in the file
	moments []moment
}

// moment is a key of a line.
type moment struct {
	ref    NoteRef
	beside bool // in brackets
}

// isLine says that an entry of `notes` is a line of music, and gives its key and text.
func isLine(n *yaml.Node) (key, text *yaml.Node, ok bool) {
	if n.Kind != yaml.MappingNode || len(n.Content) != 2 || !strings.HasPrefix(n.Content[0].Value, "m. ") {
		return nil, nil, false
	}
	return n.Content[0], n.Content[1], true
}

// musicLine reads one line.
func (r reader) musicLine(key, text *yaml.Node) (l musicLine, ok bool) {
	name := key.Value
	if starForm.MatchString(name) && !strings.HasPrefix(name, "m. ") {
		name = "m. " + name
	}
	m := lineForm.FindStringSubmatch(name)
	if m == nil {
		r.Fault(key, strictyaml.Quote(key.Value)+" names no measure",
			"the measure as printed, as in `m. 12`; what the program writes behind it can be left out")
		return l, false
	}
	l = musicLine{printed: m[1], index: -1, music: m[3], line: key.Line}
	if strings.HasPrefix(m[1], `"`) && json.Unmarshal([]byte(m[1]), &l.printed) != nil {
		r.Fault(key, strictyaml.Quote(key.Value)+" names no measure", "the measure as printed, as in `m. 12`")
		return l, false
	}
	if m[2] != "" {
		l.index, _ = strconv.Atoi(m[2])
	}
	if m[4] != "" {
		at, known := r.head.table.at(&l)
		if !known {
			r.Fault(key, strictyaml.Quote(key.Value)+" is not in the table of measures at the head of the file",
				"m. "+m[1]+" without the * for the measure as it is now")
			return l, false
		}
		if m[5] != "" && m[5] != r.head.check {
			r.Fault(key, "the decision was made below another head than the one of this file: its day and its music are not here",
				"put `when:` and `measures:` back as they were above it, as from before a merge; "+
					"decisions of two heads stand in one file only where those of one say their day and music themselves")
			return l, false
		}
		l.tabled, l.music = true, r.head.table.rows[at].music
	}
	s, ok := r.Text(text, "what stands in "+key.Value)
	if !ok {
		return l, false
	}
	for _, stroke := range strings.Split(s, ",") {
		stroke = strings.TrimSpace(stroke)
		if strings.Count(stroke, "(") != strings.Count(stroke, ")") {
			r.Fault(text, strictyaml.Quote(stroke)+" opens a bracket that it does not close, or closes one that is not open",
				"each stroke that is not decided has brackets of its own: (1 E5), (2 F5)")
			return l, false
		}
		inner, beside := strings.CutPrefix(stroke, "(")
		if beside {
			inner = strings.TrimSuffix(inner, ")")
		}
		strokes, problem := strokesOfRow(strings.Join(strings.Fields(inner), " "))
		for _, one := range strokes {
			if problem == "" {
				problem = l.addStroke(one, beside)
			}
		}
		if problem != "" {
			r.Fault(text, problem, strokeHint)
			return l, false
		}
	}
	return l, true
}

// addStroke reads a stroke of a line; it gives the fault, "" where there is none.
func (l *musicLine) addStroke(stroke string, beside bool) string {
	m := momentForm.FindStringSubmatch(stroke)
	if m == nil {
		return strictyaml.Quote(stroke) + " is no stroke"
	}
	onset, err := score.ParseFraction(m[1])
	if err != nil {
		return "an onset cannot be " + strictyaml.Quote(m[1])
	}
	grace, _ := strconv.Atoi(m[2])
	for _, word := range strings.Split(m[3], "+") {
		k := keyForm.FindStringSubmatch(word)
		if k == nil {
			if key, digit, given := strings.Cut(word, "="); given && pitchForm.MatchString(key) {
				return strictyaml.Quote(digit) + " is no finger: 1 to 5, or 5-4 for a change on the held key"
			}
			return strictyaml.Quote(word) + " is no key with its digit"
		}
		ref := NoteRef{
			Printed: l.printed, Index: l.index, Onset: onset, Grace: grace, Pitch: k[1],
			Midi: midiOf(pitchForm.FindStringSubmatch(k[1])), Line: l.line,
		}
		ref.Around.Printed, ref.Around.Music = l.printed, l.music
		for _, x := range extraForm.FindAllStringSubmatch(k[2], -1) {
			v, _ := strconv.Atoi(x[2])
			switch x[1] {
			case "staff":
				ref.Around.Staff = v
			case "no.":
				ref.Ordinal = max(v-1, 0)
			default:
				ref.Midi = v
			}
		}
		ref.Stays = strings.Contains(k[2], "(stays)")
		if ref.Midi < 0 || ref.Midi > 127 {
			return strictyaml.Quote(word) + " is no key of a keyboard"
		}
		if k[3] != "" {
			for _, f := range strings.Split(k[3], "-") {
				ref.Fingers = append(ref.Fingers, int(f[0]-'0'))
			}
		}
		if beside && len(ref.Fingers) > 0 {
			return "what stands in brackets is not decided, and " + strictyaml.Quote(word) + " has a digit"
		}
		l.moments = append(l.moments, moment{ref, beside})
	}
	return ""
}

// notesOf gives the notes of the lines of a decision, each with the landmarks and the notes that are near it.
func (r reader) notesOf(d *Decision, lines []musicLine, landmarks *yaml.Node) (out []NoteRef) {
	counted := countMeasures(lines)
	var marks []Landmark // counted from the first line
	if landmarks != nil {
		marks = r.landmarksOf(lines, landmarks, counted)
	} else if counted {
		marks = r.head.table.marks(lines)
		d.marks = marksOf(marks)
	}
	near := make([][]Near, len(lines)) // by line, counted from the first
	for i := range lines {
		for _, m := range lines[i].moments {
			near[i] = append(near[i], Near{
				By: lines[i].by, Onset: m.ref.Onset, Grace: m.ref.Grace, Midi: m.ref.Midi, Pitch: m.ref.Pitch,
			})
		}
	}
	for i := range lines {
		table, row := r.head.table.of(&lines[i], marks)
		if lines[i].tabled {
			table.learn(row, lines[i].moments)
		}
		for _, m := range lines[i].moments {
			if m.beside {
				continue
			}
			ref := m.ref
			ref.table, ref.row = table, row
			if counted {
				ref.Landmarks = nearestMarks(marks, lines[i].by)
				ref.Near = nearestNear(slices.Concat(near...), &ref, lines[i].by)
			} else {
				ref.Near = nearestNear(near[i], &ref, lines[i].by)
			}
			out = append(out, ref)
		}
	}
	return out
}

// countMeasures counts the lines' measures from the first: by their indices, or by their numbers; false where neither
// can be done.
func countMeasures(lines []musicLine) bool {
	byIndex, byNumber := true, true
	numbers := make([]int, len(lines))
	for i := range lines {
		byIndex = byIndex && lines[i].index >= 0
		var err error
		numbers[i], err = strconv.Atoi(lines[i].printed)
		byNumber = byNumber && err == nil
	}
	for i := range lines {
		switch {
		case byIndex:
			lines[i].by = lines[i].index - lines[0].index
		case byNumber:
			lines[i].by = numbers[i] - numbers[0]
		}
	}
	return byIndex || byNumber || len(lines) == 1
}

// landmarksOf reads the landmarks of a decision, counted from its first line.
func (r reader) landmarksOf(lines []musicLine, n *yaml.Node, counted bool) (out []Landmark) {
	s, ok := r.Text(n, "landmarks")
	if !ok {
		return nil
	}
	fault := func(word string) []Landmark {
		r.Fault(n, "landmarks cannot be "+strictyaml.Quote(word),
			"measures counted from the first line, and their fingerprint where they have no line, as the program writes "+
				"them; take the key out if in doubt")
		return nil
	}
	if !counted {
		return fault(s)
	}
	for _, word := range strings.Fields(s) {
		place, music, given := strings.Cut(word, ":")
		by, err := strconv.Atoi(place)
		if err != nil || by < -1<<20 || by > 1<<20 {
			return fault(word)
		}
		if !given {
			k := slices.IndexFunc(lines, func(l musicLine) bool { return l.by == by })
			if k < 0 || lines[k].music == "" {
				return fault(word)
			}
			music = lines[k].music[:landmarkDigits]
		} else if len(music) != landmarkDigits || strings.Trim(music, "0123456789abcdef") != "" {
			return fault(word)
		}
		out = append(out, Landmark{by, music})
	}
	slices.SortStableFunc(out, func(a, b Landmark) int { return cmp.Compare(a.By, b.By) })
	return out
}

// nearestMarks gives the landmarks that a note keeps, as many on either side of its measure, counted from there.
func nearestMarks(marks []Landmark, by int) (out []Landmark) {
	for _, step := range []int{-1, 1} {
		var side []Landmark
		for _, m := range marks {
			if d := m.By - by; d*step > 0 {
				side = append(side, Landmark{d, m.Music})
			}
		}
		slices.SortStableFunc(side, func(a, b Landmark) int { return step * cmp.Compare(a.By, b.By) })
		out = append(out, side[:min(len(side), landmarksKept)]...)
	}
	slices.SortFunc(out, func(a, b Landmark) int { return a.By - b.By })
	return out
}

// nearestNear gives the notes that a note keeps of those near it, counted from its measure. Those of its own moment are
// kept as well.
func nearestNear(all []Near, ref *NoteRef, by int) (out []Near) {
	own := score.Address{Measure: by, Onset: ref.Onset, Grace: ref.Grace}
	var sides [3][]Near
	for _, k := range all {
		a := k.address(0)
		if a.Measure == by && a.Onset == ref.Onset && a.Grace == ref.Grace && a.Midi == ref.Midi ||
			a.Measure < by-nearReach || a.Measure > by+nearReach {
			continue
		}
		a.Midi = 0
		k.By -= by
		where := InTime(a, own) + 1
		sides[where] = append(sides[where], k)
	}
	for i := range sides {
		slices.SortStableFunc(sides[i], compareNear)
	}
	before := sides[0]
	out = append(out, before[max(len(before)-nearKept, 0):]...)
	out = append(out, sides[1]...)
	return append(out, sides[2][:min(len(sides[2]), nearKept)]...)
}

// inLines lays notes out in lines of music; ok is false where one of them cannot stand in a line.
func inLines(notes []NoteRef) (landmarks string, lines []string, ok bool) {
	if len(notes) == 0 {
		return "", nil, false
	}
	byIndex := map[int]*musicLine{}
	decided := map[score.Address]bool{}
	for i := range notes {
		ref := &notes[i]
		m := pitchForm.FindStringSubmatch(ref.Pitch)
		if ref.Index < 0 || m == nil || ref.Printed == "" || len(ref.Around.Music) < landmarkDigits {
			return "", nil, false
		}
		l := byIndex[ref.Index]
		if l == nil {
			l = &musicLine{printed: ref.Printed, index: ref.Index, music: ref.Around.Music[:landmarkDigits]}
			byIndex[ref.Index] = l
		}
		l.moments = append(l.moments, moment{ref: *ref})
		a := ref.Address()
		a.Ordinal = 0
		decided[a] = true
	}
	marks := map[int]string{} // by the index of their measure
	for _, l := range byIndex {
		for _, k := range l.moments[0].ref.Landmarks {
			marks[l.index+k.By] = k.Music
		}
	}
	for i := range notes {
		addNear(&notes[i], byIndex, decided)
	}
	var all []*musicLine
	for _, l := range byIndex {
		all = append(all, l)
	}
	slices.SortFunc(all, func(a, b *musicLine) int { return a.index - b.index })
	return writeMarks(marks, all), writeLines(all), true
}

// addNear lays notes near a note into its lines, in brackets, where too few of the decision are near it.
func addNear(ref *NoteRef, lines map[int]*musicLine, decided map[score.Address]bool) {
	own := ref.Address()
	own.Ordinal = 0
	var sides [3]int
	for a := range decided {
		if a.Measure >= own.Measure-nearReach && a.Measure <= own.Measure+nearReach {
			a.Midi = own.Midi
			sides[InTime(a, own)+1]++
		}
	}
	if sides[0]+sides[2] >= enoughNear {
		return
	}
	for _, k := range ref.Near {
		a := k.address(ref.Index)
		if !nearest(ref.Near, k) {
			continue
		}
		l := lines[a.Measure]
		if decided[a] || !pitchForm.MatchString(k.Pitch) || l == nil && k.printed == "" {
			continue
		}
		if l == nil {
			l = &musicLine{printed: k.printed, index: a.Measure}
			lines[a.Measure] = l
		}
		if !slices.ContainsFunc(l.moments, func(m moment) bool {
			o := m.ref.Address()
			o.Ordinal = 0
			return o == a
		}) {
			l.moments = append(l.moments, moment{NoteRef{
				Printed: l.printed, Index: a.Measure, Onset: a.Onset, Grace: a.Grace, Midi: a.Midi, Pitch: k.Pitch,
				manyNumber: k.manyNumber,
			}, true})
		}
	}
}

// nearest says that a note is one of the nearest of those before a note, or of those behind it.
func nearest(near []Near, k Near) bool {
	closer := 0
	for _, o := range near {
		if c := compareNear(o, k); o.before == k.before && (k.before && c > 0 || !k.before && c < 0) {
			closer++
		}
	}
	return closer < leastNear
}

// writeMarks writes landmarks, counted from the first line.
func writeMarks(marks map[int]string, lines []*musicLine) string {
	var places []int
	for index := range marks {
		places = append(places, index)
	}
	slices.Sort(places)
	var words []string
	for _, index := range places {
		word := strconv.Itoa(index - lines[0].index)
		if !slices.ContainsFunc(lines, func(l *musicLine) bool { return l.index == index && l.music == marks[index] }) {
			word += ":" + marks[index]
		}
		words = append(words, word)
	}
	return strings.Join(words, " ")
}

// writeLines writes measures as lines of music.
func writeLines(lines []*musicLine) (out []string) {
	indexed := false
	number := func(l *musicLine) (int, bool) {
		n, err := strconv.Atoi(l.printed)
		return n, err == nil && strconv.Itoa(n) == l.printed
	}
	base, _ := number(lines[0])
	for _, l := range lines {
		n, counts := number(l)
		indexed = indexed || l.moments[0].ref.manyNumber ||
			(len(lines) > 1 && (!counts || n-base != l.index-lines[0].index))
	}
	for _, l := range lines {
		key := "m. " + l.printed
		if !plainForm.MatchString(l.printed) {
			quoted, _ := json.Marshal(l.printed)
			key = "m. " + string(quoted)
		}
		if indexed {
			key += fmt.Sprintf(" (index %d)", l.index)
		}
		if l.music != "" {
			key += " " + l.music
		}
		if strings.ContainsAny(key, "\"") {
			whole, _ := json.Marshal(key)
			key = string(whole)
		}
		out = append(out, key+": "+l.text())
	}
	return out
}

// text writes the strokes of a line.
func (l *musicLine) text() string {
	slices.SortStableFunc(l.moments, func(a, b moment) int {
		return InTime(a.ref.Address(), b.ref.Address())
	})
	var b strings.Builder
	for i := range l.moments {
		m := &l.moments[i]
		joined := false
		if i > 0 {
			before := &l.moments[i-1]
			joined = before.beside == m.beside && before.ref.Onset == m.ref.Onset && before.ref.Grace == m.ref.Grace
			switch {
			case joined:
				b.WriteString("+")
			case before.beside:
				b.WriteString("), ")
			default:
				b.WriteString(", ")
			}
		}
		if !joined {
			if m.beside {
				b.WriteString("(")
			}
			b.WriteString(m.ref.Moment() + " ")
		}
		b.WriteString(m.ref.Key())
		if len(m.ref.Fingers) > 0 {
			b.WriteString("=" + Digits(m.ref.Fingers))
		}
	}
	if l.moments[len(l.moments)-1].beside {
		b.WriteString(")")
	}
	return b.String()
}

// Moment names a note's place in its measure as a line of music does: "3/2", "0 grace 1".
func (n *NoteRef) Moment() string {
	if n.Grace > 0 {
		return fmt.Sprintf("%s grace %d", n.Onset, n.Grace)
	}
	return n.Onset.String()
}

// Key names a note's key as a line of music does: "C5", "C5 (staff 2)".
func (n *NoteRef) Key() string {
	out := n.Pitch
	if midi, ok := commonMidi(n.Pitch); ok && midi == n.Midi {
		// as nearly all are
	} else if m := pitchForm.FindStringSubmatch(n.Pitch); m != nil && midiOf(m) != n.Midi {
		out += fmt.Sprintf(" (midi %d)", n.Midi)
	}
	if n.twin && n.Around.Staff > 0 {
		out += fmt.Sprintf(" (staff %d)", n.Around.Staff)
	}
	if n.Ordinal > 0 {
		out += fmt.Sprintf(" (no. %d)", n.Ordinal+1)
	}
	if n.Stays {
		out += " (stays)"
	}
	return out
}
