package parallel

import (
	"cmp"
	"encoding/binary"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// Like finds the measures of a line that stand again elsewhere in it, however far: figures of an accompaniment, a
// refrain. It is read only once made.
type Like struct {
	byPlace map[[2]int]*measureOfLine // by line and measure
	byShape [2]map[string][]*measureOfLine
}

// measureOfLine is what one hand strikes in one measure.
type measureOfLine struct {
	line, measure int
	ids           []int
	midi          int // of its first key
	key, degree   int // of the same, mirrored
	shapes        [2]string
	figure        bool // it is long enough to be known again on other keys
}

// What makes a figure of a measure: fewer notes are fingered by what stands around them, and are alike on the same keys alone. One
// note is nothing that comes again.
const (
	likeNotes   = 3
	likeStrokes = 2
	exactNotes  = 2
)

// NewLike looks through the lines of a piece.
func NewLike(s *score.Score, p *playing.Playing) *Like {
	out := &Like{byPlace: map[[2]int]*measureOfLine{}}
	for v := range out.byShape {
		out.byShape[v] = map[string][]*measureOfLine{}
	}
	strokes := strokesOf(s, p)
	for from := 0; from < len(strokes); {
		measure := s.Notes[strokes[from].ids[0]].Measure
		to := from + 1
		for to < len(strokes) && strokes[to].line == strokes[from].line && s.Notes[strokes[to].ids[0]].Measure == measure {
			to++
		}
		if m := newMeasureOfLine(s, measure, strokes[from:to]); len(m.ids) >= exactNotes {
			m.figure = to-from >= likeStrokes && len(m.ids) >= likeNotes
			out.byPlace[[2]int{m.line, measure}] = m
			for v := range m.shapes {
				out.byShape[v][m.shapes[v]] = append(out.byShape[v][m.shapes[v]], m)
			}
		}
		from = to
	}
	return out
}

func newMeasureOfLine(s *score.Score, measure int, strokes []stroke) *measureOfLine {
	m := &measureOfLine{
		line: strokes[0].line, measure: measure, key: strokes[0].keys[0], degree: strokes[0].degree[0],
		midi: s.Notes[strokes[0].ids[0]].Midi,
	}
	var b [2][]byte
	for i := range strokes {
		st := &strokes[i]
		m.ids = append(m.ids, st.ids...)
		onset := st.at.Sub(s.Measures[measure].Start)
		for v := range b {
			b[v] = binary.AppendVarint(binary.AppendVarint(b[v], onset.Num()), onset.Den())
			b[v] = append(b[v], byte(len(st.ids)))
			if st.grace {
				b[v] = append(b[v], 1)
			}
		}
		for k := range st.keys {
			b[0] = binary.AppendVarint(b[0], int64(st.keys[k]-m.key))
			b[1] = binary.AppendVarint(b[1], int64(st.degree[k]-m.degree))
		}
	}
	m.shapes = [2]string{string(b[0]), string(b[1])}
	return m
}

// Measures lists where the music of one line in one measure stands again in the same line: on the same keys first,
// then transposed (by semitones, or by steps of the key), each in order of the music. Shift is in semitones between
// the first keys, upwards.
func (l *Like) Measures(line, measure int) (out []LikeMeasure) {
	m := l.byPlace[[2]int{line, measure}]
	if m == nil {
		return nil
	}
	met := map[int]bool{measure: true}
	for v := range l.byShape {
		for _, o := range l.byShape[v][m.shapes[v]] {
			exact := v == 0 && o.key == m.key
			if o.line != line || met[o.measure] || !m.figure && !exact {
				continue
			}
			met[o.measure] = true
			like := LikeMeasure{Measure: o.measure, Kind: Transposed, Shift: o.midi - m.midi, Steps: v == 1, From: m.ids, To: o.ids}
			if exact {
				like.Kind = Exact
			}
			out = append(out, like)
		}
	}
	slices.SortStableFunc(out, func(a, b LikeMeasure) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Measure, b.Measure))
	})
	return out
}

// LikeMeasure is a measure in which another one stands again for one hand. From and To hold indices into Score.Notes,
// note for note, in the order of playing.
type LikeMeasure struct {
	Measure  int // by index
	Kind     Kind
	Shift    int
	Steps    bool // it is alike in steps of the key, and not in semitones
	From, To []int
}

// Words says how the music of the measure is alike.
func (l *LikeMeasure) Words() string {
	switch {
	case l.Kind == Exact:
		return "exact"
	case l.Steps && l.Shift == 0:
		return "with other accidentals"
	case l.Steps:
		return "transposed by steps of the key"
	}
	return l.Kind.String()
}
