package rulepage

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
)

// Text tells the notes of measures first to last in words, a voice a line: "upper staff: C4 with 2 and E4 with 2 …".
func Text(s *score.Score, first, last int) (lines []string) {
	type voice struct {
		staff int
		name  string
	}
	said := map[voice]string{}
	var order []voice
	for n := range s.Notes {
		note := &s.Notes[n]
		if note.Measure < first || note.Measure > last {
			continue
		}
		v := voice{note.Staff, note.Voice}
		if _, known := said[v]; !known {
			order = append(order, v)
			said[v] = [...]string{"", "upper staff: ", "lower staff: "}[min(max(note.Staff, 1), 2)]
		} else if note.Chord {
			said[v] += " and "
		} else {
			said[v] += ", "
		}
		said[v] += words(note)
	}
	for _, v := range order {
		if strings.Contains(said[v], " with ") || strings.ContainsAny(said[v], "ABCDEFG") {
			lines = append(lines, said[v])
		}
	}
	return lines
}

// words tells a note, its length in quarters, and its digits.
func words(note *score.Note) string {
	text := "rest"
	if note.Kind == score.Pitched {
		text = note.Pitch.String()
	}
	if note.Grace == 0 && !note.Chord {
		text += fmt.Sprintf(" (%s)", note.Duration)
	}
	var digits []string
	for i := range note.Indications {
		digits = append(digits, note.Indications[i].Text)
	}
	if len(digits) > 0 {
		text += " with " + strings.Join(digits, " ")
	}
	if len(note.Ornaments) > 0 {
		text += ", ornament"
	}
	for _, slur := range note.Slurs {
		if slur.Start {
			text += ", slur begins"
		} else {
			text += ", slur ends"
		}
	}
	switch {
	case note.TieStart && note.TieStop:
		text += ", tied on both sides"
	case note.TieStart:
		text += ", tied on"
	case note.TieStop:
		text += ", tied from before"
	}
	return text
}
