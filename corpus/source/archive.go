package source

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"hash/crc32"
	"io"
	"path"
	"strings"
)

// containerPath and containerRoot are where a compressed score says which of
// its entries is the score (MusicXML 4.0, container file format).
const containerPath = "META-INF/container.xml"

// freeInflation is how large an unpacked entry may be whatever its ratio:
// scores repeat themselves a great deal.
const freeInflation = 16 << 20

// archive is a compressed score: a zip file of which one entry is the score.
type archive struct {
	reader *zip.Reader
	root   *zip.File
	text   []byte // the score's bytes, unpacked
}

func openArchive(name string, data []byte, limits Limits) (*archive, error) {
	fail := func(problem, hint string, err error) (*archive, error) {
		return nil, &Error{File: name, Problem: problem, Hint: hint, Err: err}
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return fail("opening the compressed score", "the file may have been cut off on the way: fetch it again", err)
	}
	if len(z.File) > limits.Entries {
		return fail(fmt.Sprintf("the compressed score has %d entries, more than the %d allowed", len(z.File), limits.Entries), "", nil)
	}
	byName := make(map[string]*zip.File, len(z.File))
	for _, f := range z.File {
		if strings.Contains(f.Name, `\`) || path.IsAbs(f.Name) || strings.Contains(f.Name, "\x00") || climbs(f.Name) {
			return fail(fmt.Sprintf("the entry %q of the compressed score leads out of it", f.Name), "pack the score again", nil)
		}
		if byName[f.Name] != nil {
			return fail(fmt.Sprintf("the compressed score has two entries named %q", f.Name), "pack the score again", nil)
		}
		byName[f.Name] = f
	}
	container := byName[containerPath]
	if container == nil {
		return fail("the compressed score lacks "+containerPath+", which says which entry is the score",
			"export the score again, or take the .musicxml out of it", nil)
	}
	box, err := inflate(container, min(limits.TextBytes, 1<<16), limits.Inflation)
	if err != nil {
		return nil, &Error{File: name, Entry: containerPath, Problem: "unpacking", Err: err}
	}
	rootName, err := rootFile(box)
	if err != nil {
		return nil, &Error{File: name, Entry: containerPath, Problem: "reading which entry is the score", Err: err}
	}
	root := byName[rootName]
	if root == nil {
		return nil, &Error{File: name, Entry: containerPath, Problem: fmt.Sprintf("the score is said to be %q, and there is no such entry", rootName)}
	}
	text, err := inflate(root, limits.TextBytes, limits.Inflation)
	if err != nil {
		return nil, &Error{File: name, Entry: rootName, Problem: "unpacking", Err: err}
	}
	return &archive{reader: z, root: root, text: text}, nil
}

func climbs(name string) bool {
	for _, step := range strings.Split(name, "/") {
		if step == ".." {
			return true
		}
	}
	return false
}

// rootFile reads the container and returns the name of the score's entry: the
// first rootfile, as the format has it.
func rootFile(box []byte) (string, error) {
	text, _, fault := decode(box)
	if fault != nil {
		return "", fault
	}
	var container struct {
		XMLName   xml.Name
		Rootfiles []struct {
			Path string `xml:"full-path,attr"`
			Type string `xml:"media-type,attr"`
		} `xml:"rootfiles>rootfile"`
	}
	d := xml.NewDecoder(strings.NewReader(text))
	d.CharsetReader = func(_ string, r io.Reader) (io.Reader, error) { return r, nil }
	if err := d.Decode(&container); err != nil {
		return "", err
	}
	if container.XMLName.Local != "container" {
		return "", fmt.Errorf("its root element is <%s>, not <container>", container.XMLName.Local)
	}
	if len(container.Rootfiles) == 0 || container.Rootfiles[0].Path == "" {
		return "", fmt.Errorf("it names no rootfile")
	}
	return container.Rootfiles[0].Path, nil
}

// inflate unpacks one entry, never more than limit bytes, whatever its header
// promises.
func inflate(f *zip.File, limit, ratio int64) ([]byte, error) {
	if f.Flags&1 != 0 {
		return nil, fmt.Errorf("the entry is encrypted")
	}
	if packed := int64(min(f.CompressedSize64, 1<<40)); packed*ratio > freeInflation {
		limit = min(limit, packed*ratio)
	} else {
		limit = min(limit, freeInflation)
	}
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	out, err := io.ReadAll(io.LimitReader(r, limit+1))
	if err != nil {
		return nil, err
	}
	if int64(len(out)) > limit {
		return nil, fmt.Errorf("it unpacks to more than %d bytes from %d", limit, f.CompressedSize64)
	}
	return out, nil
}

// repack writes the archive with new bytes for the score. All other entries
// are copied as they are, packed, in their order.
func (a *archive) repack(text []byte) ([]byte, error) {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	if err := w.SetComment(a.reader.Comment); err != nil {
		return nil, fmt.Errorf("keeping the archive's comment: %w", err)
	}
	for _, f := range a.reader.File {
		var err error
		if f == a.root {
			err = writeEntry(w, f.FileHeader, text)
		} else {
			err = w.Copy(f)
		}
		if err != nil {
			return nil, fmt.Errorf("packing the entry %s: %w", f.Name, err)
		}
	}
	if err := w.Close(); err != nil {
		return nil, fmt.Errorf("closing the archive: %w", err)
	}
	return out.Bytes(), nil
}

// writeEntry packs the score under the header it had: name, time and method
// stay.
func writeEntry(w *zip.Writer, header zip.FileHeader, text []byte) error {
	packed := text
	if header.Method != zip.Store {
		var err error
		if packed, err = deflate(text); err != nil {
			return err
		}
		header.Method = zip.Deflate
	}
	header.Flags &^= 8 // sizes stand in the header, not behind the data
	header.CRC32 = crc32.ChecksumIEEE(text)
	header.UncompressedSize64 = uint64(len(text))
	header.CompressedSize64 = uint64(len(packed))
	entry, err := w.CreateRaw(&header)
	if err != nil {
		return err
	}
	_, err = entry.Write(packed)
	return err
}
