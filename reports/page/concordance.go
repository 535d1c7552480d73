package page

import (
	"slices"
	"strings"

	"fingerproof/pipeline/state"
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
	type entry struct{ column, text string }
	var entries [][]entry
	var at []*state.Note
	for i := range m.Result.Notes {
		n := &m.Result.Notes[i]
		var found []entry
		for _, s := range n.Source {
			for _, name := range columnsOf(s) {
				found = append(found, entry{column: name, text: s.Text})
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
		row := concordanceRow{Measure: n.MeasureIndex, Place: "m. " + n.Measure, Pitch: n.Pitch, Digits: make([]string, len(names)), Here: digitText(n, n.Finger)}
		if n.N < len(m.More) {
			row.Place += ", beat " + m.More[n.N].Beat
		}
		for _, e := range found {
			k := slices.Index(names, e.column)
			row.Digits[k] = strings.TrimSpace(row.Digits[k] + " " + e.text)
		}
		for _, d := range row.Digits {
			row.Differs = row.Differs || d != "" && !strings.HasPrefix(d, row.Here)
		}
		rows = append(rows, row)
	}
	return names, rows
}

// columnsOf names the columns a digit belongs to: the witnesses it stands in, or else whose it is.
func columnsOf(s state.Source) []string {
	if len(s.Witnesses) == 0 {
		return []string{s.Responsibility.String()}
	}
	var out []string
	for _, w := range s.Witnesses {
		out = append(out, s.Responsibility.String()+", "+w)
	}
	return out
}
