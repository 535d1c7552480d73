package align_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/align"
	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// figures writes measures of eight eighths in one staff, each the keys of a row above a lowest one, by name of step from C.
func figures(t *testing.T, up int, rows ...[8]int) *score.Score {
	t.Helper()
	var b strings.Builder
	b.WriteString(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">`)
	for m, row := range rows {
		fmt.Fprintf(&b, `<measure number="%d">`, m+1)
		if m == 0 {
			b.WriteString(`<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>`)
		}
		for _, key := range row {
			k := 60 + up + key
			names := []string{"C", "C1", "D", "D1", "E", "F", "F1", "G", "G1", "A", "A1", "B"}
			name, alter := names[k%12], ""
			if len(name) > 1 {
				name, alter = name[:1], "<alter>1</alter>"
			}
			fmt.Fprintf(&b, `<note><pitch><step>%s</step>%s<octave>%d</octave></pitch><duration>1</duration><voice>1</voice><type>eighth</type></note>`, name, alter, k/12-1)
		}
		b.WriteString(`</measure>`)
	}
	b.WriteString(`</part></score-partwise>`)
	return scoretest.Read(t, b.String())
}

// Two sources of a work are known by their music: where one is transposed, has a measure more, and some of its measures read otherwise.
// Another work over the same rhythm is none.
func TestSourcesOfOneWorkAreKnownByTheirMusic(t *testing.T) {
	var one, two, other [][8]int
	for m := range 12 {
		row := [8]int{0, m % 5, 7, m, 12, 3, m / 2, 5}
		one = append(one, row)
		if m%4 == 3 {
			row[2]++ // a reading
		}
		two = append(two, row)
		other = append(other, [8]int{0, 5, 7 + m%3, 2 * m % 7, 9, 4, m, 1})
	}
	two = append([][8]int{{0, 1, 2, 3, 4, 5, 6, 7}}, two...)
	a, b, c := align.MusicOf(figures(t, 0, one...)), align.MusicOf(figures(t, 3, two...)), align.MusicOf(figures(t, 0, other...))
	require.Len(t, a, 12)
	require.True(t, align.SameWork(a, b))
	require.False(t, align.SameWork(a, c))
	require.False(t, align.SameWork(align.MusicOf(figures(t, 0, one[:3]...)), a), "three measures say little")
}
