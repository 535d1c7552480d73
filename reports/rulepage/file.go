package rulepage

import (
	"regexp"
	"slices"
	"strings"
)

// What an engraver does not draw, or draws so small that nobody sees it, stands in the file all the same: the page quotes where
// the files of an example differ.

// Where more lines differ on one side the music is another, and the pictures show it; each is so long at most.
const (
	mostLines   = 3
	longestLine = 220
	around      = 12 // letters of what is the same are kept on either side, at least to the next tag
)

var (
	measures = regexp.MustCompile(`(?s)<measure .*?</measure>`)
	comment  = regexp.MustCompile(`\s*<!--.*?-->`)
)

// InFile quotes what differs between some measures of a score and some of another, or of the same: the lines that the one has
// and the other has not, cut to what differs where they go in pairs. Whole says that the two are whole scores, whose heads are
// compared, too.
func InFile(wrong []byte, first, count int, right []byte, firstRight, countRight int, whole bool) (ofWrong, ofRight []string) {
	a, b := linesOf(wrong, first, count, whole), linesOf(right, firstRight, countRight, whole)
	if !whole && !slices.ContainsFunc(b, isAttributes) { // what a score begins with is no difference
		a = slices.DeleteFunc(a, isAttributes)
	}
	onlyA, onlyB := without(a, b), without(b, a)
	if len(onlyA) == len(onlyB) {
		for i := range onlyA {
			onlyA[i], onlyB[i] = cut(onlyA[i], onlyB[i])
		}
	} else {
		onlyA, onlyB = signs(onlyA), signs(onlyB)
	}
	if max(len(onlyA), len(onlyB)) > mostLines {
		return nil, nil
	}
	return quoted(onlyA), quoted(onlyB)
}

// signs leaves of some lines those that are no notes, where there are any: what else stands in the measure is shown by pictures.
func signs(lines []string) []string {
	out := slices.DeleteFunc(slices.Clone(lines), func(line string) bool {
		return strings.HasPrefix(line, "<note>") || strings.HasPrefix(line, "<backup>")
	})
	if len(out) == 0 {
		return lines
	}
	if len(out) > 1 && isAttributes(out[0]) && strings.Contains(out[0], "<divisions>") {
		out = out[1:] // what a score begins with
	}
	return out
}

func isAttributes(line string) bool { return strings.HasPrefix(line, "<attributes>") }

func linesOf(text []byte, first, count int, whole bool) (out []string) {
	part := string(text)
	if !whole {
		found := measures.FindAllString(part, -1)
		part = strings.Join(found[min(first, len(found)):min(first+count, len(found))], "\n")
	}
	for line := range strings.SplitSeq(comment.ReplaceAllString(part, ""), "\n") {
		line = strings.TrimSpace(line)
		if line != "" && !strings.HasPrefix(line, "<measure ") && line != "</measure>" {
			out = append(out, line)
		}
	}
	return out
}

// without gives the lines that others do not have, as often as they have more of them.
func without(lines, others []string) (out []string) {
	others = slices.Clone(others)
	for _, line := range lines {
		if k := slices.Index(others, line); k >= 0 {
			others = slices.Delete(others, k, k+1)
			continue
		}
		out = append(out, line)
	}
	return out
}

// cut leaves of two lines what differs, from tag to tag.
func cut(a, b string) (string, string) {
	from := 0
	for from < min(len(a), len(b)) && a[from] == b[from] {
		from++
	}
	to := 0
	for to < min(len(a), len(b))-from && a[len(a)-1-to] == b[len(b)-1-to] {
		to++
	}
	if from > around {
		from = max(strings.LastIndexByte(a[:from], '<'), 0)
	} else {
		from = 0
	}
	if k := strings.IndexByte(a[len(a)-to:], '>'); k >= 0 && to > around {
		to -= k + 1
	} else {
		to = 0
	}
	part := func(s string) string {
		out := s[from:max(len(s)-to, from)]
		if from > 0 {
			out = "… " + out
		}
		if to > 0 {
			out += " …"
		}
		return out
	}
	return part(a), part(b)
}

// quoted shortens lines.
func quoted(lines []string) []string {
	for i, line := range lines {
		if r := []rune(line); len(r) > longestLine {
			lines[i] = string(r[:longestLine]) + " …"
		}
	}
	return lines
}
