package state

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
)

// notesLine begins the last part of a results file, as Encode writes it.
var notesLine = []byte(`"notes":[`)

// DecodeHead reads everything of a results file but its notes, which are most
// of it: what lint says of the piece and what that stands on. It reads files as
// Encode writes them; others are errors.
func DecodeHead(in io.Reader) (*Result, error) {
	var head bytes.Buffer
	r := bufio.NewReaderSize(in, 1<<16)
	for {
		line, err := r.ReadSlice('\n')
		if head.Len() > 0 && bytes.HasPrefix(line, notesLine) && head.Bytes()[head.Len()-1] == '\n' {
			head.WriteString(`"notes":[]}`)
			return Decode(head.Bytes())
		}
		head.Write(line)
		if errors.Is(err, bufio.ErrBufferFull) {
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("reading results: the file ends before its notes")
		}
	}
}
