package source

import (
	"bytes"
	"compress/flate"
	"sync"
)

// deflaters pack as small as can be. One takes more memory than most of what it packs: they are used again.
var deflaters = sync.Pool{New: func() any {
	w, err := flate.NewWriter(nil, flate.BestCompression)
	if err != nil {
		panic(err) // there is such a level
	}
	return w
}}

// deflate packs data.
func deflate(data []byte) ([]byte, error) {
	var b bytes.Buffer
	b.Grow(len(data)/8 + 512) // scores repeat themselves a great deal
	w := deflaters.Get().(*flate.Writer)
	defer deflaters.Put(w)
	w.Reset(&b)
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
