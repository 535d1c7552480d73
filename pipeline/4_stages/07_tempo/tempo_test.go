package tempo_test

import (
	"strings"
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/07_tempo"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// Short names for what many tests write.
var (
	piano = scoretest.Piano
	read  = scoretest.Read
	note  = scoretest.Note
)

func TestTempoFromMarkWordManifestAndDefault(t *testing.T) {
	p := policies.Default()
	c5 := note("C5", 16, 1, 1, "")
	mark := `<direction><direction-type><metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome></direction-type></direction>`
	word := `<direction><direction-type><words>Allegro</words></direction-type></direction>`

	pace := tempo.Find(tempo.Input{Score: piano(t, mark+c5, c5), Policy: p})
	require.Equal(t, [2]int{120, 120}, [2]int{pace.Low, pace.High}, "a half note of 60 is a quarter of 120")
	require.True(t, pace.Marked)
	require.EqualValues(t, 2_000_000, pace.Micros(score.Whole(4)), "four quarters at 120 take two seconds")

	allegro, _, _ := p.TempoOf("Allegro")
	require.Equal(t, "allegro", allegro)
	pace = tempo.Find(tempo.Input{Score: piano(t, word+c5), Policy: p})
	_, r, _ := p.TempoOf("allegro")
	require.Equal(t, r, policies.Range{Low: pace.Low, High: pace.High})
	require.False(t, pace.Marked)

	pace = tempo.Find(tempo.Input{Score: piano(t, word+mark+c5), Policy: p})
	require.Equal(t, "metronome mark", pace.Source)

	pace = tempo.Find(tempo.Input{Score: piano(t, word+c5), Manifest: policies.Range{Low: 90, High: 100}, Policy: p})
	require.Equal(t, [3]any{90, 100, "manifest"}, [3]any{pace.Low, pace.High, pace.Source})

	pace = tempo.Find(tempo.Input{Score: piano(t, c5), Policy: p})
	require.Equal(t, p.DefaultTempo(), policies.Range{Low: pace.Low, High: pace.High})

	pace = tempo.Find(
		tempo.Input{Score: piano(t, mark+c5, strings.Replace(mark, ">60<", ">30<", 1)+c5, c5), Policy: p})
	require.EqualValues(t, 2_000_000+4_000_000, pace.Micros(score.Whole(8)), "half as fast from the second measure")
}
