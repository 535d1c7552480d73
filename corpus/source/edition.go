package source

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
)

// Record says what was done to a source, so that it can be taken back: the
// content of a file in edits/.
type Record struct {
	Version  int    `json:"version"`
	File     string `json:"file"`
	Entry    string `json:"entry,omitempty"` // the score inside a compressed file
	Encoding string `json:"encoding"`
	Source   string `json:"source_sha256"`
	Edition  string `json:"edition_sha256"`
	// Edits count bytes of the source's decoded text, without byte order mark.
	Edits []Edit `json:"edits"`
	// Archive rebuilds a compressed source: packing its text again would not
	// give the same bytes. Absent for plain files and where nothing was edited.
	Archive []Piece `json:"archive,omitempty"`
}

// recordVersion changes when an older program could not take a record back.
const recordVersion = 1

// Piece is a stretch of a compressed source: bytes kept here, or bytes that
// stand in the edition as they are.
type Piece struct {
	Kept string `json:"kept,omitempty"` // base64
	From int64  `json:"from,omitempty"` // offset in the edition
	Size int64  `json:"size,omitempty"` // 0 for kept bytes
}

// Edition applies the edits and returns the bytes of the edited file, in the
// encoding and container of the source, and the record that takes it back.
// Without edits the edition is the source.
func (d *Document) Edition(edits []Edit) ([]byte, *Record, error) {
	record := &Record{Version: recordVersion, File: d.Name, Entry: d.Entry, Encoding: d.charset.name, Source: digest(d.data), Edits: edits}
	if len(edits) == 0 {
		record.Edition = record.Source
		return d.data, record, nil
	}
	text, err := Apply(d.Text, edits)
	if err != nil {
		return nil, nil, fmt.Errorf("editing %s: %w", d.Name, err)
	}
	body, err := d.charset.encode(text)
	if err != nil {
		return nil, nil, fmt.Errorf("editing %s: %w", d.Name, err)
	}
	// What the encoding had no byte for went in as a character reference: the
	// record must hold what really stands in the edition.
	if record.Edits, err = d.charset.asWritten(edits); err != nil {
		return nil, nil, fmt.Errorf("editing %s: %w", d.Name, err)
	}
	if d.archive != nil {
		if body, err = d.archive.repack(body); err != nil {
			return nil, nil, fmt.Errorf("editing %s: %w", d.Name, err)
		}
		if record.Archive, err = d.archive.pieces(d.data, body); err != nil {
			return nil, nil, fmt.Errorf("recording how %s was packed: %w", d.Name, err)
		}
	}
	record.Edition = digest(body)
	return body, record, nil
}

// asWritten gives edits whose new text the charset can spell.
func (c charset) asWritten(edits []Edit) ([]Edit, error) {
	if c.codec == nil && !c.ascii {
		return edits, nil
	}
	out := make([]Edit, len(edits))
	plain := charset{name: c.name, codec: c.codec, ascii: c.ascii}
	for i, e := range edits {
		b, err := plain.encode(e.New)
		if err != nil {
			return nil, err
		}
		if c.codec != nil {
			if b, err = c.codec.NewDecoder().Bytes(b); err != nil {
				return nil, err
			}
		}
		out[i] = Edit{Offset: e.Offset, Old: e.Old, New: string(b)}
	}
	return out, nil
}

// pieces describes the source archive by what the edition shares with it: the
// packed bytes of every entry but the score.
func (a *archive) pieces(source, edition []byte) ([]Piece, error) {
	z, err := zip.NewReader(bytes.NewReader(edition), int64(len(edition)))
	if err != nil {
		return nil, err
	}
	var out []Piece
	var at int64
	keep := func(end int64) {
		if end > at {
			out = append(out, Piece{Kept: base64.StdEncoding.EncodeToString(source[at:end])})
			at = end
		}
	}
	for i, f := range a.reader.File {
		size := int64(f.CompressedSize64)
		was, err := f.DataOffset()
		if err != nil {
			return nil, err
		}
		is, err := z.File[i].DataOffset()
		if err != nil {
			return nil, err
		}
		const worthwhile = 64 // shorter stretches are as short when kept
		if f == a.root || was < at || size < worthwhile || !bytes.Equal(source[was:was+size], edition[is:is+size]) {
			continue
		}
		keep(was)
		out = append(out, Piece{From: is, Size: size})
		at += size
	}
	keep(int64(len(source)))
	return out, nil
}

// ErrChanged says that an edition is not the one that its record describes.
var ErrChanged = errors.New("the edition is not the one recorded: it has been changed since")

// TakeBack returns the bytes of the source from an edition and its record. It
// checks both against the record's digests.
func TakeBack(edition []byte, record *Record, limits Limits) ([]byte, error) {
	fail := func(err error) ([]byte, error) {
		return nil, fmt.Errorf("taking back the edits of %s: %w", record.File, err)
	}
	if record.Version != recordVersion {
		return fail(fmt.Errorf("the record has version %d, this program knows %d", record.Version, recordVersion))
	}
	if digest(edition) != record.Edition {
		return fail(ErrChanged)
	}
	source, err := takeBack(edition, record, limits)
	if err != nil {
		return fail(err)
	}
	if digest(source) != record.Source {
		return fail(fmt.Errorf("the result is not the source recorded"))
	}
	return source, nil
}

func takeBack(edition []byte, record *Record, limits Limits) ([]byte, error) {
	if len(record.Archive) > 0 {
		return assemble(edition, record.Archive, limits)
	}
	if len(record.Edits) == 0 {
		return edition, nil
	}
	doc, err := Open(record.File, edition, limits)
	if err != nil {
		return nil, err
	}
	text, err := Apply(doc.Text, Invert(record.Edits))
	if err != nil {
		return nil, err
	}
	return doc.charset.encode(text)
}

func assemble(edition []byte, pieces []Piece, limits Limits) ([]byte, error) {
	var out []byte
	for i, p := range pieces {
		if size := int64(len(out)) + max(p.Size, int64(len(p.Kept))); size > limits.FileBytes {
			return nil, fmt.Errorf("the archive has more than the %d bytes allowed", limits.FileBytes)
		}
		if p.Size == 0 {
			kept, err := base64.StdEncoding.DecodeString(p.Kept)
			if err != nil {
				return nil, fmt.Errorf("piece %d of the archive: %w", i, err)
			}
			out = append(out, kept...)
			continue
		}
		if p.From < 0 || p.Size < 0 || p.From > int64(len(edition))-p.Size {
			return nil, fmt.Errorf("piece %d of the archive lies outside the edition", i)
		}
		out = append(out, edition[p.From:p.From+p.Size]...)
	}
	return out, nil
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
