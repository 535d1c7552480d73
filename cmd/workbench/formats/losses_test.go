package formats

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/pipeline"
)

// scale is a score of the right hand alone over a rest: a scale that goes up and down, its first two notes tied.
const scale = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">
<measure number="1"><attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves>
<clef number="1"><sign>G</sign><line>2</line></clef><clef number="2"><sign>F</sign><line>4</line></clef></attributes>NOTES
<backup><duration>8</duration></backup><note id="n99"><rest measure="yes"/><duration>8</duration><voice>5</voice><staff>2</staff></note></measure>
</part></score-partwise>`

func scaleOf(t *testing.T, change func(string) string) *pipeline.PieceRun {
	t.Helper()
	var b strings.Builder
	for i, p := range strings.Fields("C5 C5 D5 E5 F5 G5 A5 B5") {
		tie, slur := "", ""
		switch i {
		case 0:
			tie = `<tie type="start"/>`
		case 1:
			tie = `<tie type="stop"/>`
		case 2:
			slur = `<notations><slur type="start" number="1"/></notations>`
		case 7:
			slur = `<notations><slur type="stop" number="1"/></notations>`
		}
		b.WriteString(`<note id="n` + string(rune('0'+i)) + `"><pitch><step>` + p[:1] + `</step><octave>` + p[1:] + `</octave></pitch><duration>1</duration>` +
			tie + `<voice>1</voice><type>eighth</type><staff>1</staff>` + slur + `</note>`)
	}
	w, err := ran("scale.musicxml", []byte(change(strings.Replace(scale, "NOTES", b.String(), 1))))
	require.NoError(t, err)
	return w
}

// What another reading has lost is found, and once it is taken out of the first, the two are the same.
func TestLossesAreFoundAndTakenOver(t *testing.T) {
	a := scaleOf(t, func(s string) string { return s })
	b := scaleOf(t, func(s string) string {
		s = strings.ReplaceAll(strings.ReplaceAll(s, `<tie type="start"/>`, ""), `<tie type="stop"/>`, "")
		s = strings.Replace(s, `<slur type="stop" number="1"/>`, "", 1)
		return strings.ReplaceAll(s, `number="1"/></notations>`, `number="3"/></notations>`)
	})
	to := make([]int, len(a.Score.Notes))
	ids := byID(b.Score)
	for i := range to {
		to[i] = ids[a.Score.Notes[i].ID]
	}
	r := newReadings(a.Score, b.Score, to)
	losses := r.losses()
	require.Equal(t, []loss{{tieKind, 0}, {slurKind, 0}}, losses)
	same, now := r.with(losses)
	require.Len(t, now, len(to))
	require.Empty(t, newReadings(same, b.Score, to).losses())
	require.Equal(t, 1, a.Score.Notes[0].TiedTo, "the first reading stays what it is")
	got, err := fingersOf(a, same)
	require.NoError(t, err)
	require.Equal(t, b.Suggestion.Fingers(), got)

	lost := append([]int{-1}, to[1:]...)
	r = newReadings(a.Score, b.Score, lost)
	same, now = r.with([]loss{{lostKind, 0}})
	require.Len(t, same.Notes, len(to)-1)
	require.Equal(t, -1, now[0])
	require.Equal(t, -1, same.Notes[now[1]].TiedFrom)
}

// A finger that is another is laid to the loss without which it is the same.
func TestTheCauseOfAnotherFingerIsNamed(t *testing.T) {
	a := scaleOf(t, func(s string) string { return s })
	b := scaleOf(t, func(s string) string {
		s = strings.ReplaceAll(s, `number="1"/></notations>`, `number="3"/></notations>`)
		return strings.Replace(s, `<step>G</step><octave>5`, `<step>G</step><octave>6`, 1) // as if the octave had been lost
	})
	to := make([]int, len(a.Score.Notes))
	var differ []int
	x, y := a.Suggestion.Fingers(), b.Suggestion.Fingers()
	for i := range to {
		if to[i] = i; x[i] != y[i] {
			differ = append(differ, i)
		}
	}
	require.NotEmpty(t, differ)
	e, err := explain(a, b, to, differ)
	require.NoError(t, err)
	require.Empty(t, e.left)
	require.Len(t, e.causes, 1, "the numbers of slurs change nothing here")
	require.Equal(t, loss{"pitch", 0}, e.causes[0].loss)
	require.Equal(t, differ, e.causes[0].notes)
}
