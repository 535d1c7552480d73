package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/decision"
)

// lineCount accounts for the lines that were read: each is carried out, or left since what it says stands already, or refused, or is a
// remark or the sheet's name. No line falls away unseen.
type lineCount struct {
	name           string // of the file
	lines          []keyedLine
	left, refused  map[int]bool
	remarks, sheet map[int]bool
}

// newLineCount begins to account for lines; empty ones say nothing and count for none.
func newLineCount(name string, lines []keyedLine) *lineCount {
	t := &lineCount{name: name, left: map[int]bool{}, refused: map[int]bool{}, remarks: map[int]bool{}, sheet: map[int]bool{}}
	for _, l := range lines {
		switch {
		case l.text == "":
			continue
		case strings.Fields(l.text)[0] == "#":
			t.remarks[l.number] = true
		case sheetLine.MatchString(l.text):
			t.sheet[l.number] = true
		}
		t.lines = append(t.lines, l)
	}
	return t
}

// toDo are the lines that say something to be done.
func (t *lineCount) toDo() []keyedLine {
	return slices.DeleteFunc(slices.Clone(t.lines), func(l keyedLine) bool { return t.remarks[l.number] || t.sheet[l.number] })
}

// carriedOut counts the lines that do something.
func (t *lineCount) carriedOut() int {
	return len(t.lines) - len(t.left) - len(t.refused) - len(t.remarks) - len(t.sheet)
}

// say accounts for every line.
func (t *lineCount) say() string {
	var parts []string
	put := func(n int, words string) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, words))
		}
	}
	done := "carried out"
	if len(t.refused) > 0 {
		done = "understood"
	}
	put(t.carriedOut(), done)
	put(len(t.left), "left, since it stands so already")
	if len(t.left) > 1 {
		parts[len(parts)-1] = fmt.Sprintf("%d left, since they stand so already", len(t.left))
	}
	put(len(t.refused), "refused")
	if n := len(t.remarks); n > 0 {
		parts = append(parts, wording.Count(n, "remark"))
	}
	put(len(t.sheet), "names the sheet")
	return wording.Count(len(t.lines), "line") + " read: " + wording.List(parts)
}

// refusal is what is said behind the lines that are refused.
func (t *lineCount) refusal() error {
	return fmt.Errorf("nothing was added: of %s in %s %d %s refused; either all are added or none", wording.Count(len(t.lines), "line"), t.name,
		len(t.refused), map[bool]string{true: "is", false: "are"}[len(t.refused) == 1])
}

// stays are places of which lines say what stands already, with those lines.
type stays struct {
	places []string // of the form "m. 12 D4"
	lines  []int
}

func (s *stays) add(line int, places []string) {
	for _, place := range places {
		if !slices.Contains(s.places, place) {
			s.places = append(s.places, place)
		}
	}
	if len(places) > 0 && !slices.Contains(s.lines, line) {
		s.lines = append(s.lines, line)
	}
}

// say names the places and the lines that speak of them.
func (s *stays) say(out io.Writer, what string) {
	if len(s.places) > 0 {
		fmt.Fprintf(out, "%s: %s (%s)\n", what, inMeasures(s.places), inLines(s.lines))
	}
}

// inLines names lines, those that follow each other as a stretch.
func inLines(numbers []int) string {
	var parts []string
	for k := 0; k < len(numbers); {
		last := k
		for last+1 < len(numbers) && numbers[last+1] == numbers[last]+1 {
			last++
		}
		if last > k+1 {
			parts = append(parts, fmt.Sprintf("%d–%d", numbers[k], numbers[last]))
		} else {
			for _, n := range numbers[k : last+1] {
				parts = append(parts, fmt.Sprint(n))
			}
		}
		k = last + 1
	}
	if len(numbers) == 1 {
		return "line " + parts[0]
	}
	return "lines " + strings.Join(parts, ", ")
}

// whole says that of a line everything is left as it stands.
func whole(decided []decision.Decision) bool {
	return !slices.ContainsFunc(decided, func(d decision.Decision) bool { return len(d.Notes) > 0 })
}
