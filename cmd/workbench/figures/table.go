package figures

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Table is printed in columns that are as wide as what stands in them: the first to the left, the others to the right.
type Table struct {
	rows [][]string
}

// NewTable begins a table with the titles of its columns.
func NewTable(titles ...string) *Table { return &Table{rows: [][]string{titles}} }

// Row adds a row: a name and its figures. A float is printed with four places.
func (t *Table) Row(cells ...any) {
	row := make([]string, len(cells))
	for i, c := range cells {
		if f, is := c.(float64); is {
			row[i] = fmt.Sprintf("%.4f", f)
		} else {
			row[i] = fmt.Sprint(c)
		}
	}
	t.rows = append(t.rows, row)
}

// Print writes the table.
func (t *Table) Print(out io.Writer) {
	var widths []int
	for _, row := range t.rows {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range t.rows {
		line := ""
		for i, cell := range row {
			gap := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
			if i == 0 {
				line += cell + gap
			} else {
				line += "  " + gap + cell
			}
		}
		fmt.Fprintln(out, strings.TrimRight(line, " "))
	}
}
