package hand

// People is whose hand span is asked for.
type People int

// The two groups of adult pianists for which spans have been published.
const (
	Women People = iota
	Men
)

// Mean and spread of the stretch from thumb to fifth finger (FACTS §1.1: 473 adult pianists; the spread follows from
// the shares given there by the normal curve).
var (
	meanSpan = [2]Length{20100, 22600}
	spread   = [2]Length{1350, 1400}
)

// reachMargin is what a hand needs beyond the distance between the middles of two keys to sound both (FACTS §1.2).
const reachMargin = 500

// normalTail holds the share in ten-thousandths of a normal distribution that lies above z, for z = 0, 0.1 … 3.5.
var normalTail = [36]int{
	5000, 4602, 4207, 3821, 3446, 3085, 2743, 2420, 2119, 1841, 1587, 1357,
	1151, 968, 808, 668, 548, 446, 359, 287, 228, 179, 139, 107,
	82, 62, 47, 35, 26, 19, 13, 10, 7, 5, 3, 2,
}

func above(z10000 int) int {
	if z10000 < 0 {
		return 10000 - above(-z10000)
	}
	i := z10000 / 1000
	if i >= len(normalTail)-1 {
		return 0
	}
	return normalTail[i] - (normalTail[i]-normalTail[i+1])*(z10000%1000)/1000
}

// Share gives how many in ten thousand of the people have a span of at least the given one.
func Share(who People, span Length) int {
	return above(int(int64(span-meanSpan[who]) * 10000 / int64(spread[who])))
}

// Reach gives how many in ten thousand adult pianists, women and men in equal parts, can take a distance between the
// middles of two keys with fingers a and b. A pair other than thumb and fifth is brought to the span of the whole
// hand by the table of practical spans.
func Reach(a, b int, distance Length) int {
	if distance < 0 {
		distance = -distance
	}
	if a > b {
		a, b = b, a
	}
	if a == b || a < 1 || b > 5 {
		return 10000
	}
	span := Length(int64(distance)*int64(practical[1][5])/int64(practical[a][b])) + reachMargin
	return (Share(Women, span) + Share(Men, span)) / 2
}
