// Package corrections writes the sheet that a proof reader sends to the
// engraver, in the form that the file's ending asks for.
package corrections

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline/4_services/compare"
)

// Sheet is what is to be corrected in a typeset proof after the approved copy.
type Sheet struct {
	Approved, Typeset string
	Corrections       []compare.Correction
	NotCompared       []string // what the comparison did not look at
	Page              string   // address of the page with both readings, seen from the sheet; "" for none
}

// Form is a form of sheet.
type Form string

// The forms.
const (
	Text     Form = "text"
	Markdown Form = "Markdown"
	HTML     Form = "HTML"
	CSV      Form = "CSV"
)

var endings = map[string]Form{
	".txt": Text, ".text": Text, "": Text, ".md": Markdown, ".markdown": Markdown, ".html": HTML, ".htm": HTML,
	".csv": CSV,
}

// FormOf gives the form that a file's ending asks for; text for standard output.
func FormOf(path string) (Form, error) {
	ending := strings.ToLower(filepath.Ext(path))
	form, known := endings[ending]
	if !known {
		return "", fmt.Errorf("a correction sheet cannot be written as %s: %q is no ending that it knows\n"+
			"hint: .txt for text, .md for Markdown, .html for a page to print, .csv for a table", path, ending)
	}
	return form, nil
}

// Write writes a sheet.
func Write(out io.Writer, s *Sheet, form Form) error {
	switch form {
	case Markdown:
		return writeMarkdown(out, s)
	case HTML:
		return writeHTML(out, s)
	case CSV:
		return writeCSV(out, s)
	}
	return writeText(out, s)
}

// section is a part of the sheet: corrections of one state, piece by piece.
type section struct {
	State  compare.State
	Title  string
	Ticked bool // there is nothing left to do
	Count  int
	Pieces []piece
}

type piece struct {
	ID    string
	Lines []line
}

type line struct {
	ID, Place, Ask, Comment string
	Unread                  bool
}

// order in which a sheet lists its parts, worst first.
var order = []struct {
	state  compare.State
	title  string
	ticked bool
}{
	{compare.Unread, "Could not be compared", false},
	{compare.Broken, "New in this proof: the proof before was right, keep its reading", false},
	{compare.Unkept, "Was to stay as it was, and is another now", false},
	{compare.Missed, "Still to be done", false},
	{compare.Unseen, "Asked for before, and not compared in this proof: see whether it is done", false},
	{compare.ToDo, "Corrections", false},
	{compare.Kept, "Differs, and stays as it is in the proof", true},
	{compare.Done, "Done: right now, keep it", true},
}

func (s *Sheet) sections() []section {
	var out []section
	for _, o := range order {
		part := section{State: o.state, Title: o.title, Ticked: o.ticked}
		listed := map[*compare.Cause]bool{}
		for i := range s.Corrections {
			c := &s.Corrections[i]
			if c.State != o.state || c.Before {
				continue
			}
			if n := len(part.Pieces); n == 0 || part.Pieces[n-1].ID != c.Piece {
				part.Pieces = append(part.Pieces, piece{ID: c.Piece})
			}
			p := &part.Pieces[len(part.Pieces)-1]
			comment := c.Comment
			if comment != "" && c.By != "" {
				comment += " (" + c.By + ")"
			}
			if listed[c.Cause] && comment == "" {
				continue // it stands in the line of its cause
			}
			place, ask := c.Place(), c.Ask
			if c.Cause != nil && comment == "" {
				listed[c.Cause] = true
				place, ask = s.extent(c), c.Cause.Ask()
			}
			p.Lines = append(p.Lines, line{c.ID, place, ask, comment, c.State == compare.Unread})
			part.Count++
		}
		if part.Count > 0 {
			out = append(out, part)
		}
	}
	return out
}

// extent names the places of a cause that are in one state.
func (s *Sheet) extent(first *compare.Correction) string {
	of, there := 0, 0
	for i := range s.Corrections {
		if c := &s.Corrections[i]; c.Cause == first.Cause {
			of++
			if c.State == first.State {
				there++
			}
		}
	}
	out := first.Cause.Extent + ", the first at " + first.Place()
	if there < of {
		out += fmt.Sprintf(" (%d of them)", there)
	}
	return out
}

// remarks are the sentences below a sheet's title.
func (s *Sheet) remarks() []string {
	var out []string
	type stateOfCause struct {
		cause *compare.Cause
		state compare.State
	}
	count, all, places, before, once := map[compare.Action]int{}, 0, 0, 0, map[stateOfCause]bool{}
	for i := range s.Corrections {
		switch c := &s.Corrections[i]; c.State {
		case compare.Broken, compare.Missed, compare.ToDo:
			places++
			if line := (stateOfCause{c.Cause, c.State}); c.Cause != nil && c.Comment == "" {
				if once[line] {
					continue // what runs through is one correction
				}
				once[line] = true
			}
			count[c.Do]++
			all++
		case compare.Done:
			if c.Before {
				before++
			}
		}
	}
	if all > 0 {
		var parts []string
		for _, do := range []compare.Action{compare.PutIn, compare.TakeOut, compare.Alter, compare.Move} {
			if count[do] > 0 {
				parts = append(parts, fmt.Sprintf("%d to %s", count[do], do))
			}
		}
		sum := wording.Count(all, "correction")
		if places > all {
			sum += " at " + wording.Count(places, "place")
		}
		out = append(out, sum+": "+wording.List(parts)+".",
			"How to read, by an example: F4 → F#4 means that the proof has F4; set F#4.")
	}
	if before > 0 {
		out = append(out, wording.Count(before, "earlier correction")+" still right.")
	}
	if len(s.NotCompared) > 0 {
		out = append(out, "Not compared: "+strings.Join(s.NotCompared, "; ")+".")
	}
	return out
}

// nothing is what a sheet without any line says.
func (s *Sheet) nothing() string {
	if len(s.NotCompared) > 0 {
		return "Nothing to correct in what was compared."
	}
	return "Nothing to correct."
}

// link is where the page shows a correction, "" without a page.
func (s *Sheet) link(l *line) string {
	if s.Page == "" || l.Unread {
		return ""
	}
	return s.Page + "#c-" + l.ID
}
