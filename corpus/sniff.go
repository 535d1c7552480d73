package corpus

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/corpus/strictyaml"
	"fingerproof/corpus/wording"
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
		return fmt.Errorf("%s is %s, not a MusicXML or MEI score\nhint: %s", path, what, hint)
	}
	const export = "export the score as MusicXML (.musicxml or .mxl) or MEI (.mei) from the program it was made with"
	switch {
	case bytes.HasPrefix(head, []byte("%PDF")):
		return fail("a PDF", "a picture of the page holds no notes to finger; "+export)
	case bytes.HasPrefix(head, []byte("MThd")):
		return fail("a MIDI file", "MIDI knows no staves, slurs or digits; "+export)
	case startsWith(head, "\x89PNG", "\xff\xd8\xff", "GIF8", "II*\x00", "MM\x00*"):
		return fail("a picture", "a picture of the page holds no notes to finger; "+export)
	}
	if IsScore(path) {
		return nil
	}
	if bytes.Contains(head, []byte("<?xml")) || bytes.Contains(head, []byte("<score-partwise")) || bytes.Contains(head, []byte("<mei")) {
		return fail(
			"a file whose name does not end in .musicxml, .xml, .mxl or .mei",
			"rename it, so that its edition can keep the name",
		)
	}
	ext := strings.ToLower(filepath.Ext(path))
	if what, known := kinds[ext]; known {
		return fail(what, export)
	}
	if ext == "" {
		return fail("a file whose name has no extension", "scores end in .musicxml, .xml, .mxl or .mei; "+export)
	}
	return fail("a "+strictyaml.Quote(ext)+" file", export)
}

// kinds are files that people have in the place of a score.
var kinds = map[string]string{
	".mid": "a MIDI file", ".midi": "a MIDI file", ".ly": "text for an engraver",
	".krn": "a kern file", ".abc": "an ABC file",
	".sib": "a notation program's own file (.sib)", ".mus": "a notation program's own file (.mus)",
	".musx": "a notation program's own file (.musx)",
	".mscz": "a notation program's own file (.mscz)", ".mscx": "a notation program's own file (.mscx)",
	".dorico": "a notation program's own file (.dorico)",
	".doc":    "a text document", ".docx": "a text document", ".odt": "a text document", ".zip": "an archive",
	".7z": "an archive",
}

// OtherMusic says which files of a folder hold music, or a picture of it, in a form that is not read: "2 MIDI files and 1
// PDF"; "" where there are none. It goes by their names.
func OtherMusic(dir string) string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return ""
	}
	counts := map[string]int{}
	var order []string
	for _, e := range entries {
		ext := strings.ToLower(filepath.Ext(e.Name()))
		word := plurals[ext]
		if word == "" || e.IsDir() || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if counts[word] == 0 {
			order = append(order, word)
		}
		counts[word]++
	}
	for i, word := range order {
		order[i] = wording.Count(counts[word], word)
	}
	return wording.List(order)
}

// plurals are forms of music that are not read, as they are counted.
var plurals = map[string]string{
	".mid": "MIDI file", ".midi": "MIDI file", ".pdf": "PDF", ".ly": "LilyPond file", ".krn": "kern file",
	".abc": "ABC file", ".sib": "notation program's own file", ".mus": "notation program's own file",
	".musx": "notation program's own file", ".mscz": "notation program's own file", ".mscx": "notation program's own file",
	".dorico": "notation program's own file", ".png": "picture", ".jpg": "picture", ".jpeg": "picture", ".tif": "picture",
	".tiff": "picture",
}

// noSuchPath says that nothing lies at a path, and what lies beside it under
// a name that is nearly the same.
func noSuchPath(path string) error {
	hint := "name a score (.musicxml, .xml, .mxl, .mei), a folder of scores, or a " + ManifestName
	if near := nearName(path); near != "" {
		hint = fmt.Sprintf("did you mean %q?", filepath.Join(filepath.Dir(path), near))
	}
	if err := linkToNothing(path, path); err != nil {
		return err
	}
	return fmt.Errorf("there is no file or folder %s\nhint: %s", path, hint)
}

// linkToNothing says of a path that is not there that it is a link whose file is gone, by the name that its reader knows; nil where
// it is none.
func linkToNothing(path, name string) error {
	to, err := os.Readlink(path)
	if err != nil {
		return nil //nolint:nilerr // it is no link
	}
	return fmt.Errorf("%s is a link to %s, which is not there\nhint: mend the link or take it away", name, to)
}

// nearName finds a name in the same folder that is nearly that of a path.
func nearName(path string) string {
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(entries) > 10_000 {
		return "" // a hint is not worth more
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return strictyaml.NearestFile(filepath.Base(path), names)
}

// startsWith says that a file begins with one of the signatures.
func startsWith(head []byte, signatures ...string) bool {
	return slices.ContainsFunc(signatures, func(s string) bool { return bytes.HasPrefix(head, []byte(s)) })
}
