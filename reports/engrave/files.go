package engrave

import (
	"bytes"
	"path"
	"sort"

	"github.com/tetratelabs/wazero/api"
)

// embeddedFiles is the read-only file system of one instance: the music fonts that lie in the module's own memory.
type embeddedFiles struct {
	content map[string]span     // absolute path -> where its bytes lie in memory
	folders map[string][]string // absolute path -> sorted names in it
	opened  []*openFile         // by descriptor, counted from firstDescriptor
}

type span struct{ at, size uint32 }

type openFile struct {
	span
	names    []string // of a folder
	folder   bool
	path     string
	position int64
}

const firstDescriptor = 3

func newEmbeddedFiles() *embeddedFiles {
	return &embeddedFiles{content: map[string]span{}, folders: map[string][]string{"/": nil}}
}

// load reads the table of (name, length, content) triples that ends in a zero name.
func (f *embeddedFiles) load(memory api.Memory, table uint32) {
	for ; ; table += 12 {
		name, ok := memory.ReadUint32Le(table)
		if !ok || name == 0 {
			break
		}
		size, _ := memory.ReadUint32Le(table + 4)
		at, _ := memory.ReadUint32Le(table + 8)
		file := path.Clean("/" + readString(memory, name, 4096))
		f.content[file] = span{at, size}
		for child := file; child != "/"; child = path.Dir(child) {
			parent := path.Dir(child)
			_, known := f.folders[parent]
			f.folders[parent] = append(f.folders[parent], path.Base(child))
			if known {
				break
			}
		}
	}
	for folder, names := range f.folders {
		sort.Strings(names)
		f.folders[folder] = names
	}
}

func (f *embeddedFiles) open(name string) uint64 {
	name = path.Clean("/" + name)
	file := &openFile{path: name}
	if content, ok := f.content[name]; ok {
		file.span = content
	} else if names, ok := f.folders[name]; ok {
		file.folder, file.names = true, append([]string{".", ".."}, names...)
	} else {
		return failure(errNoEntry)
	}
	for i, slot := range f.opened {
		if slot == nil {
			f.opened[i] = file
			return uint64(i + firstDescriptor)
		}
	}
	f.opened = append(f.opened, file)
	return uint64(len(f.opened) - 1 + firstDescriptor)
}

func (f *embeddedFiles) get(descriptor uint32) *openFile {
	if i := int(descriptor) - firstDescriptor; i >= 0 && i < len(f.opened) {
		return f.opened[i]
	}
	return nil
}

func (f *embeddedFiles) close(descriptor uint32) uint64 {
	if f.get(descriptor) == nil {
		return errBadFile
	}
	f.opened[descriptor-firstDescriptor] = nil
	return 0
}

// read fills the scattered buffers (address, length) and writes how many bytes it gave.
func (f *embeddedFiles) read(memory api.Memory, descriptor, buffers, count, given uint32) uint64 {
	file := f.get(descriptor)
	if file == nil || file.folder {
		return errBadFile
	}
	total := uint32(0)
	for i := range count {
		target, _ := memory.ReadUint32Le(buffers + 8*i)
		room, _ := memory.ReadUint32Le(buffers + 8*i + 4)
		left := int64(file.size) - file.position
		size := uint32(max(0, min(int64(room), left)))
		chunk, ok := memory.Read(file.at+uint32(file.position), size)
		if size > 0 && (!ok || !memory.Write(target, chunk)) {
			return errInvalid
		}
		file.position += int64(size)
		total += size
		if size < room {
			break
		}
	}
	memory.WriteUint32Le(given, total)
	return 0
}

func (f *embeddedFiles) seek(memory api.Memory, descriptor uint32, offset int64, whence, result uint32) uint64 {
	file := f.get(descriptor)
	if file == nil {
		return errBadFile
	}
	base, ok := map[uint32]int64{0: 0, 1: file.position, 2: int64(file.size)}[whence]
	if !ok || base+offset < 0 {
		return errInvalid
	}
	file.position = base + offset
	memory.WriteUint64Le(result, uint64(file.position))
	return 0
}

// list writes directory entries of 280 bytes: inode, offset, length, type, name.
func (f *embeddedFiles) list(memory api.Memory, descriptor, target, room uint32) uint64 {
	const (
		entrySize  = 280
		typeFolder = 4
		typeFile   = 8
	)
	file := f.get(descriptor)
	if file == nil || !file.folder {
		return failure(errBadFile)
	}
	written := uint32(0)
	for written+entrySize <= room && file.position/entrySize < int64(len(file.names)) {
		index := file.position / entrySize
		name := file.names[index]
		kind := byte(typeFolder)
		if _, isFile := f.content[path.Join(file.path, name)]; isFile {
			kind = typeFile
		}
		entry := make([]byte, entrySize)
		at := target + written
		copy(entry[19:entrySize-1], name)
		entry[18] = kind
		memory.Write(at, entry)
		memory.WriteUint64Le(at, uint64(index+1))
		memory.WriteUint64Le(at+8, uint64((index+1)*entrySize))
		memory.WriteUint16Le(at+16, entrySize)
		written += entrySize
		file.position += entrySize
	}
	return uint64(written)
}

// swallow takes what the engraver writes to its standard output and reports it written.
func swallow(memory api.Memory, buffers, count, given uint32) uint64 {
	total := uint32(0)
	for i := range count {
		size, _ := memory.ReadUint32Le(buffers + 8*i + 4)
		total += size
	}
	memory.WriteUint32Le(given, total)
	return 0
}

// readString reads a NUL-terminated string of at most limit bytes (0: no limit but the memory's end).
func readString(memory api.Memory, at uint32, limit int) string {
	if at == 0 || at >= memory.Size() {
		return ""
	}
	room := memory.Size() - at
	if limit > 0 {
		room = min(room, uint32(limit))
	}
	view, ok := memory.Read(at, room)
	if !ok {
		return ""
	}
	if end := bytes.IndexByte(view, 0); end >= 0 {
		view = view[:end]
	}
	return string(view)
}
