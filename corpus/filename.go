package corpus

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longestName is how many bytes a name may have that files are named by: systems take 255, and to an id come initials,
// an ending, and the letters of a file that is being written.
const longestName = 200

// isFileName reports whether results and pages can be named so on every
// editor's machine.
func isFileName(id string) bool {
	return id != "" && !strings.ContainsAny(id, `/\:*?"<>|`) && !strings.ContainsFunc(id, unicode.IsControl) &&
		!strings.HasPrefix(id, ".") && !strings.HasSuffix(id, ".") && strings.TrimSpace(id) == id &&
		len(id) <= longestName && utf8.ValidString(id) && !isDevice(id)
}

// isDevice reports whether Windows takes a name for a device, whatever ending it has: CON, NUL, COM1 and so on (its
// maker's page on naming files; the list is from memory).
func isDevice(name string) bool {
	stem, _, _ := strings.Cut(name, ".")
	stem = strings.ToUpper(strings.TrimRight(stem, " "))
	switch stem {
	case "CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$":
		return true
	}
	port, number := strings.CutPrefix(stem, "COM")
	if !number {
		port, number = strings.CutPrefix(stem, "LPT")
	}
	return number && len([]rune(port)) == 1 && strings.Contains("0123456789¹²³", port)
}

// NotForWindows is the first part of a path with slashes that leads elsewhere on Windows than to a file of this name:
// a device, or a name with a colon, which marks a drive or a stream there. It is empty where there is none. These are
// the paths that Go's filepath.IsLocal refuses on Windows.
func NotForWindows(path string) string {
	for part := range strings.SplitSeq(path, "/") {
		if strings.Contains(part, ":") || isDevice(part) {
			return part
		}
	}
	return ""
}

// tooLong is what is wrong with the name of a score after whose file others are named; nil where nothing is.
func tooLong(name string) error {
	if len(name) <= longestName {
		return nil
	}
	short := []rune(name)
	return fmt.Errorf("the file name %s… is too long: it has %d bytes, and what is written after it can have %d\n"+
		"hint: rename the file", string(short[:min(len(short), 24)]), len(name), longestName)
}
