package redistribute

import (
	"fmt"

	"fingerproof/corpus/score"
)

var handWords = [2]string{"right hand", "left hand"}

// why tells an editor what the trouble is, what either hand has to do before and after, and what it costs.
func (f *finder) why(t trouble, was, now *way, moved map[int]bool, costs, gain int) string {
	s := f.in.Score
	first := s.Notes[f.inOrder(moved)[0]]
	h, o := handWords[t.hand], handWords[1-t.hand]
	trouble := reasonWords(t.reason, h, o)
	notes := "1 note"
	if n := f.struckOf(moved); n != 1 {
		notes = fmt.Sprintf("%d notes", n)
	}
	text := fmt.Sprintf("m. %s, %s: %s %s. Effort: right hand %s before and %s after, left hand %s and %s; "+
		"the change itself costs %s (a gesture, and voices that must sound as one).",
		s.Measures[first.Measure].Number, h, trouble, notes, nats(was.effort[0]), nats(now.effort[0]),
		nats(was.effort[1]), nats(now.effort[1]), nats(costs))
	// What the gain counts beside the effort, so that the sum is whole.
	if more := gain - (was.effort[0] + was.effort[1] - now.effort[0] - now.effort[1] - costs); more >= 100 || more <= -100 {
		sign := ""
		if more > 0 {
			sign = "+"
		}
		text += fmt.Sprintf(" For what is held, joined, made clear or reached over by it the gain counts %s%s.", sign, nats(more))
	}
	if was.reach != now.reach {
		text += fmt.Sprintf(" The widest grip is in reach of %d in 100 adult pianists before and %d after.",
			was.reach/100, now.reach/100)
	}
	return text + f.letGoWords(was, now, moved)
}

// reasonWords says what is the matter with the hand h, as the beginning of a
// sentence that goes on with what the other hand o takes.
func reasonWords(reason, h, o string) string {
	switch reason {
	case Reach:
		return fmt.Sprintf("the grip of the %s goes beyond the hand; it may be rolled, or the %s takes", h, o)
	case Speed:
		return fmt.Sprintf("the leap of the %s leaves too little time at the marked tempo; the %s takes", h, o)
	case Line:
		return fmt.Sprintf("the %s cannot join the line as slurred; the %s takes", h, o)
	case Rhythm:
		return fmt.Sprintf("the %s has two rhythms against each other; the %s takes", h, o)
	case Held:
		return fmt.Sprintf("the %s cannot hold a key for as long as it is written; the %s takes", h, o)
	case Crossing:
		return fmt.Sprintf("a voice of its own lies beyond the other keys of the %s; "+
			"the %s is free and takes, over the other,", h, o)
	case Clarity:
		return fmt.Sprintf("the %s has two voices while the %s is free and makes them clear; it takes", h, o)
	case Evenness:
		return fmt.Sprintf("the sweep of the %s goes on under the %s, which is free; it takes", h, o)
	case Turns:
		return fmt.Sprintf("the %s leaps there and back while the %s is free; by turns it takes", h, o)
	case Collision:
		return fmt.Sprintf("the hands are in each other's way, keys of one among those of the other or the same; the %s takes", o)
	}
	return ""
}

func (f *finder) struckOf(moved map[int]bool) (n int) {
	for id := range moved {
		if note := f.in.Score.Notes[id]; note.Kind == score.Pitched && note.TiedFrom < 0 {
			n++
		}
	}
	return n
}

// nats spells milli-nats with one decimal.
func nats(milli int) string {
	sign := ""
	if milli <= -100 { // less is written 0.0, which has no sign
		sign = "−"
	}
	milli = max(milli, -milli)
	return fmt.Sprintf("%s%d.%d", sign, milli/1000, milli%1000/100)
}
