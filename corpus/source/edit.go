package source

import (
	"fmt"
	"slices"
	"strings"
)

// Edit replaces Old, which stands at Offset, by New. Offsets count the bytes
// of the decoded text (Document.Text) as it was before any edit.
type Edit struct {
	Offset int    `json:"offset"`
	Old    string `json:"old,omitempty"`
	New    string `json:"new,omitempty"`
}

// Sort puts edits in order of offset. Edits at the same offset keep their
// order: their new texts follow each other.
func Sort(edits []Edit) {
	slices.SortStableFunc(edits, func(a, b Edit) int { return a.Offset - b.Offset })
}

// Apply returns the text with all edits made. They must be sorted, must not
// overlap, and each must find its old text in its place.
func Apply(text string, edits []Edit) (string, error) {
	size := len(text)
	at := 0
	for i, e := range edits {
		if e.Offset < at || e.Offset > len(text)-len(e.Old) {
			return "", fmt.Errorf("applying edit %d at offset %d: it overlaps the edit before, is out of order or lies outside the text", i, e.Offset)
		}
		if text[e.Offset:e.Offset+len(e.Old)] != e.Old {
			return "", fmt.Errorf("applying edit %d at offset %d: the text there is not %q", i, e.Offset, e.Old)
		}
		at = e.Offset + len(e.Old)
		size += len(e.New) - len(e.Old)
	}
	var out strings.Builder
	out.Grow(size)
	at = 0
	for _, e := range edits {
		out.WriteString(text[at:e.Offset])
		out.WriteString(e.New)
		at = e.Offset + len(e.Old)
	}
	out.WriteString(text[at:])
	return out.String(), nil
}

// Invert returns the edits that take these back: applied to the edited text
// they give the text before, exactly. Edits must be sorted.
func Invert(edits []Edit) []Edit {
	out := make([]Edit, len(edits))
	shift := 0
	for i, e := range edits {
		out[i] = Edit{Offset: e.Offset + shift, Old: e.New, New: e.Old}
		shift += len(e.New) - len(e.Old)
	}
	return out
}
