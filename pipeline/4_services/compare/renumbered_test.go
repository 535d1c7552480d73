package compare_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"

	"github.com/stretchr/testify/require"
)

// Where neither file says that it prints the numbers of measures, an inserted measure renumbers all that follow: it is told as one,
// with the place where it was put in; likewise a measure that is gone.
func TestAMeasurePutInRenumbersWhatFollows(t *testing.T) {
	pitches := strings.Fields("C D E F G A B")
	music := func(measures ...int) *score.Score {
		var b strings.Builder
		for k, m := range measures {
			attributes := ""
			if k == 0 {
				attributes = "<attributes><divisions>1</divisions></attributes>"
			}
			fmt.Fprintf(&b, `<measure number="%d">%s`, k+1, attributes)
			for i := range 4 {
				fmt.Fprintf(&b, `<note><pitch><step>%s</step><octave>%d</octave></pitch><duration>1</duration><type>quarter</type></note>`,
					pitches[(m*(i+1))%7], 3+(m+i)%3)
			}
			b.WriteString("</measure>")
		}
		return parsed(t, `<score-partwise><part-list><score-part id="P"><part-name>Piano</part-name></score-part></part-list><part id="P">`+
			b.String()+`</part></score-partwise>`)
	}
	whole, lacking := music(1, 2, 3, 4, 5, 6, 8, 9, 10), music(1, 2, 3, 5, 6, 8, 9, 10)
	said := func(a, b *score.Score) []string {
		return compare.Scores("x", compare.Side{Score: a}, compare.Side{Score: b}).NotSaid
	}
	require.Contains(t, said(lacking, whole),
		"numbers of measures, which not both files say that they print (1 measure put in after m. 3: mm. 4–8 are now 5–9)")
	require.Contains(t, said(whole, lacking),
		"numbers of measures, which not both files say that they print (1 measure taken out after m. 3: mm. 5–9 are now 4–8)")
	require.Contains(t, said(music(2, 3, 4, 5), music(1, 2, 3, 4, 5)),
		"numbers of measures, which not both files say that they print (1 measure put in, at the beginning: mm. 1–4 are now 2–5)")
}
