package habits_test

import (
	"strings"
	"testing"

	"fingerproof/pipeline/4_services/habits"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
	"fingerproof/rules/hand"

	"github.com/stretchr/testify/require"
)

// figures are five-finger figures up and down, one piece each, of a house that avoids the thumb: 2 3 4 5 4 3 where
// most play 1 2 3 4 3 2.
func figures(pieces int, decided bool) (out []habits.DecidedLine) {
	for p := range pieces {
		l := habits.DecidedLine{Piece: string(rune('a' + p)), Decided: map[int]fingering.Finger{}}
		steps, taste := []int{0, 2, 4, 5, 4, 2}, []fingering.Finger{2, 3, 4, 5, 4, 3}
		for i := range 24 {
			at := fingering.Moment{Num: int64(i), Den: 2}
			l.Notes = append(l.Notes, fingering.Note{
				ID: i, Key: 60 + p%3*5 + steps[i%6], Onset: at,
				End: fingering.Moment{Num: int64(i + 1), Den: 2},
			})
			if decided && i%2 == 0 {
				l.Decided[i] = taste[i%6]
			}
		}
		out = append(out, l)
	}
	return out
}

func TestTheWeightsMoveTowardsWhatWasDecided(t *testing.T) {
	o := habits.Adapt(figures(12, true), effort.Delivered(), hand.NinthHand, fit.AdaptSettings())
	require.Equal(t, 12*12, o.Digits)
	require.Equal(t, 12, o.Pieces)
	require.Greater(t, o.After, o.Before)
	require.False(t, o.Strength.None())

	agree := func(w *effort.Weights) (n int) {
		var worker engine.Worker
		l := figures(12, true)[11]
		for _, said := range worker.Finger(l.Hand, hand.NinthHand, w, l.Notes, engine.Options{}).Notes {
			if f := l.Decided[said.ID]; f != 0 && f == said.Finger {
				n++
			}
		}
		return n
	}
	require.Greater(t, agree(effort.Delivered().Plus(o.Changes)), agree(effort.Delivered()))

	again := habits.Adapt(figures(12, true), effort.Delivered(), hand.NinthHand, fit.AdaptSettings())
	require.Equal(t, encoded(t, o), encoded(t, again), "the same decisions give the same bytes")
}

// What was decided is known again where the keys about it stand again, and nowhere else; half of it counts half.
func TestWhatWasDecidedIsRemembered(t *testing.T) {
	lines := figures(5, true)
	whole := habits.Part(&effort.Weights{}, habits.MemoryOf(lines, effort.Delivered(), hand.NinthHand),
		habits.Strength{Memory: 100})
	require.NotEmpty(t, whole.Habit)
	half := habits.Part(&effort.Weights{}, habits.MemoryOf(lines, effort.Delivered(), hand.NinthHand),
		habits.Strength{Memory: 50})
	for c, prices := range whole.Habit {
		require.Contains(t, []string{"window3", "key-window2", "window2", "key-between"}, c.Name())
		for i, p := range prices {
			require.Negative(t, p.Cost, "%s: a decided finger is cheaper", c)
			require.InDelta(t, p.Cost/2, half.Habit[c][i].Cost, 1, c.String())
		}
	}
	require.Empty(t, habits.Part(whole, whole, habits.Strength{}).Habit, "none of it changes nothing")

	// The house's 2 for the first key of a figure is remembered on the same keys, in a piece that was not decided.
	l := figures(4, true)[3]
	finger := func(w *effort.Weights) (right int) {
		var worker engine.Worker
		for _, n := range worker.Finger(l.Hand, hand.NinthHand, w, l.Notes, engine.Options{}).Notes {
			if f := l.Decided[n.ID]; f != 0 && f == n.Finger {
				right++
			}
		}
		return right
	}
	require.Greater(t, finger(effort.Delivered().Plus(whole)), finger(effort.Delivered()))
}

func TestOpenSuggestionsMoveNothing(t *testing.T) {
	o := habits.Adapt(figures(12, false), effort.Delivered(), hand.NinthHand, fit.AdaptSettings())
	require.Zero(t, o.Digits)
	terms, habits := o.Changes.Numbers()
	require.Zero(t, terms+habits)
}

func encoded(t *testing.T, o habits.Outcome) string {
	t.Helper()
	f := habits.File{
		Base: "b", BaseName: "delivered", Engine: "e", When: "2026-03-01", Digits: o.Digits,
		Strength: o.Strength, Before: o.Before, After: o.After, Foretold: o.Foretold,
		Sources: []habits.Source{{Piece: "a", Digits: o.Digits, Decisions: "d"}}, Changes: o.Changes,
	}
	data, err := f.Encode()
	require.NoError(t, err)
	return string(data)
}

func TestTheFileComesBackAndFitsItsBaseAlone(t *testing.T) {
	o := habits.Adapt(figures(12, true), effort.Delivered(), hand.NinthHand, fit.AdaptSettings())
	text := encoded(t, o)
	f, err := habits.Decode([]byte(text))
	require.NoError(t, err)
	require.Equal(t, o.Changes.Terms, f.Changes.Terms)
	require.Equal(t, [4]any{o.Before, o.After, o.Foretold, o.Strength},
		[4]any{f.Before, f.After, f.Foretold, f.Strength})

	on, err := f.On(effort.Delivered(), "b")
	require.NoError(t, err)
	require.Equal(t, effort.Delivered().Plus(o.Changes).Terms, on.Terms)
	_, err = f.On(effort.Delivered(), "another")
	require.ErrorContains(t, err, "belong to another table")
	require.ErrorContains(t, err, "hint:")

	for _, broken := range []string{strings.Replace(text, `"version": 1`, `"version": 2`, 1), strings.Replace(text, `"when"`, `"whenn"`, 1), text[:len(text)/2], ""} {
		_, err := habits.Decode([]byte(broken))
		require.ErrorContains(t, err, "reading the edition's fitted weights")
	}
}
