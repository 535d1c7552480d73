package engrave

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// A chord whose file has an accent at each of its notes is drawn with one; what only a further note has stays, and the
// next chord has its own.
func TestAnAccentStandsOnceAtAChord(t *testing.T) {
	note := func(chord bool, signs ...string) string {
		out := "<note>"
		if chord {
			out += "<chord/>"
		}
		out += "<notations><articulations>"
		for _, s := range signs {
			out += "<" + s + "/>"
		}
		return out + "</articulations></notations></note>"
	}
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString("<measure>"+note(false, "accent")+note(true, "accent", "tenuto")+note(true, "accent")+
		note(false, "staccato")+note(true, "accent")+"</measure>"))
	r := repair{divisions: 1}
	r.through(doc.Root())
	text, err := doc.WriteToString()
	require.NoError(t, err)
	require.Equal(t, 2, strings.Count(text, "<accent/>"))
	require.Equal(t, 1, strings.Count(text, "<tenuto/>"))
	require.Equal(t, 1, strings.Count(text, "<staccato/>"))
}
