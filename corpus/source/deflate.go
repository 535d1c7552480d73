package source

import (
	"bytes"
	"compress/flate"
	"sync"
)

// How small data is packed: records, which stand in a text in letters, as small as can be; scores as small as is usual,
// which takes a third of the time and a sixth more room.
const (
	smallest = flate.BestCompression
	usual    = flate.DefaultCompression
)

// deflaters pack, by how small. One takes more memory than most of what it packs: they are used again.
var deflaters = map[int]*sync.Pool{smallest: newDeflaters(smallest), usual: newDeflaters(usual)}

func newDeflaters(level int) *sync.Pool {
	return &sync.Pool{New: func() any {
		w, err := flate.NewWriter(nil, level)
		if err != nil {
			panic(err) // there is such a level
		}
		return w
	}}
}

// deflate packs data.
func deflate(data []byte, level int) ([]byte, error) {
	var b bytes.Buffer
	b.Grow(len(data)/8 + 512) // scores repeat themselves a great deal
	w := deflaters[level].Get().(*flate.Writer)
	defer deflaters[level].Put(w)
	w.Reset(&b)
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
