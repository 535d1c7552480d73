package source

import (
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// An edition carries what was done to its text, packed, in a field of its
// head. So it can be marked anew in another style, and taken back to the text
// it was made from, without anything beside it. Once another program has
// changed the edition, the sum no longer fits and the field says nothing.

// packed is the content of the field.
type packed struct {
	Sum   string          `json:"sum"` // SHA-256 of the text without the field's content
	Edits []Edit          `json:"edits"`
	More  json.RawMessage `json:"more,omitempty"`
}

// Pack gives the content for the field whose empty element the edits add at
// hole: a string that stands in exactly one edit, once. The edits are given
// back with the content in its place. more is kept beside them.
func Pack(text string, edits []Edit, hole, filled string, more any) ([]Edit, error) {
	extra, err := json.Marshal(more)
	if err != nil {
		return nil, fmt.Errorf("packing the edits: %w", err)
	}
	edited, err := Apply(text, edits)
	if err != nil {
		return nil, fmt.Errorf("packing the edits: %w", err)
	}
	data, err := json.Marshal(packed{sumOf(edited), edits, extra})
	if err != nil {
		return nil, fmt.Errorf("packing the edits: %w", err)
	}
	small, err := deflate(data)
	if err != nil {
		return nil, fmt.Errorf("packing the edits: %w", err)
	}
	out := append([]Edit(nil), edits...)
	for i := range out {
		if strings.Contains(out[i].New, hole) {
			out[i].New = strings.Replace(out[i].New, hole, fmt.Sprintf(filled, base64.StdEncoding.EncodeToString(small)), 1)
			return out, nil
		}
	}
	return nil, fmt.Errorf("packing the edits: no place for them")
}

func sumOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

const unpackedLimit = 256 << 20

// Unpack takes an edition's text back to the text it was made from: content
// stands once in the text, between before and after. ok is false where the
// edition was changed since. more gets what was kept beside the edits.
func Unpack(text, before, content, after string, more any) (base string, ok bool) {
	p, ok := unpacked(content)
	if !ok {
		return "", false
	}
	bare := strings.Replace(text, before+content+after, before+after, 1)
	if sumOf(bare) != p.Sum {
		return "", false
	}
	base, err := Apply(bare, Invert(p.Edits))
	if err != nil || json.Unmarshal(p.More, more) != nil {
		return "", false
	}
	return base, true
}

// Carried reads what was kept beside the edits in the content of the field,
// whether or not the text around it is still the same.
func Carried(content string, more any) bool {
	p, ok := unpacked(content)
	return ok && json.Unmarshal(p.More, more) == nil
}

func unpacked(content string) (p packed, ok bool) {
	data, err := base64.StdEncoding.DecodeString(content)
	if err != nil {
		return p, false
	}
	plain, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(data)), unpackedLimit))
	if err != nil {
		return p, false
	}
	return p, json.Unmarshal(plain, &p) == nil
}

// WithText is the document with another text, in the same encoding and
// container: what edits of that text are told against.
func (d *Document) WithText(text string) *Document {
	out := *d
	out.Text = text
	return &out
}

// Whole is the one edit that makes one text of another: all between what both
// begin and end with, cut where neither breaks a character.
func Whole(from, to string) []Edit {
	if from == to {
		return nil
	}
	a := 0
	for a < len(from) && a < len(to) && from[a] == to[a] {
		a++
	}
	b := 0
	for b < len(from)-a && b < len(to)-a && from[len(from)-1-b] == to[len(to)-1-b] {
		b++
	}
	for a > 0 && a < len(from) && from[a]&0xC0 == 0x80 {
		a--
	}
	for b > 0 && from[len(from)-b]&0xC0 == 0x80 {
		b--
	}
	return []Edit{{Offset: a, Old: from[a : len(from)-b], New: to[a : len(to)-b]}}
}
