package effort

import (
	"math/bits"

	"fingerproof/rules/hand"
)

// What speed makes hard. Times are microseconds at the fast end of the piece's tempo, prices milli-nats; the figures are our
// own working figures around published or remembered limits, named at each.
const (
	// slowFinger is the time one finger needs from one key to another: four a second (FACTS §3, proposal).
	slowFinger = 250_000
	// fastPass is the time below which a pass shows as a delay (FACTS §3: thumb-under makes the delays of fast scales).
	fastPass = 90_000
	// weakPair is the time below which 4 and 5 in turn lose evenness (FACTS §3: ring and little finger are slower).
	weakPair = 110_000
	// leapBase and leapBit shape the time of a leap by its index of difficulty (FACTS §3: time grows by the bit); the two
	// coefficients have no published value for the piano and are settings of ours.
	leapBase = 50_000
	leapBit  = 30_000
	// nearMove is how far the hand shifts without that being a leap.
	nearMove = 6000 // hundredths of a millimetre
)

// late gives price × (limit − time) / time: nothing while there is time, the full price where it needs twice as much.
func late(price, limit, micros int64) int64 {
	if micros >= limit {
		return 0
	}
	return min(price*(limit-micros)/max(micros, 1), 6*price)
}

// tempoPrice prices finger f on key a followed after so many microseconds by finger g on key b, in milli-nats.
func (p *Pricer) tempoPrice(a, b, f, g int, micros int64) int64 {
	d := hand.Distance(a, b)
	far := max(d, -d)
	switch {
	case d == 0 && f == g:
		return late(3500, p.aims.RepeatMicros, micros)
	case d == 0:
		return 0
	case f == g:
		if slides(a, b, f) {
			return 0
		}
		return late(1000, slowFinger, micros)
	}
	var sum int64
	span := d
	if f > g {
		span = -d
	}
	if span < 0 && min(f, g) == 1 {
		sum += late(500, fastPass, micros)
	}
	if min(f, g) == 4 && max(f, g) == 5 {
		sum += late(600, weakPair, micros)
	}
	moved := d - (restFingers[g]-restFingers[f])*p.profile.Span/21000
	if moved = max(moved, -moved); moved > nearMove && far > nearMove {
		sum += late(700, leapTime(moved, hand.Black(b)), micros)
	}
	return sum
}

// leapTime is the time a leap of the hand needs: it grows by the bit of 2·distance over the width of the key (FACTS §3).
func leapTime(moved hand.Length, black bool) int64 {
	width := hand.Length(2350)
	if black {
		width = 1000
	}
	ratio := uint64(2 * moved / width * 16) // sixteenths keep the bits between whole ones
	whole := bits.Len64(ratio) - 1
	part := int64(ratio-1<<whole) * 1000 >> whole // linear between whole bits
	return leapBase + leapBit*(int64(whole-4)*1000+part)/1000
}

// slides says that one finger glides from the first key to the second without letting the line go: from a black key to the
// white one beside it, or the thumb between neighbours (FACTS §4.5).
func slides(a, b, f int) bool {
	d := hand.Distance(a, b)
	d = max(d, -d)
	return hand.Black(a) && !hand.Black(b) && d < 2400 || f == 1 && d < 2400
}
