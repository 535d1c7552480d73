package printed_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/reports/printed"

	"github.com/stretchr/testify/require"
)

// Headings stand on the sheet of the text below them, a heading below a heading too, wherever on the sheet they come. What
// stands on a sheet is read by poppler's pdftotext.
func TestHeadingsKeepWithTheirText(t *testing.T) {
	program, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("poppler's pdftotext is not installed")
	}
	path := filepath.Join(t.TempDir(), "a.pdf")
	turned := 0
	for lines := 38; lines < 52; lines++ {
		text := strings.Repeat("- filling\n", lines) + "\n## A piece with a name so long that the heading over what is remarked of it " +
			"wants a second line\n\n### Its section\n\nWhat is said of it.\n"
		data, err := printed.PDF(printed.Text{Title: "Headings", Language: "en", Markdown: []byte(text)})
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(path, data, 0o644))
		out, err := exec.Command(program, "-layout", path, "-").Output()
		require.NoError(t, err)
		sheets := strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
		first := strings.Contains(sheets[0], "A piece with")
		require.Equal(t, first, strings.Contains(sheets[0], "Its section"), "%d lines before it", lines)
		require.Equal(t, first, strings.Contains(sheets[0], "What is said"), "%d lines before it", lines)
		require.NotEmpty(t, strings.TrimSpace(sheets[0]))
		if !first {
			turned++
			require.Len(t, sheets, 2, "%d lines before it", lines)
		}
	}
	require.Positive(t, turned)
	require.Less(t, turned, 14, "some stand on the first sheet")
}
