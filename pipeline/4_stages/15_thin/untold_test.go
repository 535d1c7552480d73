package thin

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/rules/places"

	"github.com/stretchr/testify/require"
)

// overStrokes is a planner over strokes, each with its measure, of which none has a digit.
func overStrokes(digits string, strokes []event) *planner {
	p := &planner{in: Fingered{Score: &score.Score{}, Style: Style{Digits: digits, Chords: "needed"}}}
	for e := range strokes {
		ev := strokes[e]
		for range ev.keys {
			ev.notes = append(ev.notes, len(p.in.Score.Notes))
			p.in.Score.Notes = append(p.in.Score.Notes, score.Note{})
		}
		p.in.Finger = append(p.in.Finger, ev.fingers...)
		p.line, p.copies = append(p.line, ev), append(p.copies, -1)
	}
	n := len(p.in.Score.Notes)
	p.in.Stands, p.in.Must, p.out, p.why, p.kept = make([]bool, n), make([]bool, n), make([]bool, n), make([]Why, n), make([]bool, n)
	standing(p)
	var events []places.Event
	for e := range p.line {
		ev := &p.line[e]
		at := 96 * ev.measure
		if e > 0 {
			at = max(at, events[e-1].End)
		}
		events = append(events, places.Event{Notes: ev.notes, Keys: ev.keys, Fingers: ev.fingers, Measure: ev.measure, At: at, End: at + 24})
	}
	p.preface, p.memory = places.NewPreface(events), memoryFor(p.in)
	p.memory.whole = true
	p.reading = &reading{p.line, p.preface, p.memory}
	return p
}

// printsOf spells the digits of an event.
func printsOf(p *planner, e int) (out string) {
	for k, f := range p.line[e].fingers {
		if p.stands(e, k) {
			out += string(rune('0' + f))
		} else {
			out += "."
		}
	}
	return out
}

// A chord whose inner finger nothing on the page tells has its digits in study, unless the same grip was shown within eight measures;
// sparse leaves it to what is usual. What the preface tells stays bare.
func TestWhatNothingTellsHasDigits(t *testing.T) {
	triad := func(measure int) event {
		return event{keys: []int{60, 64, 67}, fingers: []int{1, 3, 5}, measure: measure}
	}
	octave := func(measure int) event { return event{keys: []int{48, 60}, fingers: []int{1, 5}, measure: measure} }
	for _, c := range []struct {
		digits string
		want   []string
	}{
		{"study", []string{"..", "135", "..", "...", "..", "135"}},
		{"sparse", []string{"..", "...", "..", "...", "..", "..."}},
	} {
		p := overStrokes(c.digits, []event{octave(0), triad(1), octave(5), triad(8), octave(17), triad(18)})
		for e := range p.line {
			p.untold(e)
		}
		for e, want := range c.want {
			require.Equal(t, want, printsOf(p, e), "%s, stroke %d", c.digits, e+1)
		}
		inner := p.line[1].notes[1]
		require.Equal(t, p.out[inner], p.why[inner] == Untold, c.digits)
	}
}

// In performance a chord has them where another grip would do nearly as well, once a page.
func TestInPerformanceTheHardGripsHaveDigits(t *testing.T) {
	strokes := []event{
		{keys: []int{48}, fingers: []int{5}},
		{keys: []int{60, 63, 67}, fingers: []int{1, 3, 5}, measure: 1},
		{keys: []int{48}, fingers: []int{5}, measure: 12},
		{keys: []int{60, 63, 67}, fingers: []int{1, 3, 5}, measure: 20},
	}
	p := overStrokes("performance", strokes)
	require.True(t, p.doubtful(1), "another finger between 1 and 5 lies nearly as well")
	for e := 1; e < len(p.line); e++ {
		p.untold(e)
	}
	require.Equal(t, []string{"135", ".", "..."}, []string{printsOf(p, 1), printsOf(p, 2), printsOf(p, 3)})
	p.line[3].measure = 1 + page + 1
	p.untold(3)
	require.Equal(t, "135", printsOf(p, 3), "on another page")
}

// Two digits of a chord of which the third follows from nothing are no help: all have theirs.
func TestNoHalfChords(t *testing.T) {
	for _, digits := range []string{"study", "performance"} {
		p := overStrokes(digits, []event{{keys: []int{48}, fingers: []int{5}}, {keys: []int{60, 64, 67}, fingers: []int{1, 2, 5}, measure: 1}})
		p.print(1, Wanted, 0, 2)
		p.untold(1)
		require.Equal(t, "125", printsOf(p, 1), digits)
	}
}

// A key that is struck again by another finger than was just printed on it has its digit; where none was printed, or the finger stays,
// it needs none.
func TestAKeyIsNotBareAfterAnotherFingerOnIt(t *testing.T) {
	for _, c := range []struct {
		fingers []int // of one key
		shown   bool
		want    string
	}{{[]int{3, 1}, true, "1"}, {[]int{3, 1}, false, "."}, {[]int{3, 3}, true, "."}} {
		p := overStrokes("study", []event{{keys: []int{60}, fingers: c.fingers[:1]}, {keys: []int{60}, fingers: c.fingers[1:]}})
		if c.shown {
			p.print(0, Wanted, 0)
		}
		p.struckBare(1)
		require.Equal(t, c.want, printsOf(p, 1))
	}
}
