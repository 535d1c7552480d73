package effort

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/fingering"
)

func points(keys []int, fingers string) (total int) {
	f := func(i int) fingering.Finger { return fingering.Finger(fingers[i] - '0') }
	for i, k := range keys {
		total += notePoints(k, f(i))
		if i > 0 {
			total += stepPoints(keys[i-1], k, f(i-1), f(i))
		}
		if i > 1 {
			total += rowPoints(keys[i-2], keys[i-1], k, f(i-2), f(i-1), f(i))
		}
	}
	return total
}

// Golden values of FACTS §6.1 [D].
func TestErgonomicModelGoldenValues(t *testing.T) {
	scale := []int{60, 62, 64, 65, 67, 69, 71, 72}
	onF := []int{65, 67, 69, 70, 72, 74, 76, 77}
	for _, c := range []struct {
		keys    []int
		fingers string
		want    int
	}{
		{[]int{60, 62, 64, 65, 67}, "12345", 4}, {[]int{67, 65, 64, 62, 60}, "54321", 3},
		{scale, "12312345", 15}, {scale, "12412345", 20}, {scale, "12341234", 23},
		{onF, "12312345", 22}, {onF, "12341234", 23},
		{[]int{60, 64, 67, 72}, "1235", 5}, {[]int{60, 64, 67, 72}, "1245", 12},
		{[]int{62, 63}, "34", 3}, {[]int{67, 66, 67}, "212", 5}, {[]int{64, 66, 68}, "123", 0},
		{[]int{64, 65}, "31", 5}, {[]int{64, 66}, "21", 9}, {[]int{70, 71}, "31", 4},
		{[]int{60, 72}, "15", 3}, {[]int{60, 72}, "14", 4},
	} {
		require.Equal(t, c.want, points(c.keys, c.fingers), "%v %s", c.keys, c.fingers)
	}
	require.GreaterOrEqual(t, points([]int{60, 76}, "15"), notPlayable)
	require.GreaterOrEqual(t, points([]int{60, 65}, "34"), notPlayable)
}

// Playable fingerings by brute force, FACTS §6.1 [D]: 165 for five notes, 1,803 for the octave; the cheapest is the
// handbook's.
func TestErgonomicModelCountsPlayableFingerings(t *testing.T) {
	for _, c := range []struct {
		keys []int
		want int
		best string
	}{{[]int{60, 62, 64, 65, 67}, 165, "12345"}, {[]int{60, 62, 64, 65, 67, 69, 71, 72}, 1803, "12312345"}} {
		n, low, best := 0, 1<<30, ""
		fingers := make([]byte, len(c.keys))
		var walk func(i int)
		walk = func(i int) {
			if i == len(c.keys) {
				if p := points(c.keys, string(fingers)); p < notPlayable {
					n++
					if p < low {
						low, best = p, string(fingers)
					}
				}
				return
			}
			for f := byte('1'); f <= '5'; f++ {
				fingers[i] = f
				walk(i + 1)
			}
		}
		walk(0)
		require.Equal(t, c.want, n)
		require.Equal(t, c.best, best)
	}
}

// Construction rules of the published table (FACTS §6.1 [M]).
func TestPublishedSpanTable(t *testing.T) {
	i := 0
	for a := 1; a <= 5; a++ {
		for b := a + 1; b <= 5; b++ {
			s := publishedSpans[i]
			require.Equal(t, i, pairIndex(a, b))
			require.Equal(t, i, pairIndex(b, a))
			require.Equal(t, s.maxPrac-2, s.maxComf)
			if a == 1 {
				require.Equal(t, s.minPrac+2, s.minComf)
			} else {
				require.Equal(t, s.minPrac, s.minComf)
				require.Equal(t, 2*(b-a), s.maxRel)
				require.Equal(t, s.maxRel-1, s.minRel)
			}
			require.IsNonDecreasing(t, []int{s.minPrac, s.minComf, s.minRel, s.maxRel, s.maxComf, s.maxPrac})
			i++
		}
	}
}

// As a model of the search it prices what its rules say: of a line, note by note; of chords, the outer voices as
// lines and the keys of a chord by the rules on spans, which are never worth more than twenty points there. Held keys
// are not judged again.
func TestErgonomicModelInTheSearch(t *testing.T) {
	total := func(keys, fingers string) int {
		p := passage{keys: keys}
		line := p.line()
		grips := fingered(t, line, fingers)
		m := NewErgonomic(line, grips)
		sum, out := 0, [1]int32{}
		for e := range grips {
			m.Unary(e, out[:])
			sum += int(out[0])
			if e > 0 {
				m.Pair(e, out[:])
				sum += int(out[0])
			}
			if e > 1 {
				require.True(t, m.Triple(e, out[:]))
				sum += int(out[0])
			}
		}
		require.Zero(t, sum%Point)
		return sum / Point
	}
	require.Equal(t, 15, total("c4 d4 e4 f4 g4 a4 b4 c5", "12312345"))
	require.Equal(t, 12, total("c4 e4 g4 c5", "1245"))
	lower, upper := points([]int{60, 62, 64}, "123"), points([]int{64, 65, 67}, "345")
	inside := spanPoints(60, 64, 1, 3) + spanPoints(62, 65, 2, 4) + spanPoints(64, 67, 3, 5)
	require.Equal(t, lower+upper+inside, total("c4+e4 d4+f4 e4+g4", "132435"))
	require.Equal(t, 20+1, total("c4+f4", "34"), "beyond what 3 and 4 span, and 4 is weak")
	require.Equal(
		t, 1+stepPoints(60, 67, 4, 5)+spanPoints(60, 67, 4, 5)*0+1+20, total("c4:2 g4", "45"),
		"the held 4 is weak once",
	)
}
