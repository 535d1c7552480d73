package corpus

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// wrongFile says what a file is that is no score, nil where it may be one.
// Its content is trusted before its name.
func wrongFile(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("opening %s: %w", path, err)
	}
	defer f.Close()
	head := make([]byte, 512)
	n, err := io.ReadFull(f, head)
	if err != nil && n == 0 {
		if err == io.EOF {
			return fmt.Errorf("%s is empty", path)
		}
		return fmt.Errorf("reading %s: %w", path, err)
	}
	head = head[:n]
	fail := func(what, hint string) error {
		return fmt.Errorf("%s is %s, not a MusicXML score\nhint: %s", path, what, hint)
	}
	const export = "export the score as MusicXML (.musicxml or .mxl) from the program it was made with"
	switch {
	case bytes.HasPrefix(head, []byte("%PDF")):
		return fail("a PDF", "a picture of the page holds no notes to finger; "+export)
	case bytes.HasPrefix(head, []byte("MThd")):
		return fail("a MIDI file", "MIDI knows no staves, slurs or digits; "+export)
	case bytes.HasPrefix(head, []byte("\x89PNG")), bytes.HasPrefix(head, []byte("\xff\xd8\xff")), bytes.HasPrefix(head, []byte("GIF8")), bytes.HasPrefix(head, []byte("II*\x00")), bytes.HasPrefix(head, []byte("MM\x00*")):
		return fail("a picture", "a picture of the page holds no notes to finger; "+export)
	}
	if IsScore(path) {
		return nil
	}
	if bytes.Contains(head, []byte("<?xml")) || bytes.Contains(head, []byte("<score-partwise")) {
		return fail("a file whose name does not end in .musicxml, .xml or .mxl", "rename it, so that its edition can keep the name")
	}
	ext := strings.ToLower(filepath.Ext(path))
	if ext == "" {
		ext = "nameless"
	}
	return fail("a "+ext+" file", export)
}
