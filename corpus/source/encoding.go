package source

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// charset is a character encoding together with its byte order mark, if the
// file has one: all that is needed to turn text into the file's bytes again.
type charset struct {
	name  string // as in records: "utf-8", "utf-16le", …
	mark  string // byte order mark as bytes
	codec encoding.Encoding
	ascii bool // only characters below 128
}

var (
	utf8Plain = charset{name: "utf-8"}
	usASCII   = charset{name: "us-ascii", ascii: true}
	latin1    = charset{name: "iso-8859-1", codec: charmap.ISO8859_1}
	win1252   = charset{name: "windows-1252", codec: charmap.Windows1252}
	utf16LE   = charset{name: "utf-16le", codec: unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM)}
	utf16BE   = charset{name: "utf-16be", codec: unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)}
)

// charsetNames are the names under which XML files declare them, lower case.
var charsetNames = map[string]charset{
	"utf-8": utf8Plain, "utf8": utf8Plain,
	"us-ascii": usASCII, "ascii": usASCII,
	"iso-8859-1": latin1, "iso8859-1": latin1, "iso_8859-1": latin1, "latin1": latin1, "latin-1": latin1, "l1": latin1,
	"windows-1252": win1252, "cp1252": win1252,
}

var (
	declaredEncoding = regexp.MustCompile(`^<\?xml\s[^>]*?encoding\s*=\s*["']([^"'>]*)["']`)
	declaredVersion  = regexp.MustCompile(`^<\?xml\s[^>]*?version\s*=\s*["']([^"'>]*)["']`)
)

// decode finds out how the bytes are encoded and returns the text without a
// byte order mark. Encoding the text again gives exactly the same bytes; bytes
// for which that would not hold are an error.
func decode(data []byte) (string, charset, *Error) {
	set, body, fault := detect(data)
	if fault != nil {
		return "", set, fault
	}
	if set.codec == nil {
		text := string(body)
		if at := firstForeign(text, set.ascii); at >= 0 {
			return "", set, foreignByte(text, at, set, body)
		}
		return text, set, nil
	}
	if set.codec == utf16LE.codec || set.codec == utf16BE.codec {
		if len(body)%2 != 0 {
			return "", set, &Error{Problem: "the file ends in the middle of a character: " + set.name + " text has an even number of bytes"}
		}
	}
	decoded, err := set.codec.NewDecoder().Bytes(body)
	if err != nil {
		return "", set, &Error{Problem: "decoding " + set.name, Err: err}
	}
	text := string(decoded)
	again, err := set.codec.NewEncoder().Bytes(decoded)
	if err != nil || !bytes.Equal(again, body) {
		at := strings.IndexRune(text, utf8.RuneError)
		return "", set, foreignByte(text, max(at, 0), set, nil)
	}
	return text, set, nil
}

// detect follows the XML recommendation (appendix F): byte order mark first,
// then the look of the first bytes, then the declaration.
func detect(data []byte) (charset, []byte, *Error) {
	with := func(set charset, mark string) (charset, []byte, *Error) {
		set.mark = mark
		return set, data[len(mark):], nil
	}
	for _, four := range []string{"\x00\x00\xFE\xFF", "\xFF\xFE\x00\x00", "\x00\x00\x00<", "<\x00\x00\x00"} {
		if bytes.HasPrefix(data, []byte(four)) {
			return charset{}, nil, &Error{Problem: "the file is in UTF-32, which is not read", Hint: "save it in UTF-8"}
		}
	}
	switch {
	case bytes.HasPrefix(data, []byte("\xEF\xBB\xBF")):
		return with(utf8Plain, "\xEF\xBB\xBF")
	case bytes.HasPrefix(data, []byte("\xFF\xFE")):
		return with(utf16LE, "\xFF\xFE")
	case bytes.HasPrefix(data, []byte("\xFE\xFF")):
		return with(utf16BE, "\xFE\xFF")
	case bytes.HasPrefix(data, []byte("<\x00")):
		return with(utf16LE, "")
	case bytes.HasPrefix(data, []byte("\x00<")):
		return with(utf16BE, "")
	}
	name := ""
	if m := declaredEncoding.FindSubmatch(data[:min(len(data), 1024)]); m != nil {
		name = strings.ToLower(strings.TrimSpace(string(m[1])))
	}
	// A file that says UTF-16 in single bytes was transcoded by somebody who
	// forgot the declaration; UTF-8 is the only sensible reading.
	if name == "" || strings.HasPrefix(name, "utf-16") {
		return with(utf8Plain, "")
	}
	set, known := charsetNames[name]
	if !known {
		return set, nil, &Error{Line: 1, Column: 1, Problem: fmt.Sprintf("the declared encoding %q is not read", name), Hint: "save the score in UTF-8"}
	}
	return with(set, "")
}

// firstForeign finds the first byte that is no UTF-8 (or no ASCII), else -1.
func firstForeign(text string, ascii bool) int {
	if !ascii && utf8.ValidString(text) {
		return -1
	}
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if r == utf8.RuneError && size == 1 || ascii && r >= utf8.RuneSelf {
			return i
		}
		i += size
	}
	return -1
}

func foreignByte(text string, at int, set charset, body []byte) *Error {
	place := NewTracker(text).At(at)
	e := &Error{Line: place.Line, Column: place.Column, Problem: "something here is no " + set.name + " text"}
	if body != nil {
		e.Problem = fmt.Sprintf("the byte 0x%02X is no %s text", body[at], set.name)
		e.Hint = "declare the encoding the file is really in, as in <?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>, or save it in UTF-8"
	}
	return e
}

// encode gives the bytes of a text. What the encoding has no byte for is
// written as a character reference: only inserted text can hold such a
// character, and it stands in content or in attribute values there.
func (c charset) encode(text string) ([]byte, error) {
	out := []byte(c.mark)
	switch {
	case c.codec != nil:
		body, err := encoding.HTMLEscapeUnsupported(c.codec.NewEncoder()).Bytes([]byte(text))
		if err != nil {
			return nil, fmt.Errorf("encoding the text in %s: %w", c.name, err)
		}
		return append(out, body...), nil
	case c.ascii:
		for _, r := range text {
			if r < utf8.RuneSelf {
				out = append(out, byte(r))
			} else {
				out = fmt.Appendf(out, "&#%d;", r)
			}
		}
		return out, nil
	}
	return append(out, text...), nil
}
