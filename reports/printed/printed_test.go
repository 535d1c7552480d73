package printed_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/reports/printed"

	"github.com/stretchr/testify/require"
)

const sample = `# Préface & Vorwort

Fingersätze **fett**, *kursiv*, \*so\* und F♯4, E♭5, <script>alert(1)</script> [words](https://example.org/x) ![a picture](p.png)

- erstens
- zweitens

| Ziffern | Noten |
|---|--:|
| **3** | 12 |

` + "## Last\n\nEnd.\n"

// A page needs no other file, and runs nothing that a text brings along.
func TestHTML(t *testing.T) {
	page, err := printed.HTML(printed.Text{Title: "A <title>", Language: "de", Markdown: []byte(sample)})
	require.NoError(t, err)
	for _, want := range []string{
		`<html lang="de">`, "<title>A &lt;title&gt;</title>", "<h1>Préface &amp; Vorwort</h1>", "<strong>fett</strong>",
		"*so*", "<td><strong>3</strong></td>", "a picture", "@page",
	} {
		require.Contains(t, string(page), want)
	}
	require.NotContains(t, string(page), "<script")
	require.NotContains(t, string(page), "<img")
}

// Equal texts give equal bytes, long ones several sheets; poppler's pdftotext,
// where it is there, reads the words again in their order.
func TestPDF(t *testing.T) {
	text := printed.Text{Title: "Préface", Language: "fr", Markdown: []byte(sample + strings.Repeat("One more paragraph.\n\n", 80))}
	once, err := printed.PDF(text)
	require.NoError(t, err)
	again, err := printed.PDF(text)
	require.NoError(t, err)
	require.True(t, bytes.Equal(once, again), "the same text gives other bytes")
	require.True(t, bytes.HasPrefix(once, []byte("%PDF-1.")))
	require.GreaterOrEqual(t, bytes.Count(once, []byte("/Type /Page\n")), 2)
	require.Contains(t, string(once), "/Lang (fr)")
	t.Run("read by pdftotext", func(t *testing.T) {
		program, err := exec.LookPath("pdftotext")
		if err != nil {
			t.Skip("poppler's pdftotext is not installed")
		}
		path := filepath.Join(t.TempDir(), "a.pdf")
		require.NoError(t, os.WriteFile(path, once, 0o644))
		out, err := exec.Command(program, "-layout", path, "-").Output()
		require.NoError(t, err)
		words := strings.Join(strings.Fields(string(out)), " ")
		require.Contains(t, words, "Préface & Vorwort Fingersätze fett, kursiv, *so* und F♯4, E♭5,")
		require.Contains(t, words, "– erstens – zweitens Ziffern Noten 3 12 Last End.")
		require.NotContains(t, words, "<script")
	})
}

// The statistics of a German edition: words of a table stay whole where smaller print has room for them.
func TestWordsOfATableStayWhole(t *testing.T) {
	program, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("poppler's pdftotext is not installed")
	}
	table := "| Stück | Noten | Ziffern | vom Komponisten | von früherer Hand | vom Herausgeber | offen | anders als beim Komponisten |\n" +
		"|---|--:|--:|--:|--:|--:|--:|--:|\n| Die Insel der Vergessenheit | 1080 | 480 | 0 | 0 | 0 | 480 | 0 |\n"
	data, err := printed.PDF(printed.Text{Title: "Statistik", Language: "de", Markdown: []byte(table)})
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "a.pdf")
	require.NoError(t, os.WriteFile(path, data, 0o644))
	out, err := exec.Command(program, "-layout", path, "-").Output()
	require.NoError(t, err)
	for _, word := range []string{"Komponisten", "Herausgeber", "Vergessenheit", "früherer"} {
		require.Contains(t, string(out), word)
	}
}
