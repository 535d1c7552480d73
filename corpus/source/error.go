package source

import (
	"fmt"
	"strings"
)

// Error is a fault in a file, with the place where it stands.
type Error struct {
	File         string // as the caller named it
	Entry        string // inside a compressed file; empty otherwise
	Line, Column int    // 1…, column in characters; 0 where there is no place
	Problem      string
	Hint         string // what to try; may be empty
	Err          error  // the cause; may be nil
}

// Error prints "file:line:col: problem: cause" and the hint on its own line.
// A place inside a compressed file is "file(entry):line:col".
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Entry != "" {
		fmt.Fprintf(&b, "(%s)", e.Entry)
	}
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", e.Line, e.Column)
	}
	b.WriteString(": " + e.Problem)
	if e.Err != nil {
		b.WriteString(": " + e.Err.Error())
	}
	if e.Hint != "" {
		b.WriteString("\nhint: " + e.Hint)
	}
	return b.String()
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Err }
