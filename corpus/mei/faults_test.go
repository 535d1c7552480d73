package mei_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/mei"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
)

// What cannot be read is an error that names file, line and column.
func TestDocumentsThatCannotBeRead(t *testing.T) {
	ok := piano([3]string{`<note dur="1" pname="c" oct="4"/>`, `<mRest/>`, ""})
	read(t, ok)
	for name, c := range map[string]struct{ text, want string }{
		"nothing":            {"", "t.mei:1:1: there is no score in this file"},
		"cut off":            {ok[:len(ok)/2], "it has been cut off"},
		"text before":        {"x" + ok[strings.Index(ok, "<mei"):], "t.mei:1:1: text stands before the root element"},
		"two roots":          {ok + "<mei/>", "something follows the end"},
		"a corpus":           {`<meiCorpus xmlns="http://www.music-encoding.org/ns/mei"/>`, "t.mei:1:1: this is a corpus of several"},
		"no music":           {`<mei><meiHead/></mei>`, "t.mei:1:1: the document has no music"},
		"no measure":         {strings.ReplaceAll(strings.ReplaceAll(ok, "<measure", "<div"), "</measure", "</div"), "the music has no measure"},
		"no staff defined":   {strings.ReplaceAll(ok, "staffDef", "layerDef"), "t.mei:24:13: a measure stands before any staff is defined"},
		"an unknown staff":   {strings.Replace(ok, `<staff n="2">`, `<staff n="7">`, 1), `staff "7" is not defined`},
		"a staff by no name": {strings.Replace(ok, `<staffDef n="2"`, `<staffDef n="x"`, 1), `t.mei:20:15: the number "x" of a staff cannot be read`},
		"separate parts":     {strings.NewReplacer("<score>", "<parts>", "</score>", "</parts>").Replace(ok), "the music stands in separate parts"},
		"notes unmeasured":   {strings.Replace(ok, "<section>", "<section><staff n='1'/>", 1), "<staff> stands outside a measure"},
		"an entity":          {strings.Replace(ok, "Study", "&lol;", 1), "an entity that XML itself does not know"},
	} {
		require.Contains(t, fails(t, c.text), c.want, name)
	}
}

// What makes no sense in a document that can be read is an oddity at its place, and the rest is read.
func TestOddThings(t *testing.T) {
	for name, c := range map[string]struct{ upper, signs, want string }{
		"a length":        {`<note dur="5" pname="c" oct="4"/>`, "", `the length "5" cannot be read`},
		"no length":       {`<note pname="c" oct="4"/>`, "", "the length is missing"},
		"a letter":        {`<note dur="1" pname="h" oct="4"/>`, "", `the letter of the pitch "h" cannot be read`},
		"an octave":       {`<note dur="1" pname="c" oct="high"/>`, "", `the octave "high" cannot be read`},
		"an accidental":   {`<note dur="1" pname="c" oct="4" accid="zz"/>`, "", `the accidental "zz" cannot be read`},
		"a repeat":        {`<mRpt/>`, "", "a sign that repeats music (mRpt) stands here instead of notes"},
		"an ossia":        {`<note dur="1" pname="c" oct="4"/>`, `<ossia><oStaff n="1"/></ossia>`, "an ossia stands here"},
		"a lost digit":    {`<note dur="1" pname="c" oct="4"/>`, `<fing startid="#none" staff="1">3</fing>`, `the digit "3" stands at no note`},
		"a lost sign":     {`<note dur="1" pname="c" oct="4"/>`, `<dynam startid="#none" staff="1">p</dynam>`, `stands at "#none", which is no note`},
		"a beat":          {`<note dur="1" pname="c" oct="4"/>`, `<dynam tstamp="one" staff="1">p</dynam>`, `the beat "one" cannot be read`},
		"a pedal of none": {`<note dur="1" pname="c" oct="4"/>`, `<pedal tstamp="1" staff="2"/>`, "the pedal sign does not say whether it goes down or up"},
		"a copy of none":  {`<note copyof="#none"/>`, "", `is a copy of "none", which is no such element`},
		"one id twice":    {`<note xml:id="a" dur="2" pname="c" oct="4"/><note xml:id="a" dur="2" pname="c" oct="4"/>`, "", `the id "a" stands at two`},
		"a short measure": {`<note dur="2" pname="c" oct="4"/>`, "", "the music of the upper staff lasts 2 quarters, less than the 4"},
		"sung digits":     {`<note dur="1" pname="c" oct="4"><verse n="1"><syl>3</syl></verse></note>`, "", "3 stands below the note as sung text"},
	} {
		full := [3]string{`<note dur="1" pname="c" oct="4" accid.ges="n"/>`, `<note dur="1" pname="c" oct="3"/>`, ""}
		s := read(t, piano(full, [3]string{c.upper, full[1], c.signs}, full))
		var said []string
		for _, o := range s.Oddities {
			said = append(said, o.Detail)
			require.Equal(t, 1, o.Measure, name)
			require.NotZero(t, o.Line, name)
		}
		require.Contains(t, strings.Join(said, "\n"), c.want, name)
	}
}

// Cut anywhere, and with any piece left out, a document is read or refused, and never brings the reader down.
func TestMutilatedDocuments(t *testing.T) {
	text := string(example(t))
	try := func(text string) {
		doc, err := source.Open("t.mei", []byte(text), source.DefaultLimits())
		if err != nil {
			return
		}
		s, layout, err := mei.Read(doc, mei.DefaultLimits(), mei.Options{})
		if err != nil {
			require.Contains(t, err.Error(), "t.mei:")
			return
		}
		markAndTakeBack(t, doc, layout, everyNote(s))
	}
	for i := 0; i < len(text); i += 61 {
		try(text[:i])
		try(text[:i] + text[min(i+40, len(text)):])
	}
	// Without any one attribute.
	for i := 0; i < len(text); i++ {
		if text[i] != ' ' || i+1 >= len(text) || text[i+1] < 'a' || text[i+1] > 'z' {
			continue
		}
		if end := strings.IndexByte(text[i:], '='); end > 0 && end < 20 && i+end+2 < len(text) {
			if quote := strings.IndexByte(text[i+end+2:], '"'); quote >= 0 {
				try(text[:i] + text[i+end+2+quote+1:])
			}
		}
	}
}

// What a document asks for is bounded, and what no limit bounds costs in proportion to its size.
func TestHostileDocuments(t *testing.T) {
	body := func(inside string) string { return piano([3]string{inside, `<mRest/>`, ""}) }
	small := mei.DefaultLimits()
	small.Music.Notes, small.Tree.Elements = 100, 2000
	for name, c := range map[string]struct{ text, want string }{
		"notes":           {body(strings.Repeat(`<note dur="4" pname="c" oct="4"/>`, 200)), "more than 100 notes"},
		"elements":        {body(strings.Repeat(`<x/>`, 5000)), "holds more than 2000 elements"},
		"depth":           {body(strings.Repeat(`<beam>`, 500) + strings.Repeat(`</beam>`, 500)), "more than 96 deep"},
		"a copy of a lot": {body(`<beam xml:id="b">` + strings.Repeat(`<note dur="4" pname="c" oct="4"/>`, 60) + `</beam><beam copyof="#b"/>`), "more than 100 notes"},
	} {
		doc, err := source.Open("t.mei", []byte(c.text), source.DefaultLimits())
		require.NoError(t, err)
		_, _, err = mei.Read(doc, small, mei.Options{})
		require.ErrorContains(t, err, c.want, name)
	}
	require.Contains(t, fails(t, body(`<beam xml:id="b"><note dur="1" pname="c" oct="4"/><beam copyof="#b"/></beam>`)), "groups stand too deep in each other")
}

// Copies of copies multiply: they are bounded even where no note is in them.
func TestCopiesOfCopiesAreBounded(t *testing.T) {
	var b strings.Builder
	b.WriteString(`<beam xml:id="b0"/>`)
	for i := range 40 {
		fmt.Fprintf(&b, `<beam xml:id="b%d">%s</beam>`, i+1, strings.Repeat(fmt.Sprintf(`<beam copyof="#b%d"/>`, i), 8))
	}
	s := read(t, piano([3]string{b.String(), `<note dur="1" pname="d" oct="3" accid.ges="n"/>`, ""}))
	require.Len(t, s.Notes, 1)
	require.Contains(t, s.Oddities[0].Detail, "copies of copies make more than")
}

func FuzzRead(f *testing.F) {
	f.Add(string(example(f)))
	f.Add(piano([3]string{`<note dur="1" pname="c" oct="4"/>`, `<mRest/>`, `<fing tstamp="1" staff="1">3</fing>`}))
	f.Fuzz(func(t *testing.T, text string) {
		doc, err := source.Open("t.mei", []byte(text), source.DefaultLimits())
		if err != nil {
			return
		}
		s, layout, err := mei.Read(doc, mei.DefaultLimits(), mei.Options{})
		if err != nil {
			return
		}
		for i := range s.Notes {
			if d := s.Notes[i].Duration; d.Sign() < 0 {
				t.Fatal("a negative length")
			}
		}
		if len(s.Notes) > 0 {
			_, _ = layout.Splice(doc, score.Marking{Marks: []score.Mark{{Note: 0, Digits: []score.MarkDigit{{Text: "1"}}}}}, score.SpliceOptions{})
		}
	})
}
