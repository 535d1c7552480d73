package musicxml_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
)

// wedge is one end of a hairpin of number 1 on a staff.
func wedge(kind string, staff int) string {
	return fmt.Sprintf(`<direction><direction-type><wedge type="%s" number="1"/></direction-type><staff>%d</staff></direction>`, kind, staff)
}

// Files write one staff after the other and give hairpins of both the number 1 (audit find 68): each ends on its own staff.
func TestHairpinsOfTwoStavesEndOnTheirOwn(t *testing.T) {
	spans := func(upper, lower string) string {
		s := read(t, piano(attributes+upper+backToStart+lower))
		var out []string
		for k := range s.Items {
			if i := &s.Items[k]; i.Kind == score.ItemHairpin {
				end := "open"
				if i.End != nil {
					end = i.End.Onset.String()
				}
				out = append(out, fmt.Sprintf("%s %d: %s-%s", i.Reading, i.Staff, i.Onset, end))
			}
		}
		return strings.Join(out, ", ")
	}
	c, d := n("C5", 4, in(1, 1)), n("C3", 4, in(5, 2))
	lower := d + wedge("diminuendo", 2) + d + d + wedge("stop", 2) + d
	require.Equal(t, "crescendo 1: 0-2, diminuendo 2: 1-3", spans(wedge("crescendo", 1)+c+c+wedge("stop", 1)+c+c, lower))
	// One that goes over to the other staff.
	require.Equal(t, "crescendo 1: 0-3", spans(wedge("crescendo", 1)+c+c+c+c, d+d+d+wedge("stop", 2)+d))
	// And back: each ends where the next sign of its number stands.
	require.Equal(t, "crescendo 1: 0-1, diminuendo 2: 2-3", spans(wedge("crescendo", 1)+c+c+c+wedge("stop", 1)+c, d+wedge("stop", 2)+d+wedge("diminuendo", 2)+d+d))
}
