package engine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fingering/written"
	"fingerproof/rules/hand"
)

// A hand that is measured is fingered like the named hand of its size: the name is no part of the music. And a hand a
// millimetre larger takes what fits both by the same taste.
func TestAMeasuredHandIsFingeredLikeTheNamedOneOfItsSize(t *testing.T) {
	notes := written.Notes("c5 e5 d5 g4 c5 f#5 e5 b4 a5 c5 d#5 e5 g4 b4 c5 a4 f4 g4 e5 c5", 200_000)
	fingers := func(profile hand.Profile) (out []fingering.Finger, learned int) {
		r := Finger(fingering.Right, profile, effort.Delivered(), notes, Options{Explain: true, Aims: effort.PlainAims()})
		for _, n := range r.Notes {
			out = append(out, n.Finger)
			for _, cost := range n.Learned {
				learned += cost
			}
		}
		return out, learned
	}
	for _, named := range []hand.Profile{hand.OctaveHand, hand.NinthHand, hand.TenthHand} {
		want, asked := fingers(named)
		require.Positive(t, asked, "what editors print is asked for the %s hand", named.Name)
		measured := hand.Profile{Name: "measured", Span: named.Span, Supple: named.Supple}
		got, _ := fingers(measured)
		require.Equal(t, want, got, named.Name)
	}
}
