package parallel

import (
	"encoding/binary"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/hand"
)

// Unit is how much music stands again.
type Unit uint8

// The units, the longest first.
const (
	OfMeasure Unit = iota // what a hand plays in a measure
	OfHalf                // … in half a measure
	OfBeat                // … in a beat
	OfPair                // two single keys, twice in one measure
)

// Again is what one hand plays in a measure or a part of one, with all its times.
type Again struct {
	Unit Unit
	Like bool // on other keys of the same shape and colours, too
	// Times are the notes of each time, as indices into Score.Notes, in the order of playing and note for note.
	Times [][]int
	// Entered and Left say of each time which stroke the hand comes from, and which it goes to: equal numbers, equal
	// strokes. What is at the ends of a time may depend on it.
	Entered, Left []int
	// Repeats says of each time that its first stroke strikes the keys of the one before again, Repeated that its last one is
	// struck again by the one after.
	Repeats, Repeated []bool
	// First and Last are how many notes the first stroke has, and the last.
	First, Last int
}

// leastAgain is how many notes a measure has at least, and leastStrokes how many strokes a part of one has.
const (
	leastAgain   = 2
	leastStrokes = 3
)

// likeNear is how many measures apart two measures of the same shape lie at most that are taken for one figure, and two parts
// of a measure: over longer distances they are remembered only as part of a passage that returns.
const likeNear = 8

// MeasuresAgain lists the measures that a hand plays again, those on the same keys first, each by its first time: the same
// keys struck at the same times, whatever is held from before and in whichever voices it is written. Those on other
// keys are listed as long as no more than eight measures lie between one and the next.
func (of Strokes) MeasuresAgain(s *score.Score) []Again { return of.again(s, OfMeasure) }

// PartsAgain lists half measures that a hand plays again in the same way, then beats, as long as no more than eight measures lie
// between one and the next; then pairs of single keys that stand twice in one measure.
func (of Strokes) PartsAgain(s *score.Score) []Again {
	return slices.Concat(of.again(s, OfHalf), of.again(s, OfBeat), of.pairs(s))
}

// placeOfCell is where a cell stands.
type placeOfCell struct{ from, to, measure, low, high int }

// partOf is the number of the part of its measure in which a stroke lies, and when that part begins.
func partOf(s *score.Score, measure int, at score.Fraction, unit Unit) (part int64, start score.Fraction) {
	m := &s.Measures[measure]
	length := m.BeatUnit
	if unit == OfHalf {
		length = m.Length.Mul(score.Frac(1, 2))
	}
	if unit == OfMeasure {
		return 0, m.Start
	}
	if length.Sign() <= 0 {
		length = score.Whole(1) // a quarter, where no metre says it
	}
	gone := at.Sub(m.Start)
	part = gone.Num() * length.Den() / (gone.Den() * length.Num())
	return part, m.Start.Add(length.Mul(score.Whole(part)))
}

func (of Strokes) again(s *score.Score, unit Unit) (out []Again) {
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
	var exact, like [][]placeOfCell
	groups := map[string]int{}
	lists := [2]*[][]placeOfCell{&exact, &like}
	for from := 0; from < len(strokes); {
		measure := s.Notes[strokes[from].ids[0]].Measure
		part, start := partOf(s, measure, strokes[from].at, unit)
		to, notes := from, 0
		for to < len(strokes) && strokes[to].line == strokes[from].line && s.Notes[strokes[to].ids[0]].Measure == measure {
			if p, _ := partOf(s, measure, strokes[to].at, unit); p != part {
				break
			}
			notes += len(strokes[to].ids)
			to++
		}
		if notes >= leastAgain && (unit == OfMeasure || to-from >= leastStrokes) {
			here := placeOfCell{from, to, measure, strokes[from].keys[0], strokes[from].keys[0]}
			for i := from; i < to; i++ {
				here.low, here.high = min(here.low, slices.Min(strokes[i].keys)), max(here.high, slices.Max(strokes[i].keys))
			}
			for v, list := range lists {
				if v == 1 && here.low == here.high {
					continue // one key has no shape
				}
				word := spellCell(start, strokes[from:to], v == 1)
				g, known := groups[word]
				if known && (v == 1 || unit != OfMeasure) {
					last := (*list)[g][len((*list)[g])-1]
					known = measure-last.measure <= likeNear &&
						(v == 0 || here.low == last.low || max(here.high, last.high)-min(here.low, last.low) > placeSpan)
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
			a := Again{
				Unit: unit, Like: v == 1,
				First: len(strokes[places[0].from].ids), Last: len(strokes[places[0].to-1].ids),
			}
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
				a.Repeats, a.Repeated = append(a.Repeats, strikesSame(strokes, at.from-1)), append(a.Repeated, strikesSame(strokes, at.to-1))
			}
			if v == 0 || other {
				out = append(out, a)
			}
		}
	}
	return out
}

// strikesSame says that the keys of stroke i are struck again by the next.
func strikesSame(strokes []stroke, i int) bool {
	return i >= 0 && i+1 < len(strokes) && strokes[i].line == strokes[i+1].line && slices.Equal(strokes[i].keys, strokes[i+1].keys)
}

// pairs lists two single keys in a row that stand twice or more in one measure, at the same place of a beat: elsewhere they
// are the parts of a sequence that climbs by its own steps.
func (of Strokes) pairs(s *score.Score) (out []Again) {
	strokes := of.list
	type pair struct {
		line, measure, a, b int
		at                  score.Fraction
	}
	at := map[pair]int{}
	for i := 1; i < len(strokes); i++ {
		x, y := &strokes[i-1], &strokes[i]
		if x.line != y.line || len(x.keys) != 1 || len(y.keys) != 1 || x.keys[0] == y.keys[0] {
			continue
		}
		p := pair{line: x.line, measure: s.Notes[x.ids[0]].Measure, a: x.keys[0], b: y.keys[0]}
		_, beat := partOf(s, p.measure, x.at, OfBeat)
		p.at = x.at.Sub(beat)
		if s.Notes[y.ids[0]].Measure != p.measure {
			continue
		}
		n, known := at[p]
		if !known {
			n = len(out)
			at[p] = n
			out = append(out, Again{Unit: OfPair, First: 1, Last: 1})
		}
		out[n].Times = append(out[n].Times, []int{x.ids[0], y.ids[0]})
		out[n].Entered, out[n].Left = append(out[n].Entered, 0), append(out[n].Left, 0)
		out[n].Repeats, out[n].Repeated = append(out[n].Repeats, false), append(out[n].Repeated, false)
	}
	return slices.DeleteFunc(out, func(a Again) bool { return len(a.Times) < 2 })
}

// spellCell spells what is struck in a measure or a part of one, and when; of those that are like others the keys are told by
// how far they lie from the first and by their colours.
func spellCell(start score.Fraction, strokes []stroke, like bool) string {
	b := binary.AppendVarint(nil, int64(strokes[0].line))
	base := 0
	if like {
		base = strokes[0].keys[0]
	}
	b = append(b, byte(len(strokes)))
	for i := range strokes {
		st := &strokes[i]
		at := st.at.Sub(start)
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
