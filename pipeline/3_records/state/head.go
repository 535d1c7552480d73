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
	head, err := Head(in)
	if err != nil {
		return nil, err
	}
	return Decode(head)
}

// Head is everything of a results file but its notes, as the file of a piece without any.
func Head(in io.Reader) ([]byte, error) {
	var head bytes.Buffer
	r := bufio.NewReaderSize(in, 1<<16)
	for {
		line, err := r.ReadSlice('\n')
		if head.Len() > 0 && bytes.HasPrefix(line, notesLine) && head.Bytes()[head.Len()-1] == '\n' {
			head.WriteString(`"notes":[]}`)
			return head.Bytes(), nil
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
