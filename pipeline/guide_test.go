package pipeline_test

import (
	"fmt"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The lines of the guide between which the tables of the house stand.
const (
	houseBegins = "<!-- The house, drawn by `go test ./pipeline -run TestTheGuideDrawsTheHouse -update`. -->\n"
	houseEnds   = "<!-- The house ends. -->\n"
)

// The guide's tables are those that the test of imports holds.
func TestTheGuideDrawsTheHouse(t *testing.T) {
	file := filepath.Join("..", "DEVELOPERS.md")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	before, rest, begins := strings.Cut(string(data), houseBegins)
	_, after, ends := strings.Cut(rest, houseEnds)
	require.True(t, begins && ends, "the guide has no place for the house")
	want := before + houseBegins + drawnHouse(t) + houseEnds + after
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(want), 0o644))
		return
	}
	require.Equal(t, want, string(data), "the guide shows another house: go test ./pipeline -run %s -update",
		t.Name())
}

// drawnHouse is the table of storeys, and that of the stages.
func drawnHouse(t *testing.T) string {
	t.Helper()
	var b, stages strings.Builder
	b.WriteString("| storey | room | what it does |\n|---|---|---|\n")
	for _, s := range house {
		name := fmt.Sprintf("**%d %s**", s.number, s.name)
		for _, r := range s.rooms {
			parent, each := strings.CutSuffix(r.path, "/*")
			switch {
			case !each || r.what != "":
				what := r.what
				if what == "" {
					what = firstSentence(t, r.path)
				}
				fmt.Fprintf(&b, "| %s | `%s` | %s |\n", name, strings.Replace(r.path, "/*", "/…", 1), what)
			default:
				for _, folder := range foldersIn(t, parent) {
					fmt.Fprintf(&b, "| %s | `%s` | %s |\n", name, folder, firstSentence(t, folder))
					name = ""
				}
			}
			name = ""
		}
	}
	stages.WriteString("\n| stage | what it does |\n|---|---|\n")
	for _, folder := range foldersIn(t, "pipeline/4_stages") {
		fmt.Fprintf(&stages, "| `%s` | %s |\n", path.Base(folder), firstSentence(t, folder))
	}
	var exceptions strings.Builder
	exceptions.WriteString("\nUses within a storey that are allowed all the same:\n\n")
	for _, r := range rooms(t) {
		for _, to := range rooms(t) {
			if why := neighbours[[2]string{r.path, to.path}]; why != "" {
				fmt.Fprintf(&exceptions, "- `%s` uses `%s`: %s.\n", r.path, to.path, why)
			}
		}
	}
	return b.String() + exceptions.String() + stages.String()
}

// foldersIn lists the folders below one, in order.
func foldersIn(t *testing.T, parent string) (out []string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Join("..", parent))
	require.NoError(t, err)
	for _, e := range entries {
		if e.IsDir() {
			out = append(out, path.Join(parent, e.Name()))
		}
	}
	return out
}

// firstSentence is what a package's documentation says first, without the words that name the package.
func firstSentence(t *testing.T, folder string) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", folder, "*.go"))
	require.NoError(t, err)
	for _, file := range files {
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.PackageClauseOnly|parser.ParseComments)
		require.NoError(t, err)
		if f.Doc == nil {
			continue
		}
		text := strings.Join(strings.Fields(f.Doc.Text()), " ")
		sentence, _, _ := strings.Cut(text, ". ")
		sentence, _, _ = strings.Cut(strings.TrimSuffix(sentence, "."), ": ") // what follows a colon is detail
		sentence, said := strings.CutPrefix(sentence, "Package "+f.Name.Name+" ")
		require.True(t, said, "%s: its documentation begins with its name", file)
		return strings.TrimPrefix(strings.TrimPrefix(sentence, "is the stage that "), "is ")
	}
	require.Fail(t, "no documentation", "no file of %s says what the package is", folder)
	return ""
}
