package musicxml_test

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf16"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
)

var small = piano(attributes+n("C4", 8, notations("<technical><fingering>1</fingering></technical>"))+n("G4", 8), n("E4", 16))

// Every error of a broken document names file, line and column, and says what
// it is about.
func TestErrorsNameFileAndPlace(t *testing.T) {
	deep := strings.Repeat("<a>", 500)
	laughs := `<!DOCTYPE s [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>`
	for name, c := range map[string]struct{ text, want string }{
		"timewise":                  {`<score-timewise version="4.0"/>`, "t.musicxml:1:1: the score has no part"},
		"a web page":                {"<!doctype html>\n<html><body/></html>", "t.musicxml:2:1: this is a web page"},
		"MEI":                       {`<mei xmlns="x"/>`, "MEI document"},
		"other XML":                 {"\n\n <recipe/>", "t.musicxml:3:2: this is XML, but no score: its root element is <recipe>"},
		"a container":               {"<container/>", "list of contents"},
		"nothing":                   {"", "no XML element"},
		"text":                      {"hello", "no XML element"},
		"cut off":                   {small[:len(small)/2], "it has been cut off"},
		"crossed tags":              {head + "<measure></part></measure>", "</part> stands where </measure> should"},
		"entities of its own":       {laughs + "<score-partwise><work><work-title>&b;</work-title></work></score-partwise>", "never expanded"},
		"an outside entity":         {`<!DOCTYPE s [<!ENTITY x SYSTEM "file:///etc/passwd">]><score-partwise><work><work-title>&x;</work-title></work></score-partwise>`, "never expanded"},
		"too deep":                  {head + "<measure>" + deep, "deep in each other"},
		"no part":                   {"<score-partwise/>", "no part"},
		"no measure":                {head + "</part></score-partwise>", "no measure"},
		"an unlisted part":          {strings.Replace(small, `<part id="P1">`, `<part id="P7">`, 1), `part "P7" is not in the list`},
		"a part twice":              {strings.Replace(small, "</part></score", `</part><part id="P1"><measure/></part></score`, 1), "stands in the score twice"},
		"two roots":                 {small + "<x/>", "second root"},
		"text before":               {"\n x" + small, "t.musicxml:1:1: text stands before the root element <score-partwise>"},
		"text after":                {small + "x", ": text follows the end of the score"},
		"not a measure":             {head + "<bar/></part></score-partwise>", "<bar> stands where a measure should"},
		"XML 1.1":                   {`<?xml version="1.1"?>` + small, "only XML 1.0 is read"},
		"an unknown encoding":       {`<?xml version="1.0" encoding="EBCDIC-X"?>` + small, `"ebcdic-x" is not read`},
		"a tag without end":         {head + "<measure " + strings.Repeat("x", 1<<17), "a tag"},
		"a prefix on the root":      {`<m:score-partwise xmlns:m="x"/>`, "its root element is <m:score-partwise>"},
		"prefixes that differ":      {head + "<a:measure></b:measure></part></score-partwise>", "<a:measure> stands where a measure should"},
		"crossed prefixes":          {head + "<measure><a:b></c:b></measure></part></score-partwise>", "</c:b> stands where </a:b> should"},
		"floods of attributes":      {head + `<measure><note` + strings.Repeat(` a="1"`, 300) + "/>", "t.musicxml:1:138: <note> has more than 200 attributes"},
		"another version inside":    {head + "<measure>\n<?xml version=\"1.1\"?>", "t.musicxml:2:22: this XML cannot be read: unsupported version"},
		"an entity in an attribute": {laughs + `<score-partwise version="&b;"/>`, "never expanded"},
		"an entity without end":     {head + "<measure>&#120</measure>", "entity"},
		"a control character":       {head + "<measure>\x01</measure>", "illegal character"},
		"a stray less-than sign":    {head + "<measure>a < b</measure></part></score-partwise>", "well-formed"},
	} {
		_, err := try(c.text)
		require.Error(t, err, name)
		require.ErrorContains(t, err, c.want, name)
		require.Regexp(t, `^t\.musicxml(:\d+:\d+)?: `, err.Error(), name)
		var place *source.Error
		require.True(t, errors.As(err, &place), name)
	}
}

// What a document type declares is neither fetched nor expanded, and does no
// harm where nothing asks for it. Names under a prefix are not MusicXML's.
func TestWhatIsForeignIsPassedOver(t *testing.T) {
	want := onsets(read(t, small))
	for _, declaration := range []string{
		`<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">`,
		`<!DOCTYPE score-partwise [<!ENTITY % x SYSTEM "file:///etc/passwd"> %x;]>`,
		`<!DOCTYPE score-partwise [<!ENTITY a "1"><!ENTITY b "&a;&a;"><!ATTLIST note print-object CDATA "no"><!-- > ]> -->]>`,
		`<?xml-stylesheet href="x.xsl"?><!-- <score-timewise> -->`,
	} {
		s := read(t, declaration+small)
		require.Equal(t, want, onsets(s), declaration)
		require.False(t, s.Notes[0].Hidden)
	}
	foreign := strings.Replace(small, "<note>", `<x:note xmlns:x="y"><x:duration>16</x:duration></x:note><note x:print-object="no"><x:chord/>`, 1)
	s := read(t, foreign)
	require.Equal(t, want, onsets(s))
	require.False(t, s.Notes[0].Hidden)
}

func TestTruncationAnywhereIsAnErrorAndNeverAPanic(t *testing.T) {
	for at := range len(small) {
		_, err := try(small[:at])
		require.Error(t, err, "%d bytes", at)
	}
}

func TestAbsurdNumbersDoNoHarm(t *testing.T) {
	for _, number := range []string{"99999999999999999999", "-5", "1e9", "NaN", "999999999", "0", "0.000001", ""} {
		for _, element := range []string{"duration", "divisions", "octave", "staff", "beats", "beat-type", "staves", "alter", "chromatic", "per-minute", "offset", "actual-notes"} {
			text := piano(`<attributes><divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves><transpose><chromatic>0</chromatic></transpose></attributes>` +
				`<direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>60</per-minute></metronome></direction-type><offset>1</offset></direction>` +
				n("C#4", 4, "<staff>1</staff><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>") + n("D4", 12))
			i := strings.Index(text, "<"+element+">")
			j := strings.Index(text, "</"+element+">")
			require.Positive(t, i, element)
			s, err := try(text[:i+len(element)+2] + number + text[j:])
			require.NoError(t, err, "%s %s", element, number)
			for k := range s.Notes {
				require.GreaterOrEqual(t, s.Notes[k].Onset.Sign(), 0)
				require.GreaterOrEqual(t, s.Notes[k].Staff, 1)
				require.LessOrEqual(t, s.Notes[k].Staff, 16)
			}
		}
	}
}

// packed makes a compressed score of entries, in order.
func packed(t testing.TB, entries ...[2]string) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, e := range entries {
		w, err := z.Create(e[0])
		require.NoError(t, err)
		_, err = w.Write([]byte(e[1]))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

func container(root string) [2]string {
	return [2]string{"META-INF/container.xml", `<container><rootfiles><rootfile full-path="` + root + `"/></rootfiles></container>`}
}

func TestCompressedScores(t *testing.T) {
	open := func(data []byte) error {
		doc, err := source.Open("t.mxl", data, source.DefaultLimits())
		if err != nil {
			return err
		}
		_, _, err = musicxml.Read(doc, musicxml.DefaultLimits())
		return err
	}
	require.NoError(t, open(packed(t, container("score.xml"), [2]string{"score.xml", small})))
	bomb := packed(t, container("score.xml"), [2]string{"score.xml", "<score-partwise>" + strings.Repeat(" ", 64<<20)})
	require.Less(t, len(bomb), 1<<20)
	many := [][2]string{container("score.xml")}
	for i := range 2000 {
		many = append(many, [2]string{fmt.Sprintf("f%d", i), ""})
	}
	for name, data := range map[string][]byte{
		"a bomb":                  bomb,
		"no container":            packed(t, [2]string{"other.txt", "x"}),
		"a missing root file":     packed(t, container("gone.xml")),
		"a path out of the file":  packed(t, container("../../etc/passwd"), [2]string{"score.xml", small}),
		"a broken container":      packed(t, [2]string{"META-INF/container.xml", "<container>"}, [2]string{"score.xml", small}),
		"too many entries":        packed(t, many...),
		"not a zip after all":     []byte("PK\x03\x04 nonsense"),
		"a zip cut off":           packed(t, container("score.xml"), [2]string{"score.xml", small})[:200],
		"a timewise score inside": packed(t, container("score.xml"), [2]string{"score.xml", "<score-timewise/>"}),
	} {
		err := open(data)
		require.ErrorContains(t, err, "t.mxl", name)
	}
}

// utf16LittleEndian encodes a text with its byte order mark.
func utf16LittleEndian(text string) []byte {
	out := []byte{0xFF, 0xFE}
	for _, unit := range utf16.Encode([]rune(text)) {
		out = binary.LittleEndian.AppendUint16(out, unit)
	}
	return out
}

// The same score in every encoding and with every newline gives the same music.
func TestEncodingsAndNewlines(t *testing.T) {
	text := strings.ReplaceAll(strings.Replace(small, "<part-name>Piano", "<part-name>Piano für Zürich", 1), "<note>", "\n<note>")
	want := read(t, text)
	latin := []byte(strings.ReplaceAll(`<?xml version="1.0" encoding="ISO-8859-1"?>`+text, "ü", "\xfc"))
	windows := []byte(strings.ReplaceAll(`<?xml version="1.0" encoding="windows-1252"?>`+text, "ü", "\xfc"))
	wide := func(order binary.AppendByteOrder, declared string) []byte {
		out := order.AppendUint16(nil, 0xFEFF)
		for _, u := range utf16.Encode([]rune(`<?xml version="1.0" encoding="` + declared + `"?>` + text)) {
			out = order.AppendUint16(out, u)
		}
		return out
	}
	for name, data := range map[string][]byte{
		"UTF-8": []byte(text), "a byte order mark": []byte("\ufeff" + text), "Latin-1": latin, "windows-1252": windows,
		"UTF-16 little-endian": wide(binary.LittleEndian, "UTF-16"), "UTF-16 big-endian": wide(binary.BigEndian, "UTF-16"),
		"CR LF": []byte(strings.ReplaceAll(text, "\n", "\r\n")), "CR": []byte(strings.ReplaceAll(text, "\n", "\r")),
	} {
		doc, err := source.Open("t.musicxml", data, source.DefaultLimits())
		require.NoError(t, err, name)
		s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
		require.NoError(t, err, name)
		require.Equal(t, "Piano für Zürich", s.Parts[0].Name, name)
		require.Equal(t, onsets(want), onsets(s), name)
		require.Equal(t, want.Notes[2].Line, s.Notes[2].Line, "%s: lines count the same", name)
	}
}

// FuzzRead: whatever the bytes, reading gives music or an error with a place,
// and what can be read can be marked and taken back.
func FuzzRead(f *testing.F) {
	f.Add([]byte(small))
	f.Add([]byte("\ufeff" + strings.ReplaceAll(small, "><", ">\r\n <")))
	f.Add(packed(f, container("score.xml"), [2]string{"score.xml", small}))
	f.Add([]byte(piano(attributes + grace("D4", "") + n("C4", 16, `<tie type="start"/>`, "<notations/>"))))
	f.Add(utf16LittleEndian(small))
	f.Add([]byte(`<?xml version="1.0" encoding="ISO-8859-1"?><!DOCTYPE score-partwise [<!ENTITY a "1">]>` + small))
	f.Add([]byte(piano(`<attributes><divisions>6</divisions><time symbol="cut"><beats>2</beats><beat-type>2</beat-type></time><transpose><chromatic>-2</chromatic></transpose></attributes>`+
		words("m.s.", "<offset>-1</offset>")+n("C4", 4, "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>")+n(".E4", 4)+"<forward><duration>2</duration></forward>"+
		`<barline><ending number="1" type="start"/><repeat direction="backward"/></barline>`, sign(`<octave-shift type="down" size="8"/>`)+n("G4", 16, notations(`<arpeggiate/><technical><fingering>4-3</fingering></technical>`)))))
	f.Fuzz(func(t *testing.T, data []byte) {
		doc, err := source.Open("t.musicxml", data, source.Limits{FileBytes: 1 << 20, TextBytes: 1 << 20, Entries: 20, Inflation: 50})
		if err != nil {
			return
		}
		s, layout, err := musicxml.Read(doc, musicxml.DefaultLimits())
		if err != nil {
			return
		}
		markAndTakeBack(t, doc, layout, everyNote(s))
	})
}
