package parallel_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var noteForm = regexp.MustCompile(`^(~?)([A-G])([#b]?)(\d)$`)

// music is a score in the making, in measures of four quarters, and who plays it.
type music struct {
	score *score.Score
	hands playing.Hands
}

func newMusic(measures int) *music {
	m := &music{score: &score.Score{}}
	for i := range measures {
		m.score.Measures = append(m.score.Measures, score.Measure{
			Start: score.Whole(int64(4 * i)), Length: score.Whole(4),
		})
	}
	return m
}

// add adds a note at a moment of the piece; one that is tied continues the last note of its hand on its key.
func (m *music) add(h score.Hand, at, duration score.Fraction, pitch score.Pitch, tied bool) {
	measure := int(at.Num() / at.Den() / 4)
	n := score.Note{
		Measure: measure, Onset: at.Sub(score.Whole(int64(4 * measure))), Duration: duration, Pitch: pitch,
		Midi: pitch.Midi(), TiedFrom: -1, TiedTo: -1,
	}
	for k := len(m.score.Notes) - 1; k >= 0 && tied && n.TiedFrom < 0; k-- {
		if m.score.Notes[k].Midi == n.Midi && m.hands.Hand[k] == h {
			n.TiedFrom, m.score.Notes[k].TiedTo = k, len(m.score.Notes)
		}
	}
	m.score.Notes = append(m.score.Notes, n)
	m.hands.Piano, m.hands.Hand = append(m.hands.Piano, true), append(m.hands.Hand, h)
	m.hands.Player = append(m.hands.Player, 0)
}

func (m *music) returns() []parallel.Return {
	return parallel.Find(m.score, playing.New(m.score, m.hands))
}

// line adds "C4/8 D4 E4+G4/4 r/2 | …": /8 is an eighth and holds on, + sounds together, r rests, ~C4 is tied from the
// note before, "C4:2" lasts for two of the values.
func (m *music) line(t testing.TB, h score.Hand, text string) {
	t.Helper()
	at, value := score.Fraction{}, score.Frac(1, 2)
	for _, token := range strings.Fields(strings.ReplaceAll(text, "|", " ")) {
		word, length, given := strings.Cut(token, "/")
		if given {
			n, err := strconv.Atoi(length)
			require.NoError(t, err, token)
			value = score.Frac(4, int64(n))
		}
		if word != "r" {
			for _, p := range strings.Split(word, "+") {
				p, times, long := strings.Cut(p, ":")
				f := noteForm.FindStringSubmatch(p)
				require.NotNil(t, f, token)
				octave, _ := strconv.Atoi(f[4])
				pitch := score.Pitch{
					Step: f[2][0], Alter: map[string]int8{"": 0, "#": 1, "b": -1}[f[3]], Octave: int8(octave),
				}
				duration := value
				if long {
					n, _ := strconv.Atoi(times)
					duration = value.Mul(score.Whole(int64(n)))
				}
				m.add(h, at, duration, pitch, f[1] != "")
			}
		}
		at = at.Add(value)
	}
}

// summary prints returns as "exact 0-5>8-13", first and last ids of both passages, with the shift of transposed ones.
func summary(returns []parallel.Return) string {
	var out []string
	for _, r := range returns {
		shift := ""
		if r.Kind == parallel.Transposed {
			shift = fmt.Sprintf("%+d", r.Shift)
		}
		n := len(r.First)
		out = append(out, fmt.Sprintf(
			"%s%s %d-%d>%d-%d", r.Kind, shift, r.First[0], r.First[n-1], r.Later[0], r.Later[n-1],
		))
	}
	return strings.Join(out, ", ")
}

// The passages are ours; what counts as a return is common practice, in the terms the package states.
func TestWhatReturns(t *testing.T) {
	const figure = "C4/16 E4 G4 C5 B4 G4 D4 F4 A4 G4 E4 C4 "
	for _, c := range []struct{ name, right, left, want string }{
		{"to the end, nothing parts", figure + "r/4 r/2 " + figure, "", "exact 0-11>12-23"},
		{
			"the comparison stops before the passages part", figure + "C5/4 r " + figure + "E4/4 F4", "",
			"exact 0-9>13-22",
		},
		{
			"a rest parts them: the hand comes anew", figure + "r/2 D4/4 r/1 " + figure + "r/2 A5/4", "",
			"exact 0-11>13-24",
		},
		{"too short to be remembered", "C4/16 E4 G4 r r/2 F#5/4 C4/16 E4 G4 r r/2 D5/4", "", ""},
		{
			"a whole measure of fewer notes",
			"C4/8 G4 E4 F4 D4 A4 B4 G4 | D5/1 | A4/2 B4 | C4/8 G4 E4 F4 D4 A4 B4 G4 | C6/1", "", "exact 0-5>11-16",
		},
		{
			"another rhythm is another passage",
			figure + "r/2 C4/8 E4 G4/16 C5 B4/8 G4/4 D4/16 F4/8 A4/16 G4/8 E4/16 C4/8", "", "",
		},
		{
			"a held voice makes it another passage", "C3:8+C4/8 D4 E4 F4 G4 A4 B4 C5 r/1 C4/8 D4 E4 F4 G4 A4 B4 C5", "",
			"",
		},
		{
			"up a fourth, on the same pattern", figure + "r/4 r/2 F4/16 A4 C5 F5 E5 C5 G4 Bb4 D5 C5 A4 F4", "",
			"transposed+5 0-11>12-23",
		},
		{
			"a step up within the key", figure + "r/4 r/2 D4/16 F4 A4 D5 C5 A4 E4 G4 B4 A4 F4 D4", "",
			"transposed+2 0-11>12-23",
		},
		{
			"a sequence is told once for each time", "C4/16 E4 D4 F4 D4 F4 E4 G4 E4 G4 F4 A4 F4 A4 G4 B4 r/1 A4/4", "",
			"transposed+2 0-3>4-7, transposed+4 0-3>8-11",
		},
		{
			"a figure that goes on and on returns to its first time", strings.Repeat("C3/16 G3 E3 G3 ", 4) + "r/1 C5/4",
			"", "exact 0-3>4-7, exact 0-3>8-11",
		},
		{
			"a scale is no sequence of itself, but returns an octave higher",
			"C4/16 D4 E4 F4 G4 A4 B4 C5 D5 E5 F5 G5 A5 B5 C6 D6 E6 F6 G6", "",
			"transposed+12 0-6>7-13, transposed+24 0-2>14-16",
		},
		{"nor is a chromatic one", "C4/16 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 A#4 B4 C5", "", ""},
		{
			"the hands mirror each other", "D4/8 E4 F4 A4 G4 F4 E4 F4 D4 r/1", "D4/8 C4 B3 G3 A3 B3 C4 B3 D4 r/1",
			"mirrored 0-8>100-108",
		},
		{
			"the left hand answers upside down", "D4/8 E4 F4 A4 G4 F4 E4 F4 D4 r r/1",
			"r/1 r/4 D3/8 C3 B2 G2 A2 B2 C3 B2 D3", "mirrored 0-8>100-108",
		},
		{"hands that go together mirror nothing", "C4/8 D4 G4 F4 A4 D4 E4 C4", "C3/8 D3 G3 F3 A3 D3 E3 C3", ""},
		{
			"the left hand returns to itself", "",
			"C3/16 G3 E3 G3 B2 G3 D3 F3 A3 D3 E3 C3 r/4 r/8 r/1 C3/16 G3 E3 G3 B2 G3 D3 F3 A3 D3 E3 C3",
			"exact 100-111>112-123",
		},
		{
			"the third time returns to the first", figure + "r/1 " + figure + "r/1 " + figure, "",
			"exact 0-11>12-23, exact 0-11>24-35",
		},
		{
			"exact goes before transposed",
			figure + "r/1 D4/16 F#4 A4 D5 C#5 A4 E4 G4 B4 A4 F#4 D4 r/1 D4/16 F#4 A4 D5 C#5 A4 E4 G4 B4 A4 F#4 D4", "",
			"transposed+2 0-11>12-23, exact 12-23>24-35",
		},
		{
			"chords",
			"C4+E4+G4/8 D4+G4+B4 C4+E4+C5 B3+D4+G4 A3+C4+F4 G3+B3+D4 F3+A3+D4 G3+B3+D4 r/1 C4+E4+G4/8 D4+G4+B4 " +
				"C4+E4+C5 B3+D4+G4 A3+C4+F4 G3+B3+D4 F3+A3+D4 G3+B3+D4",
			"", "exact 0-23>24-47",
		},
		{
			"one note less in a chord is another passage",
			"C4+E4+G4/4 D4+G4+B4 C4+E4+C5 B3+D4+G4 r/1 C4+E4+G4/4 D4+B4 C4+E4+C5 B3+D4+G4", "", "",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := newMusic(16)
			m.line(t, score.Right, c.right)
			for len(m.score.Notes) < 100 { // the left hand's notes count from 100
				m.add(score.Right, score.Fraction{}, score.Fraction{}, keyOf(0), false)
				m.hands.Piano[len(m.score.Notes)-1] = false
			}
			m.line(t, score.Left, c.left)
			require.Equal(t, c.want, summary(m.returns()))
		})
	}
}

// keyOf spells a key without flats.
func keyOf(midi int) score.Pitch {
	const names = "CCDDEFFGGAAB"
	p := score.Pitch{Step: names[midi%12], Octave: int8(midi/12 - 1)}
	p.Alter = int8(midi - p.Midi())
	return p
}

// drawn draws two hands in which much returns: a passage of figures from a small stock that comes again as it was, on
// other keys and upside down, and other figures between.
func drawn(t *rapid.T) *music {
	figures := [][]int{{0, 4, 7, 12, 11, 7, 2, 5}, {0, 2, 4, 5}, {0, 7, 4, 7}, {0, -1, 3, 12}, {0}}
	figure := func() []int { return rapid.SampledFrom(figures).Draw(t, "figure") }
	passage := slices.Concat([]int{0, 2, 7, 4, 5, 9, 12, 7, 11, 7, 4, 2}, figure())
	m := newMusic(16)
	for _, h := range []score.Hand{score.Right, score.Left} {
		for slot := range 6 {
			keys, sign := passage, 1
			from := rapid.SampledFrom([]int{60, 60, 62, 67}).Draw(t, "from")
			switch rapid.IntRange(0, 4).Draw(t, "what") {
			case 0:
				continue
			case 1:
				keys = slices.Concat(figure(), figure())
			case 2:
				sign, from = -1, 64 // as the other hand plays it from C4: mirrored about D4
			}
			at := score.Whole(int64(10 * slot))
			for _, k := range keys {
				m.add(h, at, score.Frac(1, 4), keyOf(from+sign*k), rapid.IntRange(0, 99).Draw(t, "tied") == 0)
				at = at.Add(score.Frac(1, 4))
			}
		}
	}
	return m
}

// Whatever is found holds: each later note once, each first note earlier (or at the same time in the other hand), the
// keys as the kind says.
func TestWhatIsFoundHolds(t *testing.T) {
	found := map[parallel.Kind]int{}
	rapid.Check(t, func(t *rapid.T) {
		m := drawn(t)
		returns := m.returns()
		require.Equal(t, returns, m.returns(), "the same every time")
		later := map[int]bool{}
		for _, r := range returns {
			found[r.Kind]++
			require.Len(t, r.Later, len(r.First))
			for k := range r.Later {
				a, b := r.First[k], r.Later[k]
				require.False(t, later[b], "note %d returns two", b)
				later[b] = true
				require.True(t, m.score.Notes[a].Struck() && m.score.Notes[b].Struck(), "only strokes are fingered")
				from := playing.InstantOf(m.score, a).Compare(playing.InstantOf(m.score, b))
				switch r.Kind {
				case parallel.Exact:
					require.Equal(t, m.score.Notes[a].Midi, m.score.Notes[b].Midi)
					require.Less(t, from, 0)
					require.Equal(t, m.hands.Hand[a], m.hands.Hand[b])
				case parallel.Transposed:
					require.Less(t, from, 0)
					require.Equal(t, m.hands.Hand[a], m.hands.Hand[b])
				case parallel.Mirrored:
					require.LessOrEqual(t, from, 0)
					require.NotEqual(t, m.hands.Hand[a], m.hands.Hand[b])
				}
			}
		}
	})
	for _, kind := range []parallel.Kind{parallel.Exact, parallel.Transposed, parallel.Mirrored} {
		require.NotZero(t, found[kind], "no passage returns %s in what was drawn: %v", kind, found)
	}
}

func TestAnOctaveHigherReturnsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawn(t)
		want := m.returns()
		for n := range m.score.Notes {
			m.score.Notes[n].Midi += 12
			m.score.Notes[n].Pitch.Octave++
		}
		require.Equal(t, want, m.returns())
	})
}

func TestNothingReturnsInNothing(t *testing.T) { require.Empty(t, newMusic(1).returns()) }

// A key that the other hand hands over under a tie needs a finger, and so it returns as a key that is struck does.
func TestAKeyTakenOverReturns(t *testing.T) {
	m := newMusic(4)
	for measure := range 2 {
		from := score.Whole(int64(8 * measure))
		m.add(score.Left, from, score.Whole(1), keyOf(60), false)
		held := len(m.score.Notes) - 1
		for k, key := range []int{60, 64, 67, 72, 71, 67, 62, 65, 69, 67, 64, 60} {
			m.add(
				score.Right, from.Add(score.Whole(1)).Add(score.Frac(int64(k), 4)), score.Frac(1, 4), keyOf(key), false,
			)
		}
		m.score.Notes[held].TiedTo, m.score.Notes[held+1].TiedFrom = held+1, held
	}
	require.Equal(t, "exact 1-12>14-25", summary(m.returns()))
}

// longLines are music of many notes: a figure that stands ten thousand times, and music without return.
var longLines = map[string]func(i int) int{
	"one figure":  func(i int) int { return [4]int{48, 55, 52, 55}[i%4] },
	"two figures": func(i int) int { return [4]int{48, 55, 52, 55}[i%4] + i/4*i/64%3 },
	"no figure":   func(i int) int { return 40 + (i*i*7+i*13+i*i*i)%41 },
}

func longMusic(n int, key func(i int) int) (*score.Score, *playing.Playing) {
	m := newMusic(n/16 + 1)
	for i := range n {
		m.add(score.Right, score.Frac(int64(i), 4), score.Frac(1, 4), keyOf(key(i)), false)
	}
	return m.score, playing.New(m.score, m.hands)
}

// Long pieces come to an end, and what returns in them is found.
func TestLongPiecesAreNoTrouble(t *testing.T) {
	require.NotEmpty(t, parallel.Find(longMusic(40_000, longLines["one figure"])))
	for _, key := range longLines {
		parallel.Find(longMusic(40_000, key))
	}
}

// BenchmarkLongPieces reports how much longer four times the notes take
// ("times"; 4 in proportion, more in short runs, which end before memory is
// collected):
//
//	go test -run '^$' -bench LongPieces -benchtime 3x ./rules/parallel
func BenchmarkLongPieces(b *testing.B) {
	for name, key := range longLines {
		b.Run(strings.ReplaceAll(name, " ", "-"), func(b *testing.B) {
			short, shortOrder := longMusic(10_000, key)
			long, longOrder := longMusic(40_000, key)
			var first, second time.Duration
			for b.Loop() {
				begun := time.Now()
				parallel.Find(short, shortOrder)
				middle := time.Now()
				parallel.Find(long, longOrder)
				first += middle.Sub(begun)
				second += time.Since(middle)
			}
			b.ReportMetric(float64(second)/float64(max(first, time.Millisecond)), "times")
		})
	}
}
