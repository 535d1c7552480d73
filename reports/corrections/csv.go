package corrections

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
)

// columns of the table.
var columns = []string{
	"id", "piece", "place", "page", "system", "measure", "hand", "beat", "pitch", "do", "what", "proof", "approved",
	"ask", "state", "comment", "by",
}

func writeCSV(out io.Writer, s *Sheet) error {
	w := csv.NewWriter(out)
	if err := w.Write(columns); err != nil {
		return err
	}
	for i := range s.Corrections {
		c := &s.Corrections[i]
		row := []string{c.ID, c.Piece, c.Place(), "", "", "", "", "", ""}
		if at := c.At; at != nil {
			row = []string{
				c.ID, c.Piece, c.Place(), number(at.Page), number(at.System), at.Measure, at.Hand.Short(), at.ShortBeat(),
				at.Pitch,
			}
		}
		row = append(row, string(c.Do), string(c.Kind), c.Reads, c.Should, c.Ask, string(c.State), c.Comment, c.By)
		for k := range row {
			row[k] = plainCell(row[k])
		}
		if err := w.Write(row); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

func number(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// plainCell keeps a spreadsheet from taking what a score says for a formula.
func plainCell(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}
