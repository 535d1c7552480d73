package mei_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/mei"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
)

// What stands for music and is not read as music is named at its place (MEI 5.1: gap, cpMark, app, accid).
func TestWhatStandsForMusicAndIsNotRead(t *testing.T) {
	full := `<note dur="1" pname="c" oct="4" accid.ges="n"/>`
	for name, c := range map[string]struct {
		upper, signs string
		kind         score.OddityKind
		want         string
	}{
		"a gap":             {`<gap reason="lost"/><note dur="1" pname="c" oct="4"/>`, "", score.OddNoDigits, "a gap in the text stands here (<gap>: lost)"},
		"a copying mark":    {`<space dur="1"/>`, `<cpMark staff="1" tstamp="1">8va</cpMark>`, score.OddNoDigits, "(<cpMark>: 8va)"},
		"no reading of own": {`<app><rdg>` + full + `</rdg><rdg><rest dur="1"/></rdg></app>`, "", score.OddValue, "without a reading of the edition's own"},
		"an accidental":     {`<accid accid="s"/>` + full, "", score.OddValue, "an accidental stands beside the notes"},
		"an ornament":       {`<note dur="1" pname="c" oct="4" ornam="A"/>`, "", score.OddValue, `the ornament "A" at the note`},
	} {
		s := read(t, piano([3]string{full, full, ""}, [3]string{c.upper, full, c.signs}, [3]string{full, full, ""}))
		require.Len(t, s.Oddities, 1, name)
		require.Equal(t, c.kind, s.Oddities[0].Kind, name)
		require.Equal(t, 1, s.Oddities[0].Measure, name)
		require.Contains(t, s.Oddities[0].Detail, c.want, name)
	}
	// A source that was chosen has its reading, and what was not chosen is not looked at.
	text := piano([3]string{`<app><rdg source="#A">` + full + `</rdg><rdg source="#B"><gap/></rdg></app>`, full, ""})
	doc, err := source.Open("t.mei", []byte(text), source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := mei.Read(doc, mei.DefaultLimits(), mei.Options{Source: "A"})
	require.NoError(t, err)
	require.Empty(t, s.Oddities)
	require.Contains(t, fails(t, strings.Replace(text, "<section>", `<section><xi:include xmlns:xi="http://www.w3.org/2001/XInclude" href="x"/>`, 1)),
		"a part of the document stands in another file (<xi:include>)")
}

// What was taken out and put back is text again, in music and in words; a glyph may be named by its number.
func TestRestoredTextAndGlyphs(t *testing.T) {
	s := read(t, piano([3]string{`<restore><del>` + fourNotes + `</del></restore>`, `<mRest/>`,
		`<fing startid="#a"><restore><del>2</del></restore><del>3</del></fing><fing startid="#b"><symbol glyph.num="U+ED13"/></fing>` +
			`<trill startid="#c"/>`}))
	require.Equal(t, "C52 D5\uED13 E5 F5", heard(s))
	s = read(t, piano([3]string{`<note dur="1" pname="c" oct="4" accid.ges="n" ornam="t"/>`, `<mRest/>`, ""}))
	require.Equal(t, "trill", s.Notes[0].Ornaments[0].Kind)
}
