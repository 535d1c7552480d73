package files

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/klauspost/compress/s2"
)

// Cache is a folder that keeps what was worked out, by a key that stands for everything it was worked out from: 64
// hexadecimal digits. What is kept may vanish at any time and is then worked out again. Several programs may use one at
// once: an entry is put in place whole, and one that is damaged is none.
type Cache struct{ dir string }

// cacheForm is the folder of entries of this form: it changes when entries are written otherwise.
const cacheForm = "entries-5"

// formerForms are folders of entries that earlier versions of the program wrote: Trim takes them out.
var formerForms = []string{"entries-1", "entries-2", "entries-3", "entries-4"}

// OpenCache gives the cache in a folder, which is made when the first entry is put.
func OpenCache(dir string) *Cache { return &Cache{filepath.Join(dir, cacheForm)} }

// Dir is the folder of the entries.
func (c *Cache) Dir() string { return c.dir }

// path is where an entry lies: in one of 16 folders, for to make one costs as much as an entry.
func (c *Cache) path(key string) string { return filepath.Join(c.dir, key[:1], key[1:]) }

// Get gives all parts of what is kept under a key, one behind the other; nil where there is nothing or what lies there is damaged.
func (c *Cache) Get(key string) []byte {
	e := c.Open(key)
	if e == nil {
		return nil
	}
	data, ok := unpacked(e.parts...)
	if !ok {
		return nil
	}
	return data
}

// Entry is what is kept under a key, whole and packed: a part of it is unpacked when it is asked for.
type Entry struct{ parts [][]byte }

// Open gives what is kept under a key; nil where there is nothing or what lies there is damaged.
func (c *Cache) Open(key string) *Entry {
	path := c.path(key)
	packed, err := Read(path, StateLimit)
	if err != nil || len(packed) < sha256.Size {
		return nil
	}
	sum, packed := packed[:sha256.Size], packed[sha256.Size:]
	if now := sha256.Sum256(packed); !bytes.Equal(sum, now[:]) {
		return nil
	}
	var e Entry
	for len(packed) > 0 {
		part, rest, ok := cutOff(packed)
		if !ok {
			return nil
		}
		e.parts, packed = append(e.parts, part), rest
	}
	now := time.Now()
	_ = os.Chtimes(path, now, now) // by which Trim knows what is used; a folder that may only be read serves too
	return &e
}

// Part gives a part of an entry, from 0, as it was put; nil for one that was put without bytes or is not there.
func (e *Entry) Part(k int) []byte {
	if k >= len(e.parts) || len(e.parts[k]) == 0 {
		return nil
	}
	data, ok := unpacked(e.parts[k])
	if !ok {
		return nil
	}
	return data
}

// rooms is memory to pack in, used again: a few pieces are packed at once, and most are large.
var rooms struct {
	sync.Mutex
	free [][]byte
}

// How many rooms are kept, and how large one is at most.
const (
	mostRooms   = 4
	largestRoom = 8 << 20
)

// room gives memory of at least a size; leave gives it back.
func room(size int) []byte {
	rooms.Lock()
	defer rooms.Unlock()
	last := len(rooms.free) - 1
	if last < 0 {
		return make([]byte, size, size+size/2)
	}
	r := rooms.free[last]
	rooms.free = rooms.free[:last]
	if cap(r) < size {
		return make([]byte, size, size+size/2)
	}
	return r[:size]
}

func leave(r []byte) {
	rooms.Lock()
	defer rooms.Unlock()
	if len(rooms.free) < mostRooms && cap(r) <= largestRoom {
		rooms.free = append(rooms.free, r)
	}
}

// longestBlock is how much is packed as one block: what a few parts hold is never laid side by side for it.
const longestBlock = 4 << 20

// Put keeps data, in one part or in several, under a key. Entries are packed fast rather than small: a run from the cache
// should cost next to nothing. Each part is packed by itself, behind its length, in blocks, each behind its own.
func (c *Cache) Put(key string, parts ...[]byte) error {
	most := 0
	for _, part := range parts {
		most += binary.MaxVarintLen64
		for block := range slices.Chunk(part, longestBlock) {
			most += binary.MaxVarintLen64 + s2.MaxEncodedLen(len(block))
		}
	}
	space := room(most)
	defer leave(space)
	packed := space[:0]
	for _, part := range parts {
		packed = packInto(packed, space, part)
	}
	path, sum := c.path(key), sha256.Sum256(packed)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("making the folder of the cache: %w", err)
	}
	return place(path, 0o600, false, sum[:], packed)
}

// packInto packs a part behind what is packed already at the beginning of the same space.
func packInto(packed, space, part []byte) []byte {
	start := len(packed) + binary.MaxVarintLen64
	blocks := space[start:start]
	for block := range slices.Chunk(part, longestBlock) {
		at := start + len(blocks) + binary.MaxVarintLen64
		n := len(s2.Encode(space[at:], block))
		blocks = binary.AppendUvarint(blocks, uint64(n))
		blocks = append(blocks, space[at:at+n]...)
	}
	packed = binary.AppendUvarint(packed, uint64(len(blocks)))
	return append(packed, blocks...)
}

// unpacked gives what Put packed as these parts; false where they are not what Put writes.
func unpacked(parts ...[]byte) ([]byte, bool) {
	size := 0
	for _, part := range parts {
		for rest := part; len(rest) > 0; {
			block, after, ok := cutOff(rest)
			n, err := s2.DecodedLen(block)
			if !ok || err != nil || size+n > StateLimit {
				return nil, false
			}
			size, rest = size+n, after
		}
	}
	out, at := make([]byte, size), 0
	for _, part := range parts {
		for rest := part; len(rest) > 0; {
			block, after, _ := cutOff(rest)
			got, err := s2.Decode(out[at:], block)
			if err != nil || at+len(got) > len(out) {
				return nil, false
			}
			at, rest = at+len(got), after
		}
	}
	return out, true
}

// cutOff parts what stands behind its length from what follows it.
func cutOff(packed []byte) (first, rest []byte, ok bool) {
	n, digits := binary.Uvarint(packed)
	if digits <= 0 || n > uint64(len(packed)-digits) {
		return nil, nil, false
	}
	return packed[digits:][:n], packed[digits:][n:], true
}

// CacheSize is what a cache holds.
type CacheSize struct {
	Entries int
	Bytes   int64
}

// entry is a file of the cache.
type entry struct {
	path string
	size int64
	used time.Time
}

func (c *Cache) entries() (out []entry, err error) {
	err = filepath.WalkDir(c.dir, func(path string, d fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) { // another program takes entries out
			return nil
		}
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil {
			return err
		}
		if strings.HasPrefix(d.Name(), ".") && time.Since(info.ModTime()) < time.Hour {
			return nil // another program is writing it
		}
		out = append(out, entry{path, info.Size(), info.ModTime()})
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("looking through the cache: %w", err)
	}
	return out, nil
}

// Size counts the entries.
func (c *Cache) Size() (s CacheSize, err error) {
	all, err := c.entries()
	for _, e := range all {
		s.Entries, s.Bytes = s.Entries+1, s.Bytes+e.size
	}
	return s, err
}

// Trim takes out what was not used since a time, and of the rest what was not used for longest until it is no larger
// than most bytes.
func (c *Cache) Trim(since time.Time, most int64) error {
	all, err := c.entries()
	if err != nil {
		return err
	}
	slices.SortFunc(all, func(a, b entry) int {
		if d := b.used.Compare(a.used); d != 0 {
			return d
		}
		return strings.Compare(a.path, b.path)
	})
	var faults []error
	for _, form := range formerForms {
		faults = append(faults, os.RemoveAll(filepath.Join(filepath.Dir(c.dir), form)))
	}
	for _, e := range all {
		if most -= e.size; most >= 0 && !e.used.Before(since) {
			continue
		}
		if err := os.Remove(e.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			faults = append(faults, err)
		}
	}
	return errors.Join(faults...)
}

// Clear takes out all entries, and nothing else that may lie in the folder.
func (c *Cache) Clear() error { return c.Trim(time.Time{}, -1) }
