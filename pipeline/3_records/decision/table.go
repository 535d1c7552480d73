package decision

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"

	"fingerproof/corpus/strictyaml"

	"gopkg.in/yaml.v3"
)

// A file of decisions begins with the day of most of them and with the music of the piece's measures, once:
//
//	when: 2026-03-01
//	measures:
//	  - m. 1: 0f1e2d3c 99aabbcc 1a2b3c4d
//	decisions:
//	  - take: notes
//	    2*3f1: 0 C5=1+E5=3, 1/2 D5=2
//	    3*: 0 E5=3
//
// A row names its first measure, and the fingerprints of that one and of those behind it, as many as have the numbers
// that follow it; a point is a measure in which nothing is struck. "2*" is measure 2 as it is in this table: its
// fingerprint and its landmarks are those of the table. The first star of a decision bears a check of the head, of its day
// and its table: where two files were merged and the head is that of the other one, the decision is refused, and is bound
// nowhere else. Files of before have no check, and are read. A decision on measures that have other music says so itself, as
// in files without a table, and so does one of another day; what people write by hand needs neither.
type Table struct {
	rows []tableRow // by the index of their measures
	many map[string][]int
	once []int // indices of measures whose music stands once
	// known are, by row, the notes that decisions of its text name, as strokeKey counts them; sorted once all are read.
	known [][]uint64
}

type tableRow struct{ printed, music string }

// rowLength is how many measures a row of the table holds at most: a correction changes one short line.
const rowLength = 10

const nothingStruck = "." // in the place of a fingerprint

// fileHead is what a file says of all its decisions.
type fileHead struct {
	text  string // the lines of `when` and `measures` as they stand in the file
	when  string
	table *Table
	check string // of when and table, as stars bear it
}

// headCheck is the first three digits of a sum of a head's day and table (FNV-1a of 32 bits over the text's UTF-16, as
// the page makes it), "" without a table. Heads that differ have the same one once in 4096 cases.
func headCheck(when string, t *Table) string {
	if t == nil {
		return ""
	}
	text := when
	for _, r := range t.rows {
		text += "\n" + r.printed + ":" + r.music
	}
	h := uint32(0x811c9dc5)
	for _, u := range utf16.Encode([]rune(text)) {
		h = (h ^ uint32(u)) * 0x01000193
	}
	return fmt.Sprintf("%08x", h)[:3]
}

// Table is the music of a score's measures.
func (f *Finder) Table() *Table {
	var rows []tableRow
	for i := range f.score.Measures {
		rows = append(rows, tableRow{f.score.Measures[i].Number, f.music[i]})
	}
	return newTable(rows)
}

func newTable(rows []tableRow) *Table {
	t, where := &Table{rows: rows, many: map[string][]int{}}, map[string]int{}
	for i, r := range rows {
		t.many[r.printed] = append(t.many[r.printed], i)
		where[r.music]++
	}
	for i, r := range rows {
		if r.music != "" && where[r.music] == 1 {
			t.once = append(t.once, i)
		}
	}
	return t
}

// String writes the table as it stands in a file.
func (t *Table) String() string {
	var b strings.Builder
	b.WriteString("measures:\n")
	for i := 0; i < len(t.rows); {
		end := i + 1
		for end < len(t.rows) && end-i < rowLength && follows(t.rows[i].printed, t.rows[end].printed, end-i) {
			end++
		}
		key := measureKey(t.rows[i].printed) + ":"
		for _, r := range t.rows[i:end] {
			key += " " + cmp.Or(r.music, nothingStruck)
		}
		fmt.Fprintf(&b, "  - %s\n", key)
		i = end
	}
	return b.String()
}

// follows says that a measure's number is so many behind another one's.
func follows(first, number string, by int) bool {
	a, err := strconv.Atoi(first)
	return err == nil && strconv.Itoa(a) == first && strconv.Itoa(a+by) == number
}

// measureKey names a measure as a line begins: m. 12, and in quotation marks where YAML wants them.
func measureKey(printed string) string {
	if plainForm.MatchString(printed) {
		return "m. " + printed
	}
	quoted, _ := json.Marshal(printed)
	whole, _ := json.Marshal("m. " + string(quoted))
	return string(whole)
}

// table reads the table of a file.
func (r reader) table(n *yaml.Node) *Table {
	var rows []tableRow
	r.List(n, "measures", func(e *yaml.Node) {
		key, text, ok := isLine(e)
		var m []string
		if ok {
			m = lineForm.FindStringSubmatch(key.Value)
		}
		if m == nil || m[2]+m[3]+m[4] != "" {
			r.Fault(e, "a row of measures should be `m. 1:` and fingerprints", "as the program writes it")
			return
		}
		printed := m[1]
		if strings.HasPrefix(printed, `"`) && json.Unmarshal([]byte(m[1]), &printed) != nil {
			r.Fault(key, strictyaml.Quote(key.Value)+" names no measure", "the measure as printed, as in `m. 12`")
			return
		}
		s, ok := r.Text(text, "a row of measures")
		if !ok {
			return
		}
		for k, word := range strings.Fields(s) {
			row := tableRow{printed, word}
			if word == nothingStruck {
				row.music = ""
			} else if len(word) != landmarkDigits || !musicForm.MatchString(word) {
				r.Fault(text, "a fingerprint cannot be "+strictyaml.Quote(word), "eight digits of 0 to 9 and a to f, as the program writes them")
				return
			}
			if k > 0 {
				first, err := strconv.Atoi(printed)
				if err != nil {
					r.Fault(text, "no measure follows "+strictyaml.Quote(printed), "a row of its own for the next one")
					return
				}
				row.printed = strconv.Itoa(first + k)
			}
			rows = append(rows, row)
		}
	})
	return newTable(rows)
}

// at finds a line's measure in the table, where its number or its index names one.
func (t *Table) at(l *musicLine) (int, bool) {
	if t == nil {
		return 0, false
	}
	if l.index >= 0 {
		return l.index, l.index < len(t.rows) && t.rows[l.index].printed == l.printed
	}
	all := t.many[l.printed]
	if len(all) != 1 {
		return 0, false
	}
	return all[0], true
}

// marks gives the landmarks of a decision from the table, counted from the first line.
func (t *Table) marks(lines []musicLine) (out []Landmark) {
	k := slices.IndexFunc(lines, func(l musicLine) bool { return l.tabled })
	if t == nil || k < 0 {
		return nil
	}
	at, _ := t.at(&lines[k])
	first := at - lines[k].by
	for _, i := range t.once {
		out = append(out, Landmark{i - first, t.rows[i].music})
	}
	return out
}

// fold takes out of an entry that the program wrote what the head of its file says: the day, fingerprints, landmarks. An
// entry on other music is given as it is, with its day: nothing in it would say of which head that is. The page does the same (reports/page/piece/fold.js).
func (h *fileHead) fold(entry string) string {
	lines, t := strings.Split(strings.TrimSuffix(entry, "\n"), "\n"), h.table
	var head, music []string
	landmarks, notes, folded, check := "", false, t != nil, h.check
	first := -1
	for _, line := range lines {
		field, value, _ := strings.Cut(strings.TrimPrefix(line, "    "), ": ")
		switch {
		case notes:
			l, key, text, ok := readLine(strings.TrimPrefix(line, "      - "))
			at, known := t.at(&l)
			if folded = folded && ok && known && (l.music == "" || l.music == t.rows[at].music); !folded {
				break
			}
			if first < 0 {
				first = at
			}
			if l.music != "" {
				key = starred(key, l.music, check)
				check = ""
			}
			music = append(music, "    "+key+": "+inRows(text))
		case field == "when" && value == h.when:
		case field == "landmarks":
			landmarks = value
		case line == "    notes:":
			notes = true
		default:
			head = append(head, line)
		}
	}
	none := folded && (len(t.once) == 0 || len(t.once) == 1 && t.once[0] == first && len(music) == 1) // no landmark to speak of
	if folded = folded && len(music) > 0 && check == "" && (landmarks != "" || none); folded {
		for _, word := range strings.Fields(landmarks) {
			place, print, given := strings.Cut(word, ":")
			by, _ := strconv.Atoi(place)
			at, is := slices.BinarySearch(t.once, first+by)
			folded = folded && is && (!given || t.rows[t.once[at]].music == print)
		}
	}
	if folded {
		return strings.Join(append(head, music...), "\n") + "\n"
	}
	return entry
}

// readLine reads the beginning of a line of music as the program writes it.
func readLine(line string) (l musicLine, key, text string, ok bool) {
	if strings.HasPrefix(line, `"`) {
		d := json.NewDecoder(strings.NewReader(line))
		if d.Decode(&key) != nil {
			return l, "", "", false
		}
		text = strings.TrimPrefix(line[d.InputOffset():], ": ")
	} else if key, text, ok = strings.Cut(line, ": "); !ok {
		return l, "", "", false
	}
	m := lineForm.FindStringSubmatch(key)
	if m == nil {
		return l, "", "", false
	}
	l = musicLine{printed: m[1], index: -1, music: m[3]}
	if strings.HasPrefix(m[1], `"`) && json.Unmarshal([]byte(m[1]), &l.printed) != nil {
		return l, "", "", false
	}
	if m[2] != "" {
		l.index, _ = strconv.Atoi(m[2])
	}
	if strings.Contains(key, `"`) {
		whole, _ := json.Marshal(key)
		key = string(whole)
	}
	return l, key, text, true
}

// starred names a measure by the table instead of its fingerprint, with the head's check or "".
func starred(key, music, check string) string {
	if whole, quoted := strings.CutPrefix(key, `"`); quoted {
		return `"` + strings.TrimPrefix(strings.TrimSuffix(whole, " "+music+`"`), "m. ") + "*" + check + `"`
	}
	return strings.TrimPrefix(strings.TrimSuffix(key, " "+music), "m. ") + "*" + check
}

// unfold gives an entry as it stands in a file without a head: for two files of one editor that become one.
func (d *Decision) unfold() string {
	if d.head == nil {
		return d.Written
	}
	text := d.head.withoutStars(d.Written)
	var more []string
	if d.undated {
		more = append(more, "when: "+d.When)
	}
	if d.marks != "" {
		more = append(more, "landmarks: "+d.marks)
	}
	if len(more) == 0 {
		return text
	}
	if flow, is := strings.CutPrefix(text, "  - {"); is {
		return "  - {" + strings.Join(more, ", ") + ", " + flow
	}
	first, rest, _ := strings.Cut(text, "\n")
	return first + "\n    " + strings.Join(more, "\n    ") + "\n" + rest
}

// marksOf writes the landmarks of a decision's notes, counted from its first line.
func marksOf(marks []Landmark) string {
	var words []string
	for _, m := range marks {
		words = append(words, m.String())
	}
	return strings.Join(words, " ")
}

// File is what one editor's files say of a piece: the lines that speak of all decisions, and the decisions as they are
// written. Where there are two files, those of the second say themselves what the first one's head does not.
type File struct {
	Head    string `json:"head,omitempty"`
	Entries string `json:"entries"`
}

// Files gives the files of decisions by initials.
func Files(all []Decision) map[string]File {
	out, heads := map[string]File{}, map[string]*fileHead{}
	for i := range all {
		d := &all[i]
		file, known := out[d.By]
		if !known && d.head != nil {
			file.Head, heads[d.By] = d.head.text, d.head
		}
		if heads[d.By] == d.head {
			file.Entries += AsWritten(*d)
		} else {
			file.Entries += d.unfold()
		}
		out[d.By] = file
	}
	return out
}

// HeadLines are the lines of its file that speak of all its decisions, "" where there are none.
func (d *Decision) HeadLines() string {
	if d.head == nil {
		return ""
	}
	return d.head.text
}
