package effort

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every context of the habit is found with its prices, and none beside; asked for together those without prices are left out.
func TestHabitIndexFindsWhatTheHabitHas(t *testing.T) {
	w := Delivered()
	x := w.index()
	known := slices.Sorted(maps.Keys(w.Habit))
	require.Greater(t, len(known), 1000)
	for k, c := range known {
		unknown, other := c^1<<63, known[len(known)-1-k]
		spans := x.spans([]Context{unknown, c, unknown + 1, other, unknown}, nil)
		if at := x.find(unknown); at.from != at.to || len(spans) != 2 ||
			!slices.Equal(w.Habit[c], x.prices[spans[0].from:spans[0].to]) ||
			!slices.Equal(w.Habit[other], x.prices[spans[1].from:spans[1].to]) {
			t.Fatalf("%v and %v are found at %v, %v at %v", c, other, spans, unknown, at)
		}
	}
	require.Empty(t, x.spans([]Context{known[0] ^ 1<<63, known[1] ^ 1<<63}, nil))
}

// The contexts of some thousand notes as they are asked for: one in so many has prices.
func BenchmarkHabitSpans(b *testing.B) {
	x := Delivered().index()
	known := slices.Sorted(maps.Keys(Delivered().Habit))
	r := rand.New(rand.NewPCG(1, 1))
	for _, one := range []int{2, 4} {
		var asked [][]Context
		for range 4000 {
			var contexts []Context
			for range 20 {
				c := known[r.IntN(len(known))]
				if r.IntN(one) > 0 {
					c ^= Context(1+r.IntN(60)) << 40
				}
				contexts = append(contexts, c)
			}
			asked = append(asked, contexts)
		}
		b.Run(fmt.Sprintf("oneIn=%d", one), func(b *testing.B) {
			var spans []span
			var contexts []Context
			for b.Loop() {
				for _, all := range asked {
					contexts = append(contexts[:0], all...)
					spans = x.spans(contexts, spans[:0])
				}
			}
		})
	}
}
