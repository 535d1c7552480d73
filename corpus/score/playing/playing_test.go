package playing_test

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// music is a score in the making: measures of four quarters, and who plays each note.
type music struct {
	score *score.Score
	hands playing.Hands
}

func newMusic(measures int) *music {
	m := &music{score: &score.Score{}}
	for i := range measures {
		start := score.Whole(int64(4 * i))
		m.score.Measures = append(m.score.Measures, score.Measure{Index: i, Start: start, Length: score.Whole(4)})
	}
	return m
}

// add adds a note of player 0 and gives its index.
func (m *music) add(h score.Hand, measure int, onset, duration score.Fraction, key int) int {
	n := score.Note{Measure: measure, Onset: onset, Duration: duration, Midi: key, TiedFrom: -1, TiedTo: -1}
	m.score.Notes, m.hands.Piano = append(m.score.Notes, n), append(m.hands.Piano, true)
	m.hands.Hand, m.hands.Player = append(m.hands.Hand, h), append(m.hands.Player, 0)
	return len(m.score.Notes) - 1
}

func (m *music) grace(h score.Hand, measure int, onset score.Fraction, key, number int, after bool) int {
	n := m.add(h, measure, onset, score.Fraction{}, key)
	m.score.Notes[n].Grace, m.score.Notes[n].GraceAfter = number, after
	return n
}

func (m *music) tie(from, to int) { m.score.Notes[from].TiedTo, m.score.Notes[to].TiedFrom = to, from }

func (m *music) play() *playing.Playing { return playing.New(m.score, m.hands) }

var quarter, zero = score.Whole(1), score.Fraction{}

// keys prints the keys of a line, stroke by stroke: "60 64+67".
func keys(s *score.Score, l *playing.Line) string {
	var words []string
	for i := range l.Strokes {
		words = append(words, chord(s, l.Strokes[i].Notes))
	}
	return strings.Join(words, " ")
}

func chord(s *score.Score, notes []int) string {
	var words []string
	for _, n := range notes {
		words = append(words, fmt.Sprint(s.Notes[n].Midi))
	}
	return strings.Join(words, "+")
}

// MusicXML gives an after-note by steal-time-previous (MusicXML 4.0, element grace). That it comes before the grace
// notes of what follows is common practice.
func TestAfterNotesComeBeforeTheGraceNotesOfTheNextMeasure(t *testing.T) {
	m := newMusic(2)
	m.add(score.Right, 1, zero, quarter, 65) // the document's order says nothing
	m.add(score.Right, 0, zero, score.Whole(4), 60)
	m.grace(score.Right, 1, zero, 63, 1, false)
	m.grace(score.Right, 1, zero, 64, 2, false)
	m.grace(score.Right, 0, score.Whole(4), 61, 1, true)
	m.grace(score.Right, 0, score.Whole(4), 62, 2, true)
	require.Equal(t, "60 61 62 63 64 65", keys(m.score, &m.play().Lines[0]))
}

func TestAfterNotesOfTwoMeasuresKeepTheirOrder(t *testing.T) {
	m := newMusic(2)
	m.grace(score.Right, 1, zero, 62, 1, true) // before a rest
	m.grace(score.Right, 0, score.Whole(4), 61, 1, true)
	m.add(score.Right, 0, zero, score.Whole(4), 60)
	require.Equal(t, "60 61 62", keys(m.score, &m.play().Lines[0]))
}

// Grace notes of two voices begin together, and all come before what stands on the onset (common practice).
func TestGraceNotesOfTwoVoicesBeginTogether(t *testing.T) {
	m := newMusic(1)
	for i, key := range []int{60, 72} {
		m.add(score.Right, 0, zero, quarter, key)
		for number := 1; number <= 2-i; number++ {
			m.grace(score.Right, 0, zero, key+number, number, false)
		}
	}
	require.Equal(t, "61+73 62 60+72", keys(m.score, &m.play().Lines[0]))
}

func TestRanksInTheirOrder(t *testing.T) {
	m := newMusic(2)
	order := []playing.Rank{
		playing.RankOf(m.score, m.grace(score.Right, 0, score.Whole(4), 60, 1, true)),
		playing.RankOf(m.score, m.grace(score.Right, 0, score.Whole(4), 60, 2, true)),
		playing.RankOf(m.score, m.grace(score.Right, 1, zero, 60, 1, true)),
		playing.RankOf(m.score, m.grace(score.Right, 1, zero, 60, 1, false)),
		playing.GraceNote(2),
		playing.Rolled(0),
		playing.Rolled(1),
		playing.RankOf(m.score, m.add(score.Right, 1, zero, quarter, 60)),
	}
	for i, r := range order {
		require.True(t, i == 0 || order[i-1] < r, "%v", order)
		require.Equal(t, i < 5, r.IsGrace(), i)
		require.Equal(t, i == 5 || i == 6, r.IsRolled(), i)
	}
	require.Equal(t, playing.GraceNote(1), order[3])
	require.Equal(t, playing.OnOnset, order[7])
	require.Equal(t, playing.OnOnset, playing.GraceNote(0))
}

func TestLinesOfTwoPlayers(t *testing.T) {
	m := newMusic(1)
	for _, x := range []struct {
		player, key int
		hand        score.Hand
	}{{2, 50, score.Left}, {0, 48, score.Left}, {2, 80, score.Right}, {0, 64, score.Right}, {0, 60, score.Right}} {
		m.hands.Player[m.add(x.hand, 0, zero, quarter, x.key)] = x.player
	}
	m.hands.Parts = []bool{true, false}
	cue := m.add(score.Right, 0, zero, quarter, 90)
	m.hands.Piano[cue] = false
	p := m.play()
	var told []string
	for l := range p.Lines {
		told = append(told, fmt.Sprintf("%d%s %s", p.Lines[l].Player, p.Lines[l].Hand, keys(m.score, &p.Lines[l])))
	}
	require.Equal(t, []string{"0R 60+64", "0L 48", "2R 80", "2L 50"}, told)
	require.Equal(t, []bool{true, false}, p.Parts())
	require.Len(t, p.Instants, 1)
	require.Len(t, p.Instants[0].Strokes, 4, "all hands strike at once")
	require.Equal(t, score.Left, p.Hand(0))
	require.Equal(t, 2, p.Player(0))
	require.False(t, p.Plays(cue))
	require.Equal(t, score.NoHand, p.Hand(cue))
	require.Nil(t, p.Together(cue))
	require.Same(t, &p.Lines[3], p.Line(2, score.Left))
	require.Nil(t, p.Line(1, score.Left))
	require.Zero(t, p.Player(cue))
}

func TestNotesInOrder(t *testing.T) {
	m := newMusic(2)
	high, low := m.add(score.Right, 1, zero, quarter, 72), m.add(score.Left, 1, zero, quarter, 48)
	again := m.add(score.Right, 1, zero, quarter, 48)
	grace := m.grace(score.Right, 1, zero, 90, 1, false)
	before := m.add(score.Right, 0, zero, score.Whole(4), 71)
	notes := []int{again, high, grace, low, before}
	playing.Sort(m.score, notes)
	require.Equal(t, []int{before, grace, low, again, high}, notes)
}

// The thumb of the left hand lies on the right; notes on one key keep the order in which they are written.
func TestChordsFromTheThumb(t *testing.T) {
	for hand, want := range map[score.Hand][]int{score.Right: {2, 0, 3, 1}, score.Left: {1, 0, 3, 2}} {
		m := newMusic(1)
		for _, key := range []int{60, 67, 55, 60} {
			m.add(hand, 0, zero, quarter, key)
		}
		st := m.play().Stroke(0)
		require.Equal(t, []int{2, 0, 3, 1}, st.Notes)
		require.Equal(t, want, st.FromThumb, hand)
	}
	m := newMusic(1)
	for _, key := range []int{60, 48, 48, 60} {
		m.add(score.Left, 0, zero, quarter, key)
	}
	require.Equal(t, []int{0, 3, 1, 2}, m.play().Stroke(0).FromThumb)
}

func TestATiedNoteIsNoStrokeAndIsHeld(t *testing.T) {
	m := newMusic(2)
	tied := m.add(score.Left, 1, zero, score.Whole(2), 48) // of another voice, written before the first
	first := m.add(score.Left, 0, score.Whole(2), score.Whole(2), 48)
	m.tie(first, tied)
	during := m.add(score.Left, 1, quarter, quarter, 55)
	later := m.add(score.Left, 1, score.Whole(2), quarter, 55)
	p := m.play()
	require.Nil(t, p.Stroke(tied))
	require.True(t, p.HeldOn(tied))
	require.False(t, p.HeldOn(first))
	require.Equal(t, []int{first}, p.Stroke(during).Held)
	require.Empty(t, p.Stroke(later).Held)
	require.Equal(t, []int{tied, first, during, later}, p.Lines[0].Written)
	require.Equal(t, 2, p.Lines[0].Place(during))
	require.Equal(t, -1, p.Lines[0].Place(later+1))
}

func TestAKeyIsTakenOverFromTheOtherHand(t *testing.T) {
	m := newMusic(2)
	first := m.add(score.Left, 0, zero, score.Whole(4), 60)
	tied := m.add(score.Right, 1, zero, score.Whole(4), 60)
	m.tie(first, tied)
	above, below := m.add(score.Right, 1, zero, quarter, 72), m.add(score.Left, 1, quarter, quarter, 48)
	p := m.play()
	require.Nil(t, p.Stroke(tied))
	require.False(t, p.HeldOn(tied))
	require.Len(t, p.Lines[0].Taken, 1)
	require.Equal(t, []int{tied}, p.Lines[0].Taken[0].Notes)
	require.Equal(t, []int{tied}, p.Stroke(above).Held)
	require.Empty(t, p.Stroke(below).Held, "the left hand has let go of it")
}

func TestAKeyThatIsStruckAgainIsHeldOnAsWritten(t *testing.T) {
	m := newMusic(1)
	first := m.add(score.Right, 0, zero, score.Whole(4), 60)
	again := m.add(score.Right, 0, quarter, quarter, 60)
	after := m.add(score.Right, 0, score.Whole(2), quarter, 64)
	p := m.play()
	require.Empty(t, p.Stroke(again).Held, "it is struck, not held")
	require.Equal(t, []int{first}, p.Stroke(after).Held)
}

func TestBothHandsTogether(t *testing.T) {
	m := newMusic(1)
	bass := m.add(score.Left, 0, zero, quarter, 40)
	grace := m.grace(score.Right, 0, zero, 71, 1, false)
	main := m.add(score.Right, 0, zero, quarter, 72)
	next := m.add(score.Left, 0, quarter, quarter, 43)
	p := m.play()
	require.Same(t, p.Stroke(bass), p.OtherHand(p.Stroke(main)))
	require.Same(t, p.Stroke(main), p.OtherHand(p.Stroke(bass)))
	require.Nil(t, p.OtherHand(p.Stroke(grace)), "it comes before the bass")
	require.Nil(t, p.OtherHand(p.Stroke(next)))
	var told [][]int
	for _, in := range p.Instants {
		var notes []int
		for _, st := range in.Strokes {
			require.Equal(t, in.Instant, st.Instant)
			notes = append(notes, st.Notes...)
		}
		told = append(told, notes)
	}
	require.Equal(t, [][]int{{grace}, {main, bass}, {next}}, told)
}

// Whatever is written: each struck note stands in one stroke, strokes and instants follow one another, and what is
// held is what a plain reading of the values says.
func TestOrderOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := newMusic(3)
		for range rapid.IntRange(0, 30).Draw(t, "notes") {
			measure := rapid.IntRange(0, 2).Draw(t, "measure")
			h := rapid.SampledFrom([]score.Hand{score.Right, score.Left}).Draw(t, "hand")
			key, eighths := rapid.IntRange(60, 66).Draw(t, "key"), int64(rapid.IntRange(0, 8).Draw(t, "onset"))
			if number := rapid.IntRange(-3, 2).Draw(t, "grace"); number > 0 || eighths == 8 {
				m.grace(h, measure, score.Frac(eighths, 2), key, max(number, 1), eighths == 8 || rapid.Bool().Draw(t, "after"))
			} else {
				m.add(h, measure, score.Frac(eighths, 2), score.Frac(int64(rapid.IntRange(1, 10).Draw(t, "duration")), 2), key)
			}
		}
		for n := range m.score.Notes {
			m.hands.Player[n] = rapid.IntRange(0, 1).Draw(t, "player")
		}
		p := m.play()
		seen := map[int]bool{}
		for l := range p.Lines {
			line := &p.Lines[l]
			for i := range line.Strokes {
				st := &line.Strokes[i]
				require.True(t, i == 0 || line.Strokes[i-1].Compare(st.Instant) < 0)
				require.Equal(t, [2]int{l, i}, [2]int{st.Line, st.Index})
				require.ElementsMatch(t, st.Notes, st.FromThumb)
				for _, n := range st.Notes {
					require.False(t, seen[n])
					seen[n] = true
					require.Same(t, st, p.Stroke(n))
					require.Equal(t, st.Notes, p.Together(n))
					require.Equal(t, st.Instant, playing.InstantOf(m.score, n))
					require.Equal(t, [2]any{line.Player, line.Hand}, [2]any{p.Player(n), p.Hand(n)})
				}
				require.Equal(t, heldInto(m.score, line, i), append([]int{}, st.Held...))
			}
		}
		require.Len(t, seen, len(m.score.Notes))
		strokes := 0
		for i := range p.Instants {
			require.True(t, i == 0 || p.Instants[i-1].Compare(p.Instants[i].Instant) < 0)
			for k, st := range p.Instants[i].Strokes {
				require.True(t, k == 0 || p.Instants[i].Strokes[k-1].Line < st.Line)
				require.Equal(t, p.Instants[i].Instant, st.Instant)
				strokes++
			}
		}
		for l := range p.Lines {
			strokes -= len(p.Lines[l].Strokes)
		}
		require.Zero(t, strokes)
	})
}

// heldInto finds what is held into a stroke the plain way: every earlier note that lasts beyond it, unless its key is
// struck there.
func heldInto(s *score.Score, line *playing.Line, i int) []int {
	out := []int{}
	for k := range line.Strokes[:i] {
		for _, n := range line.Strokes[k].Notes {
			again := slices.ContainsFunc(line.Strokes[i].Notes, func(m int) bool { return s.Notes[m].Midi == s.Notes[n].Midi })
			if !again && line.Strokes[i].At.Less(s.At(n).Add(s.Notes[n].Duration)) {
				out = append(out, n)
			}
		}
	}
	slices.SortFunc(out, func(a, b int) int { return cmp.Or(s.Notes[a].Midi-s.Notes[b].Midi, a-b) })
	return out
}
