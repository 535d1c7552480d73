package engrave

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// slurred is four measures of one staff, under one slur from the first to the last.
func slurred() []byte {
	text := string(testScore())
	first := strings.Index(text, `<notations>`)
	text = text[:first] + `<notations><slur type="start" number="1"/>` + text[first+len(`<notations>`):]
	last := strings.LastIndex(text, `<notations>`)
	return []byte(text[:last] + `<notations><slur type="stop" number="1"/>` + text[last+len(`<notations>`):])
}

// A slur is drawn in an excerpt that it leaves, that it comes into, and through which it goes; the notes drawn are those of
// the excerpt.
func TestSlursThatLeaveAnExcerptAreDrawn(t *testing.T) {
	worker := newWorker(t, openPress(t))
	sheet, err := Copy(slurred(), CopyOptions{})
	require.NoError(t, err)
	whole, err := Copy(testScore(), CopyOptions{})
	require.NoError(t, err)
	for _, at := range [][2]int{{0, 3}, {0, 1}, {1, 2}, {2, 3}, {3, 3}} {
		with, err := worker.Excerpt(context.Background(), sheet, at[0], at[1], ExcerptOptions{})
		require.NoError(t, err)
		without, err := worker.Excerpt(context.Background(), whole, at[0], at[1], ExcerptOptions{})
		require.NoError(t, err)
		require.Equal(t, 1, strings.Count(with.SVG, `class="slur"`), "%v", at)
		require.Zero(t, strings.Count(without.SVG, `class="slur"`))
		require.Equal(t, strings.Count(without.SVG, `class="notehead"`), strings.Count(with.SVG, `class="notehead"`), "%v", at)
	}
	independent, err := sheet.MusicXML(1, 2)
	require.NoError(t, err)
	require.NotContains(t, string(independent), "<grace", "what the score says is not added to")
}
