// What the documents of the project say is held against its files.
package pipeline_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

const factsFile, guideFile = "rules/FACTS.md", "DEVELOPERS.md"

var readFiles map[string]string

// projectFiles gives every text file of the project by its path, lines of a comment joined: a citation may be
// broken at the end of a line. Notation is left out, it cites nothing.
func projectFiles(t *testing.T) map[string]string {
	if readFiles != nil {
		return readFiles
	}
	files := map[string]string{}
	breaks := regexp.MustCompile(`\n\s*(//|#)?\s*`)
	add := func(path string) {
		if slices.Contains([]string{".musicxml", ".mxl", ".xml"}, filepath.Ext(path)) {
			return
		}
		b, err := os.ReadFile(path)
		require.NoError(t, err)
		if utf8.Valid(b) {
			name := strings.TrimPrefix(filepath.ToSlash(path), "../")
			files[name] = breaks.ReplaceAllString(string(b), " ")
		}
	}
	for _, top := range []string{".ci", ".github", "cmd", "corpus", "pipeline", "policies", "reports", "rules"} {
		err := filepath.WalkDir(filepath.Join("..", top), func(path string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case d.IsDir() && (d.Name() == "node_modules" || d.Name() == "rapid"):
				return filepath.SkipDir
			case d.Type().IsRegular() && d.Name() != "node_modules":
				add(path)
			}
			return nil
		})
		require.NoError(t, err)
	}
	add("../README.md")
	add("../" + guideFile)
	require.Greater(t, len(files), 500, "the walk saw too little to mean anything")
	readFiles = files
	return files
}

// section is a numbered part of a document.
type section struct{ number, text string }

// sections cuts a document at its numbered headings.
func sections(t *testing.T, path string, heading *regexp.Regexp) (out []section) {
	b, err := os.ReadFile(filepath.Join("..", path))
	require.NoError(t, err)
	text := string(b)
	at := heading.FindAllStringSubmatchIndex(text, -1)
	for i, m := range at {
		end := len(text)
		if i+1 < len(at) {
			end = at[i+1][0]
		}
		out = append(out, section{text[m[2]:m[3]], text[m[0]:end]})
	}
	require.NotEmpty(t, out)
	return out
}

func facts(t *testing.T) []section {
	return sections(t, factsFile, regexp.MustCompile(`(?m)^### (\d+\.\d+) `))
}

// decisions are the numbered paragraphs of the guide.
func decisions(t *testing.T) []section {
	return sections(t, guideFile, regexp.MustCompile(`(?m)^(\d+)\. \*\*`))
}

// cited gives each number that the pattern finds, with the files that cite it, the document itself left out.
func cited(files map[string]string, document string, pattern *regexp.Regexp) map[string][]string {
	out := map[string][]string{}
	for name, text := range files {
		if name == document || name == "pipeline/documents_test.go" {
			continue
		}
		for _, m := range pattern.FindAllStringSubmatch(text, -1) {
			out[m[1]] = append(out[m[1]], name)
		}
	}
	return out
}

// Each section that a file cites is there, and each section is cited, or says why it stands.
func TestCitedSectionsAreThere(t *testing.T) {
	files := projectFiles(t)
	for _, c := range []struct {
		document string
		sections []section
		pattern  *regexp.Regexp
	}{
		{factsFile, facts(t), regexp.MustCompile(`\bFACTS(?:\.md)?,? §?([0-9][0-9.]*[0-9]|[0-9])`)},
		{guideFile, decisions(t), regexp.MustCompile(`\bDEVELOPERS\.md, decision ([0-9]+)`)},
	} {
		uses := cited(files, c.document, c.pattern)
		var numbers []string
		for _, s := range c.sections {
			require.NotContains(t, numbers, s.number, "%s has the number twice", c.document)
			numbers = append(numbers, s.number)
			if !strings.Contains(s.text, "Stands because") {
				require.NotEmpty(t, uses[s.number], "%s %s: no file cites it, and it does not say why it stands",
					c.document, s.number)
			}
		}
		for number, where := range uses {
			require.Contains(t, numbers, number, "%s has no such section, cited in %v", c.document, where)
		}
	}
}

// A reader can open whatever is cited: no file names a document that is not in the project.
func TestNoFileCitesADocumentOutside(t *testing.T) {
	files := projectFiles(t)
	var documents []string
	for name := range files {
		if strings.HasSuffix(name, ".md") {
			documents = append(documents, filepath.Base(name))
		}
	}
	signed := regexp.MustCompile(`\b([A-Z]{4,})(?:\.md)? §`)
	named := regexp.MustCompile(`\b[A-Z]{4,}\.md\b`)
	short := regexp.MustCompile(`\bFACTS §[0-9.]+(, | and | or )§`)     // the second would go unseen
	others := regexp.MustCompile(`\b(DESIGN|ENGINE|STANDARDS|CRAFT)\b`) // documents that earlier comments cited
	for name, text := range files {
		if name == "pipeline/documents_test.go" {
			continue
		}
		for _, m := range signed.FindAllStringSubmatch(text, -1) {
			require.Equal(t, "FACTS", m[1], "%s cites a section of %s", name, m[1])
		}
		for _, m := range named.FindAllString(text, -1) {
			require.Contains(t, documents, m, "%s names it", name)
		}
		require.Empty(t, short.FindString(text), "%s: write FACTS before each section", name)
		require.Empty(t, others.FindString(text), "%s cites a document that is not in the project", name)
	}
}

// Each row of a fact says how well it is known.
func TestEachFactHasItsTag(t *testing.T) {
	tag := regexp.MustCompile(`\[(T|S|D|M|CP)\]`)
	rows := 0
	for _, s := range facts(t) {
		lines := strings.Split(s.text, "\n")
		for i, line := range lines {
			head := i+1 < len(lines) && strings.HasPrefix(lines[i+1], "|---")
			if !strings.HasPrefix(line, "|") || strings.HasPrefix(line, "|---") || head {
				continue
			}
			cells := strings.Split(strings.Trim(line, "| "), " | ")
			require.Regexp(t, tag, cells[len(cells)-1], "FACTS §%s: %s", s.number, line)
			rows++
		}
	}
	require.Greater(t, rows, 50)
}

// Each word of the glossary stands once, and is used: in code, or in what the program says.
func TestGlossaryWordsAreUsed(t *testing.T) {
	files := projectFiles(t)
	b, err := os.ReadFile("../" + guideFile)
	require.NoError(t, err)
	_, glossary, found := strings.Cut(string(b), "\n## Glossary\n")
	require.True(t, found)
	glossary, _, _ = strings.Cut(glossary, "\n## ")
	var code strings.Builder
	for name, text := range files {
		if strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go") {
			code.WriteString(text)
		}
	}
	var words []string
	for _, m := range regexp.MustCompile(`(?m)^\| ([^|]+?) \|`).FindAllStringSubmatch(glossary, -1) {
		if strings.Contains(m[1], "'s word") {
			continue
		}
		for _, word := range strings.Split(m[1], ", ") {
			require.False(t, slices.Contains(words, word), "%q stands twice", word)
			words = append(words, word)
			used := regexp.MustCompile(
				`(?i)\b` + regexp.QuoteMeta(word) + `(s|es|ed|ing)?\b|` + strings.ToUpper(word[:1]) + word[1:])
			require.True(t, used.MatchString(code.String()), "%q is used nowhere", word)
		}
	}
	require.Greater(t, len(words), 40)
}
