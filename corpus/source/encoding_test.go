package source_test

import (
	"bytes"
	"encoding/binary"
	"strings"
	"testing"
	"unicode/utf16"

	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
)

// wide encodes a text in UTF-16 without byte order mark.
func wide(order binary.AppendByteOrder, text string) []byte {
	var out []byte
	for _, unit := range utf16.Encode([]rune(text)) {
		out = order.AppendUint16(out, unit)
	}
	return out
}

func latin(text string) []byte {
	var out []byte
	for _, r := range text {
		out = append(out, byte(r))
	}
	return out
}

func declared(encoding, rest string) string {
	return `<?xml version="1.0" encoding="` + encoding + `"?>` + rest
}

const zurich = "<a>Zürich</a>\r\n<b/>\r"

// Whatever the encoding, what is not edited stays byte for byte, and taking
// the edits back gives the file.
func TestEveryEncodingIsKept(t *testing.T) {
	for name, c := range map[string]struct {
		data     []byte
		encoding string
	}{
		"UTF-8":                        {[]byte(zurich), "utf-8"},
		"UTF-8 with a mark":            {[]byte("\xEF\xBB\xBF" + zurich), "utf-8"},
		"UTF-8, declared":              {[]byte(declared("UTF-8", zurich)), "utf-8"},
		"UTF-16, declared, but is not": {[]byte(declared("UTF-16", zurich)), "utf-8"},
		"ASCII":                        {[]byte(declared("US-ASCII", "<a>Zurich</a>")), "us-ascii"},
		"Latin-1":                      {latin(declared("ISO-8859-1", zurich)), "iso-8859-1"},
		"windows-1252":                 {append(latin(declared("windows-1252", zurich)), 0x96, 0x80), "windows-1252"},
		"UTF-16, little end first":     {append([]byte{0xFF, 0xFE}, wide(binary.LittleEndian, declared("UTF-16", zurich+"\U0001D11E"))...), "utf-16le"},
		"UTF-16, big end first":        {append([]byte{0xFE, 0xFF}, wide(binary.BigEndian, declared("UTF-16", zurich))...), "utf-16be"},
		"UTF-16 without a mark":        {wide(binary.LittleEndian, declared("UTF-16", zurich)), "utf-16le"},
		"big UTF-16 without a mark":    {wide(binary.BigEndian, declared("UTF-16", zurich)), "utf-16be"},
	} {
		doc, err := source.Open("a.xml", c.data, source.DefaultLimits())
		require.NoError(t, err, name)
		require.Equal(t, c.encoding, doc.Encoding(), name)
		at := strings.Index(doc.Text, "</a>")
		require.Contains(t, doc.Text[:at], "rich", name)
		edition, record, err := doc.Edition([]source.Edit{{Offset: at, New: "–3"}, {Offset: at, Old: "</a>", New: "</a >"}})
		require.NoError(t, err, name)
		edited, err := source.Open("a.xml", edition, source.DefaultLimits())
		require.NoError(t, err, name)
		require.Equal(t, c.encoding, edited.Encoding(), name)
		require.Equal(t, strings.Replace(doc.Text, "</a>", "–3</a >", 1), strings.ReplaceAll(edited.Text, "&#8211;", "–"), name)
		back, err := source.TakeBack(edition, record, source.DefaultLimits())
		require.NoError(t, err, name)
		require.Equal(t, c.data, back, name)
	}
}

// An edition without edits is the source itself.
func TestNoEditsNoChange(t *testing.T) {
	data := []byte(zurich)
	doc, err := source.Open("a.xml", data, source.DefaultLimits())
	require.NoError(t, err)
	edition, record, err := doc.Edition(nil)
	require.NoError(t, err)
	require.Equal(t, data, edition)
	require.Equal(t, record.Source, record.Edition)
	back, err := source.TakeBack(edition, record, source.DefaultLimits())
	require.NoError(t, err)
	require.Equal(t, data, back)
}

func TestTextThatIsNotWhatItSays(t *testing.T) {
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"Latin-1 that does not say so": {latin("<a>\n Zürich</a>"), "a.xml:2:3: the byte 0xFC is no utf-8 text\nhint: declare the encoding"},
		"Latin-1 that says UTF-8":      {latin(declared("UTF-8", "ü")), "a.xml:1:39: the byte 0xFC"},
		"UTF-8 that says ASCII":        {[]byte(declared("US-ASCII", "ü")), "is no us-ascii text"},
		"an encoding nobody has":       {[]byte(declared("klingon", "")), `a.xml:1:1: the declared encoding "klingon" is not read`},
		"UTF-32":                       {[]byte("\xFF\xFE\x00\x00<\x00\x00\x00"), "UTF-32, which is not read"},
		"UTF-32 without a mark":        {[]byte("<\x00\x00\x00a\x00\x00\x00"), "UTF-32, which is not read"},
		"half a character":             {append([]byte{0xFF, 0xFE}, "<\x00a"...), "ends in the middle of a character"},
		"half a pair of surrogates":    {append([]byte{0xFE, 0xFF}, "\x00<\x00a\xD8\x34\x00>"...), "a.xml:1:3: something here is no utf-16be text"},
		"XML 1.1":                      {[]byte(`<?xml version="1.1" encoding="UTF-8"?><a/>`), "only XML 1.0 is read"},
		"a file beyond the limit":      {bytes.Repeat([]byte("x"), 101), "has 101 bytes, more than the 100 allowed"},
	} {
		limits := source.DefaultLimits()
		if strings.Contains(name, "limit") {
			limits.FileBytes = 100
		}
		_, err := source.Open("a.xml", c.data, limits)
		require.ErrorContains(t, err, c.want, name)
		require.True(t, strings.HasPrefix(err.Error(), "a.xml:"), "%s: %v", name, err)
	}
}
