package fit

import (
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
)

// block holds one number for each grip of an event, each pair of grips with the event before, and each triple:
// prices, or what is expected of them.
type block struct {
	first, second, grips []fingering.Grip // of the events e−2, e−1 and e
	unary, pair, triple  []float64
}

// reset empties the block for an event whose grips, and those of the two events before, are given.
func (b *block) reset(first, second, grips []fingering.Grip) {
	b.first, b.second, b.grips = first, second, grips
	b.unary = grow(b.unary, len(grips))
	b.pair = grow(b.pair, len(second)*len(grips))
	b.triple = grow(b.triple, len(first)*len(second)*len(grips))
}

// spread adds the price of each combination of a factor to the grips that lay it.
func (b *block) spread(f *factor, price []float64) {
	switch f.kind {
	case effort.NoteFactor:
		for k, grip := range b.grips {
			b.unary[k] += price[grip.Fingers[f.at[0]]-1]
		}
	case effort.ChordFactor:
		for k, grip := range b.grips {
			b.unary[k] += price[at2(grip.Fingers[f.at[0]], grip.Fingers[f.at[1]])]
		}
	case effort.ShapeFactor:
		for k := range b.grips {
			if f.combo[k] >= 0 {
				b.unary[k] += price[f.combo[k]]
			}
		}
	case effort.LinkFactor:
		for j, before := range b.second {
			for k, grip := range b.grips {
				b.pair[j*len(b.grips)+k] += price[at2(before.Fingers[f.at[0]], grip.Fingers[f.at[1]])]
			}
		}
	case effort.DoubleFactor:
		for j := range b.second {
			for k := range b.grips {
				if f.before[j] >= 0 && f.combo[k] >= 0 {
					b.pair[j*len(b.grips)+k] += price[int(f.before[j])*10+int(f.combo[k])]
				}
			}
		}
	case effort.RowFactor:
		i := 0
		for _, first := range b.first {
			for _, second := range b.second {
				row := price[5*at2(first.Fingers[f.at[0]], second.Fingers[f.at[1]]):][:5]
				for _, grip := range b.grips {
					b.triple[i] += row[grip.Fingers[f.at[2]]-1]
					i++
				}
			}
		}
	}
}

// gather is the other way about: it adds the numbers of the grips up, by combination of the factor.
func (b *block) gather(f *factor, sum []float64) {
	switch f.kind {
	case effort.NoteFactor:
		for k, grip := range b.grips {
			sum[grip.Fingers[f.at[0]]-1] += b.unary[k]
		}
	case effort.ChordFactor:
		for k, grip := range b.grips {
			sum[at2(grip.Fingers[f.at[0]], grip.Fingers[f.at[1]])] += b.unary[k]
		}
	case effort.ShapeFactor:
		for k := range b.grips {
			if f.combo[k] >= 0 {
				sum[f.combo[k]] += b.unary[k]
			}
		}
	case effort.LinkFactor:
		for j, before := range b.second {
			for k, grip := range b.grips {
				sum[at2(before.Fingers[f.at[0]], grip.Fingers[f.at[1]])] += b.pair[j*len(b.grips)+k]
			}
		}
	case effort.DoubleFactor:
		for j := range b.second {
			for k := range b.grips {
				if f.before[j] >= 0 && f.combo[k] >= 0 {
					sum[int(f.before[j])*10+int(f.combo[k])] += b.pair[j*len(b.grips)+k]
				}
			}
		}
	case effort.RowFactor:
		i := 0
		for _, first := range b.first {
			for _, second := range b.second {
				row := sum[5*at2(first.Fingers[f.at[0]], second.Fingers[f.at[1]]):][:5]
				for _, grip := range b.grips {
					row[grip.Fingers[f.at[2]]-1] += b.triple[i]
					i++
				}
			}
		}
	}
}

// at2 is the number of the combination of two fingers.
func at2(f, g fingering.Finger) int { return int(f-1)*5 + int(g-1) }

// grow gives a slice of n zeros, in the memory of s where there is enough of it.
func grow(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	s = s[:n]
	clear(s)
	return s
}
