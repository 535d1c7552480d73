package learned

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/fingering"
)

// both gives what a network says of strikes by whatever their columns are, plainly and in lanes.
func both(n *Network, tokens int, looked []uint8) (plain, inLanes [][fingering.Fingers]int32) {
	var v, w Workspace
	n.run(&v, tokens, looked, len(columns), n.columns)
	n.runInLanes(&w, tokens, looked, len(columns), n.columns)
	return v.says, w.says
}

// anyStrikes gives columns of so many strikes, each within its values.
func anyStrikes(r *rand.Rand, tokens int) (looked []uint8) {
	for range tokens {
		for _, c := range columns {
			looked = append(looked, uint8(r.IntN(c.Values)))
		}
	}
	return looked
}

// In lanes the numbers are those of the plain network, to the last one: of the shipped one, and of others whose numbers go as far
// as they can.
func TestLanesGiveTheSameNumbers(t *testing.T) {
	if !sideBySide {
		t.Skip("this processor has no lanes")
	}
	networks := []*Network{Shipped()}
	file := Shipped().File()
	head := bytes.IndexByte(file, '\n') + 1
	for seed := range uint64(40) {
		r, other := rand.New(rand.NewPCG(seed, 1)), bytes.Clone(file)
		for i := range other[head:] {
			switch r.IntN(10) {
			case 0:
				other[head+i] = 127
			case 1:
				other[head+i] = 128 // -128
			case 2:
				other[head+i] = uint8(r.IntN(256))
			default:
				other[head+i] = 0
			}
		}
		n, err := Read(other)
		require.NoError(t, err)
		networks = append(networks, n)
	}
	most := int32(0)
	for k, n := range networks {
		require.True(t, n.head.fills())
		for _, tokens := range []int{0, 1, 2, 3, 7, 100} {
			plain, inLanes := both(n, tokens, anyStrikes(rand.New(rand.NewPCG(uint64(tokens), 2)), tokens))
			require.Len(t, inLanes, tokens)
			require.Equal(t, plain, inLanes, "network %d, %d strikes", k, tokens)
			for _, costs := range plain {
				most = max(most, slices.Max(costs[:]))
			}
		}
	}
	require.Greater(t, most, int32(1000), "they say something")
}

func BenchmarkNetwork(b *testing.B) {
	n := Shipped()
	for _, strikes := range []int{600, 6000} {
		looked := anyStrikes(rand.New(rand.NewPCG(1, 1)), strikes)
		for _, way := range []struct {
			name string
			run  func(w *Workspace, tokens int, looked []uint8, stride int, places []int)
			here bool
		}{{"plain", n.run, true}, {"lanes", n.runInLanes, sideBySide}} {
			b.Run(fmt.Sprintf("%s/strikes=%d", way.name, strikes), func(b *testing.B) {
				if !way.here {
					b.Skip("this processor has no lanes")
				}
				var w Workspace
				for b.Loop() {
					way.run(&w, strikes, looked, len(columns), n.columns)
				}
				b.ReportMetric(float64(strikes)*float64(b.N)/b.Elapsed().Seconds(), "strikes/s")
			})
		}
	}
}
