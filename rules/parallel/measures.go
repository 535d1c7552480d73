package parallel

import (
	"encoding/binary"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/hand"
)

// Again is what one hand plays in a measure, with all measures in which it plays the same.
type Again struct {
	Like bool // on other keys of the same shape and colours, too
	// Times are the notes of each measure, as indices into Score.Notes, in the order of playing and note for note.
	Times [][]int
	// Entered and Left say of each time which stroke the hand comes from, and which it goes to: equal numbers, equal
	// strokes. What is at the ends of a time may depend on it.
	Entered, Left []int
	// First and Last are how many notes the first stroke has, and the last.
	First, Last int
}

// leastAgain is how many notes a measure has at least.
const leastAgain = 2

// likeNear is how many measures apart two measures of the same shape lie at most that are taken for one figure: over longer
// distances it is remembered only as part of a passage that returns.
const likeNear = 8

// MeasuresAgain lists the measures that a hand plays again, those on the same keys first, each by its first time: the same
// keys struck at the same times, whatever is held from before and in whichever voices it is written. Those on other
// keys are listed as long as no more than eight measures lie between one and the next.
func (of Strokes) MeasuresAgain(s *score.Score) (out []Again) {
	strokes := of.list
	number := map[string]int{}
	numberOf := func(word string) int {
		n, known := number[word]
		if !known {
			n = len(number) + 1
			number[word] = n
		}
		return n
	}
	type place struct{ from, to, measure, low, high int }
	var exact, like [][]place
	groups := map[string]int{}
	lists := [2]*[][]place{&exact, &like}
	for from := 0; from < len(strokes); {
		measure := s.Notes[strokes[from].ids[0]].Measure
		to, notes := from, 0
		for to < len(strokes) && strokes[to].line == strokes[from].line && s.Notes[strokes[to].ids[0]].Measure == measure {
			notes += len(strokes[to].ids)
			to++
		}
		if notes >= leastAgain {
			here := place{from, to, measure, strokes[from].keys[0], strokes[from].keys[0]}
			for i := from; i < to; i++ {
				here.low, here.high = min(here.low, slices.Min(strokes[i].keys)), max(here.high, slices.Max(strokes[i].keys))
			}
			for v, list := range lists {
				if v == 1 && here.low == here.high {
					continue // one key has no shape
				}
				word := spellMeasure(s, measure, strokes[from:to], v == 1)
				g, known := groups[word]
				if known && v == 1 {
					last := (*list)[g][len((*list)[g])-1]
					known = measure-last.measure <= likeNear &&
						(here.low == last.low || max(here.high, last.high)-min(here.low, last.low) > placeSpan)
				}
				if !known {
					g = len(*list)
					groups[word] = g
					*list = append(*list, nil)
				}
				(*list)[g] = append((*list)[g], here)
			}
		}
		from = to
	}
	for v, list := range lists {
		for _, places := range *list {
			if len(places) < 2 {
				continue
			}
			a := Again{Like: v == 1, First: len(strokes[places[0].from].ids), Last: len(strokes[places[0].to-1].ids)}
			other := false
			for _, at := range places {
				var ids []int
				for i := at.from; i < at.to; i++ {
					ids = append(ids, strokes[i].ids...)
				}
				base := strokes[at.from].keys[0]
				other = other || base != strokes[places[0].from].keys[0]
				if v == 0 {
					base = 0
				}
				a.Times = append(a.Times, ids)
				a.Entered = append(a.Entered, numberOf(beside(strokes, at.from, -1, base)))
				a.Left = append(a.Left, numberOf(beside(strokes, at.to-1, 1, base)))
			}
			if v == 0 || other {
				out = append(out, a)
			}
		}
	}
	return out
}

// spellMeasure spells what is struck in a measure, and when; of measures that are like others the keys are told by how far they
// lie from the first and by their colours.
func spellMeasure(s *score.Score, measure int, strokes []stroke, like bool) string {
	b := binary.AppendVarint(nil, int64(strokes[0].line))
	base := 0
	if like {
		base = strokes[0].keys[0]
	}
	b = append(b, byte(len(strokes)))
	for i := range strokes {
		st := &strokes[i]
		at := st.at.Sub(s.Measures[measure].Start)
		b = binary.AppendVarint(binary.AppendVarint(b, at.Num()), at.Den())
		b = spellKeys(b, st, base, like)
	}
	if like {
		b = append(b, 'l')
	}
	return string(b)
}

func spellKeys(b []byte, st *stroke, base int, colours bool) []byte {
	b = append(b, byte(len(st.keys)))
	if st.grace {
		b = append(b, 'g')
	}
	for _, k := range st.keys {
		b = binary.AppendVarint(b, int64(k-base))
		if colours && hand.Black(k) {
			b = append(b, 'b')
		}
	}
	return b
}

// beside spells the stroke before stroke i, or after it; of none it is empty.
func beside(strokes []stroke, i, step, base int) string {
	if i+step < 0 || i+step >= len(strokes) || strokes[i+step].line != strokes[i].line {
		return ""
	}
	return string(spellKeys(nil, &strokes[i+step], base, true))
}
