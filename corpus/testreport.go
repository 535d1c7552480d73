package corpus

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// isTestReport says that a file of a score's name is a report for the test view
// of a CI, as lint writes one: whoever lints the folder they stand in and leaves
// the report there must not find it among the scores the next night.
func isTestReport(path string) bool {
	if !strings.EqualFold(filepath.Ext(path), ".xml") {
		return false
	}
	f, err := os.Open(path)
	if err != nil {
		return false // reading it as a score says what is wrong
	}
	defer f.Close()
	head, _ := io.ReadAll(io.LimitReader(f, 512))
	return bytes.Contains(head, []byte("<testsuites"))
}
