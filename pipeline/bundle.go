package pipeline

import (
	"encoding/binary"
	"slices"
)

// bundle is what the stages of one piece keep, as one entry: to make a file takes longer than to write most of what is in
// it. It lies under the key of the first stage that searches, on which all the others stand.
type bundle struct {
	plain  *Kept
	key    string
	parts  []bundled
	more   bool // something was put
	closed bool // what is asked for from now on has entries of its own
}

// bundled is an entry in a bundle.
type bundled struct {
	key  string
	data []byte
	used bool // this run asked for it
}

// mostBundled is how many entries are in a bundle at most: those of the stages for several policies that search alike.
const mostBundled = 24

// bundleKept has what a run keeps put into one entry from now on, and gives what is called when its stages are through.
func (run *PieceRun) bundleKept() (done func()) {
	if run.Kept == nil {
		return func() {}
	}
	b := &bundle{plain: run.Kept, key: run.keptKey("bundle", keptStages[0])}
	b.parts = bundledIn(b.plain.Get(b.key))
	run.Kept = &Kept{Program: b.plain.Program, Get: b.get, Put: b.put}
	return b.close
}

func (b *bundle) find(key string) int {
	return slices.IndexFunc(b.parts, func(p bundled) bool { return p.key == key })
}

func (b *bundle) get(key string) []byte {
	if b.closed {
		return b.plain.Get(key)
	}
	i := b.find(key)
	if i < 0 {
		return nil
	}
	b.parts[i].used = true
	return b.parts[i].data
}

func (b *bundle) put(key string, data []byte) {
	if b.closed {
		b.plain.Put(key, data)
		return
	}
	if i := b.find(key); i >= 0 { // it could not be read
		b.parts = slices.Delete(b.parts, i, i+1)
	}
	b.parts, b.more = append(b.parts, bundled{key, data, true}), true
}

// close writes the bundle where something is new: what this run asked for, and of the rest the latest.
func (b *bundle) close() {
	b.closed = true
	if b.more {
		for i := 0; i < len(b.parts) && len(b.parts) > mostBundled; {
			if b.parts[i].used {
				i++
				continue
			}
			b.parts = slices.Delete(b.parts, i, i+1)
		}
		size := 0
		for _, p := range b.parts {
			size += len(p.key) + binary.MaxVarintLen64 + len(p.data)
		}
		out := make([]byte, 0, size)
		for _, p := range b.parts {
			out = append(out, p.key...)
			out = binary.AppendUvarint(out, uint64(len(p.data)))
			out = append(out, p.data...)
		}
		b.plain.Put(b.key, out)
	}
	b.parts = nil
}

// keyLength is how long a key is (PieceRun.keptKey).
const keyLength = 64

// bundledIn reads what close writes, as far as it is whole.
func bundledIn(data []byte) (out []bundled) {
	for len(data) > keyLength {
		size, n := binary.Uvarint(data[keyLength:])
		if n <= 0 || size > uint64(len(data)-keyLength-n) {
			return out
		}
		from, to := keyLength+n, keyLength+n+int(size)
		out = append(out, bundled{key: string(data[:keyLength]), data: data[from:to:to]})
		data = data[to:]
	}
	return out
}
