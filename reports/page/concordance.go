package page

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/state"
)

// concordanceRow sets side by side what each source has at a note.
type concordanceRow struct {
	Measure      int
	Place, Pitch string
	Digits       []string // one for each column
	Here         string
	Differs      bool
}

// concordance lists the notes at which the composer, an earlier editor or a witness has a digit: a column for each.
func (m *Material) concordance() (names []string, rows []concordanceRow) {
	type entry struct {
		column string
		source *state.Source
	}
	var entries [][]entry
	var at []*state.Note
	for i := range m.Result.Notes {
		n := &m.Result.Notes[i]
		var found []entry
		for k := range n.Source {
			s := &n.Source[k]
			for _, name := range m.columnsOf(s) {
				found = append(found, entry{name, s})
				if !slices.Contains(names, name) {
					names = append(names, name)
				}
			}
		}
		if len(found) > 0 {
			entries, at = append(entries, found), append(at, n)
		}
	}
	slices.Sort(names)
	for i, found := range entries {
		n := at[i]
		row := concordanceRow{
			Measure: n.MeasureIndex, Place: "m. " + n.Measure, Pitch: n.Pitch, Digits: make([]string, len(names)),
			Here: digitText(n, n.Finger),
		}
		if n.N < len(m.More) {
			row.Place += ", beat " + m.More[n.N].Beat
		}
		for _, e := range found {
			k := slices.Index(names, e.column)
			row.Digits[k] = beside(row.Digits[k], e.source)
		}
		for _, d := range row.Digits {
			row.Differs = row.Differs || d != "" && !agrees(d, row.Here)
		}
		rows = append(rows, row)
	}
	return names, rows
}

// beside adds a digit to what stands already: "1–3" for a change on the held key, "1 (2)" for an alternative.
func beside(stands string, s *state.Source) string {
	switch {
	case stands == "":
		return s.Text
	case s.Substitution:
		return stands + "–" + s.Text
	case s.Alternate:
		return stands + " (" + s.Text + ")"
	}
	return stands + " " + s.Text
}

// agrees says that the first digit of a source is the one here. A change on the held key that only we have is no
// other reading.
func agrees(source, here string) bool {
	first, _, _ := strings.Cut(source, " ")
	return first == here || strings.HasPrefix(here, first+"–")
}

// ofTheSource is what digits in the text are called as long as nothing tells whose they are.
const ofTheSource = "of the source"

// columnsOf names the columns a digit belongs to: the witnesses it stands in, or else whose it is.
func (m *Material) columnsOf(s *state.Source) []string {
	if len(s.Witnesses) == 0 {
		return []string{m.sourceName(*s)}
	}
	var out []string
	for _, w := range s.Witnesses {
		out = append(out, s.Responsibility.String()+", "+w)
	}
	return out
}

// besideTheText says of each witness that was read how its digits agree with those of the text.
func (m *Material) besideTheText() (out []string) {
	type count struct{ same, other int }
	counts, inText := map[string]*count{}, 0
	of := func(siglum string) *count {
		if counts[siglum] == nil {
			counts[siglum] = &count{}
		}
		return counts[siglum]
	}
	for _, w := range m.Result.Witnesses {
		of(w.Siglum)
	}
	for i := range m.Result.Notes {
		for _, s := range m.Result.Notes[i].Source {
			if !s.WitnessOnly {
				inText++
			}
			for _, siglum := range s.Witnesses {
				if s.WitnessOnly {
					of(siglum).other++
				} else {
					of(siglum).same++
				}
			}
		}
	}
	for _, siglum := range slices.Sorted(maps.Keys(counts)) {
		c := counts[siglum]
		said := fmt.Sprintf("Witness %s was read beside the text: %s as in the text", siglum, wording.Count(c.same, "digit"))
		if c.other > 0 {
			said += fmt.Sprintf(", %d that the text does not have", c.other)
		}
		if lacks := inText - c.same; lacks > 0 {
			said += fmt.Sprintf("; %d of the text it does not have", lacks)
		}
		out = append(out, said+".")
	}
	return out
}
