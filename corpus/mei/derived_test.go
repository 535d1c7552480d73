package mei_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Where a document says nowhere how its notes sound (@accid.ges), what is printed is followed (common practice): an
// accidental holds in its measure, for all layers of its staff, and over the barline as long as its note is tied.
func TestPitchesThatOnlyThePageTells(t *testing.T) {
	rest := `<mRest/>`
	for name, c := range map[string]struct {
		key      string
		measures [][3]string
		want     string
	}{
		"tied by a sign": {"0", [][3]string{
			{`<note xml:id="a" dur="1" pname="f" oct="5" accid="s"/>`, rest, `<tie startid="#a" endid="#b"/>`},
			{`<note xml:id="b" dur="2" pname="f" oct="5"/><note dur="2" pname="f" oct="5"/>`, rest, ""}}, "F#5 F#5 F5"},
		"tied by a mark, twice": {"0", [][3]string{
			{`<note dur="1" pname="f" oct="5" accid="s" tie="i"/>`, rest, ""},
			{`<chord dur="1" tie="m"><note pname="a" oct="4"/><note pname="f" oct="5"/></chord>`, rest, ""},
			{`<note dur="2" pname="f" oct="5" tie="t"/><note dur="2" pname="f" oct="5"/>`, rest, ""}}, "F#5 A4 F#5 F#5 F5"},
		"tied by beats": {"0", [][3]string{
			{`<note dur="1" pname="f" oct="5" accid="s"/>`, rest, `<tie staff="1" tstamp="1" tstamp2="1m+1"/>`},
			{`<note dur="1" pname="f" oct="5"/>`, rest, ""}}, "F#5 F#5"},
		"a later layer": {"0", [][3]string{{`<layer n="1"><note dur="2" pname="f" oct="5"/><note dur="2" pname="f" oct="5"/></layer>` +
			`<layer n="2"><note dur="4" pname="d" oct="5"/><note dur="4" pname="f" oct="5" accid="s"/><note dur="2" pname="d" oct="5"/></layer>`, rest, ""}},
			"F5 F#5 D5 F#5 D5"},
		"a key of its own signs": {"", [][3]string{{`<note dur="2" pname="f" oct="5"/><note dur="2" pname="b" oct="5"/>`, rest, ""}}, "F#5 Bb5"},
		"the number of the key":  {"0", [][3]string{{`<note dur="2" pname="f" oct="5" pnum="78"/><note dur="2" pname="f" oct="5"/>`, rest, ""}}, "F#5 F5"},
	} {
		text := strings.Replace(piano(c.measures...), `keysig="2s"`, `keysig="`+c.key+`"`, 1)
		if c.key == "" {
			text = strings.Replace(text, ` keysig=""`, "", 1)
			text = strings.Replace(text, "<staffGrp", `<keySig><keyAccid pname="f" accid="s"/><keyAccid pname="b" accid="f"/></keySig><staffGrp`, 1)
		}
		s := read(t, text)
		require.Equal(t, c.want, heard(s), name)
		require.Equal(t, strings.Contains(c.measures[0][2]+c.measures[0][0], "tie"), s.Notes[0].TieStart, name)
	}
}

// A sign that stands nowhere is left out and named.
func TestSignsThatStandNowhere(t *testing.T) {
	for _, sign := range []string{"slur", "phrase", "tie", "lv", "fermata", "breath", "caesura", "trill", "mordent", "turn", "arpeg", "gliss",
		"dynam", "pedal", "octave"} {
		s := read(t, piano([3]string{`<note xml:id="a" dur="1" pname="c" oct="5" accid.ges="n"/>`, `<mRest/>`, "<" + sign + ` startid="#x" endid="#y"/>`}))
		require.Len(t, s.Oddities, 1, sign)
		require.Equal(t, "a sign (<"+sign+`>) stands at "#x", which is no note; it is left out`, s.Oddities[0].Detail)
		s = read(t, piano([3]string{`<note xml:id="a" dur="1" pname="c" oct="5" accid.ges="n"/>`, `<mRest/>`, "<" + sign + ` staff="1"/>`}))
		require.Contains(t, s.Oddities[0].Detail, "says neither at which note nor at which beat", sign)
	}
	s := read(t, piano([3]string{`<note xml:id="a" dur="1" pname="c" oct="5" accid.ges="n"/>`, `<mRest/>`, `<trill staff="1" tstamp="2"/>`}))
	require.Contains(t, s.Oddities[0].Detail, "stands at beat 2, where no note begins on its staff")
}
