// Package unlikelyfinger checks digits against what the hand would do without them.
package unlikelyfinger

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/corpus/wording"
	"fingerproof/rules/lint"
)

// Rule: a digit costs the hand far more than another would.
var Rule = &lint.Rule{
	Name:  "unlikely-finger",
	Title: "a digit costs the hand far more than another would",
	Checks: "Two notes of a voice struck one after the other, alone, with the same digit on different keys or " +
		"with digits that cross or lie beyond what the two span: what the fingering costs with the digits that " +
		"stand, against what it costs without them. Where one to four digits make it e^3.6 times less likely they " +
		"may be slips: of one digit, or of the hand for which they were written. So may one finger on two keys a " +
		"third apart at most, whatever it costs, where the hand has nothing else and nothing detaches them. Left " +
		"alone are two digits that an editor took as suggested, longer passages of an editor's own, what stands alike " +
		"elsewhere in the piece, a finger that slides from a black key, fingers 3 and 4 that pass over a shorter " +
		"one onto a black key, and what another rule names.",
	Why: "A digit that was keyed in for the wrong note or counted from the wrong side of the hand is nearly always " +
		"possible, and nearly always far worse than the right one.",
	Before:   "right hand, rising: C4 with 1, D4 with 2, E4 with 2, F4 with 4",
	After:    "right hand, rising: C4 with 1, D4 with 2, E4 with 3, F4 with 4",
	Severity: lint.Note,
	Since:    "0.6",
	Run:      run,
}

// farApart is what line-broken says, too.
const farApart = "lie far apart"

const (
	far         = 3600 // milli-nats
	mostAtFault = 4    // digits; more are a fingering of its own
)

func run(p *lint.Inspection) {
	if p.Unbound == nil {
		return
	}
	for k := range p.Playing.Lines {
		line := notesOf(&p.Playing.Lines[k])
		for from := 0; from < len(line); from++ {
			to, sum := from, 0
			for to < len(line) && differs(p, line[to]) {
				sum += p.Unbound.Cost[line[to]] - p.Unbound.FreeCost[line[to]]
				to++
			}
			if to > from {
				if to < len(line) { // the step out of the passage is part of what it costs
					sum += p.Unbound.Cost[line[to]] - p.Unbound.FreeCost[line[to]]
				}
				if sum >= far {
					look(p, line, from, to)
				}
			}
			from = to
		}
	}
	neighbours(p)
}

// Suspects lists notes of each line at which the rule asks what would be played without the digits, in the order of the line: all
// that it says depends on two digits, one of them given, which are odd by themselves. The other may be one that is only suggested
// and would be given were it taken. Where there are none, nobody need search for it.
func Suspects(p *lint.Inspection) (out []int) {
	taken := *p
	taken.Given = slices.Clone(p.Given)
	for n, f := range p.Finger {
		if taken.Given[n] == 0 {
			taken.Given[n] = f
		}
	}
	for k := range p.Playing.Lines {
		line := notesOf(&p.Playing.Lines[k])
		for i := 1; i < len(line); i++ {
			n, m := line[i-1], line[i]
			as := &taken
			switch {
			case p.Given[n] == 0 && p.Given[m] == 0:
				continue
			case p.Given[n] > 0 && p.Given[m] > 0:
				as = p
			}
			if fault(as, n, m) != "" && !alike(as, n, m) {
				out = append(out, n, m)
			}
		}
		eachAgainstHand(p, line, 0, len(line), func(n, m int) bool {
			out = append(out, n, m)
			return true
		})
	}
	return out
}

// notesOf are the notes that a line strikes.
func notesOf(line *playing.Line) (out []int) {
	for i := range line.Strokes {
		out = append(out, line.Strokes[i].Notes...)
	}
	return out
}

// neighbours reports single notes a third apart at most that one finger is to take one after the other, though nothing
// detaches them and the hand is free, whatever it costs: to a legato hand it is a slip.
func neighbours(p *lint.Inspection) {
	p.Successions(func(n, m int) {
		a := &p.Score.Notes[n]
		f, by := p.Digit(m), p.Semitones(n, m)
		if f == 0 || p.HoldingFinger(n) != f || p.ChangesFinger(m) || by == 0 || by > third || !follows(p, n, m) ||
			a.Marks&score.LetGo != 0 || a.Grace > 0 || p.Gap(n, m) > slow || p.Connects(n, m) || newSlur(a) {
			return
		}
		slides := p.Black(n) && !p.Black(m) && f != 4
		if slides || p.TwoRows(n, m) || p.Turns(n, m, f) || alike(p, n, m) || taken(p, n) || taken(p, m) || p.Found(n, m) ||
			goesOn(p, n, m) || fault(p, n, m) == "" || len(p.Playing.Stroke(n).Held)+len(p.Playing.Stroke(m).Held) > 0 {
			return
		}
		p.Report(lint.Finding{
			Notes: []int{m, n}, Message: fault(p, n, m), Fix: "check for a slip, unless the two are detached",
		})
	})
}

const (
	third = 4         // semitones
	slow  = 1_000_000 // microseconds, in which a finger goes from one key to the next at leisure
)

// newSlur says that a slur ends at a note: the hand is lifted after it.
func newSlur(n *score.Note) bool {
	return slices.ContainsFunc(n.Slurs, func(s score.Slur) bool { return !s.Start })
}

// goesOn says that the notes before or after two have their digit, too: one finger goes on and on, which is meant or named
// by another rule.
func goesOn(p *lint.Inspection, n, m int) bool {
	before, after, f := p.Alone(n, -1), p.Alone(m, 1), p.Digit(m)
	return before >= 0 && p.Digit(before) == f && p.Semitones(before, n) > 0 || after >= 0 && p.Digit(after) == f && p.Semitones(m, after) > 0
}

// taken says that an editor took the digit of a note as the program suggested it.
func taken(p *lint.Inspection, n int) bool { return p.Taken != nil && p.Taken[n] }

// takenPair says that of two digits those that an editor took as suggested are no slip: both are, or one and nobody decided the other,
// or the two do not cross. Where an editor changed one of two so that they cross, the other has not been thought of.
func takenPair(p *lint.Inspection, n, m int) bool {
	switch a, b := taken(p, n), taken(p, m); {
	case !a && !b:
		return false
	case a && b:
		return true
	case a && p.DecidedFinger(m) == 0 || b && p.DecidedFinger(n) == 0:
		return true
	}
	return !p.Crossed(n, m, p.Given[n], p.Given[m])
}

// differs says that a note would be played with another finger were it not for the digits.
func differs(p *lint.Inspection, n int) bool {
	free := p.Unbound.Finger[n]
	return free > 0 && p.Finger[n] > 0 && free != p.Finger[n]
}

// look reports a passage of a line, from one note to before another, whose digits cost far more than others would.
func look(p *lint.Inspection, line []int, from, to int) {
	var given []int
	for _, n := range line[from:to] {
		if p.Given[n] > 0 {
			given = append(given, n)
		}
	}
	if len(given) == 0 || len(given) > mostAtFault && !mirrored(p, given) || slices.ContainsFunc(line[max(from-1, 0):min(to+1, len(line))], p.FoundAt) {
		return
	}
	for k := max(from, 1); k <= to && k < len(line); k++ {
		n, m := line[k-1], line[k]
		says := fault(p, n, m)
		if says == "" || alike(p, n, m) || takenPair(p, n, m) || strings.HasSuffix(says, farApart) && p.Found(n, m) {
			continue
		}
		p.Report(lint.Finding{
			Notes: []int{m, n}, Message: says,
			Fix: "check for a slip: " + better(p, m, given),
		})
		return
	}
	if n, m := againstHand(p, line, from, to); n >= 0 {
		p.Report(lint.Finding{
			Notes: []int{m, n},
			Message: fmt.Sprintf("from %s with %d to %s with %d the digits run against the hand", p.Score.Notes[n].Pitch, p.Given[n],
				p.Score.Notes[m].Pitch, p.Given[m]),
			Fix: "check whether they are counted from the other side: " + better(p, m, given),
		})
	}
}

// mirrored says that digits may be counted from the other side of the hand: that the fingers other than the thumb cross on
// close keys at least as often as not.
func mirrored(p *lint.Inspection, given []int) bool {
	crossed, inOrder := 0, 0
	for k := 1; k < len(given); k++ {
		n, m := given[k-1], given[k]
		a, b := p.Given[n], p.Given[m]
		switch {
		case a == b || min(a, b) == 1 || !follows(p, n, m) || p.Score.Notes[n].Midi == p.Score.Notes[m].Midi:
		case p.Crossed(n, m, a, b):
			crossed++
		default:
			inOrder++
		}
	}
	return crossed > 1 && crossed >= inOrder
}

// fewBetween is how many notes without digits stand at most between two digits of one position.
const fewBetween = 4

// againstHand finds two digits of a passage with few notes between them that have none, all struck alone and joined,
// which lie a fourth apart at least and the wrong way round, a 5 among them that nothing passes: -1 for none.
func againstHand(p *lint.Inspection, line []int, from, to int) (n, m int) {
	n, m = -1, -1
	eachAgainstHand(p, line, from, to, func(a, b int) bool {
		n, m = a, b
		return false
	})
	return n, m
}

// eachAgainstHand visits all such digits, as long as it is to go on.
func eachAgainstHand(p *lint.Inspection, line []int, from, to int, visit func(n, m int) bool) {
	last := -1
	for k := max(from-1, 0); k < len(line) && k <= to+fewBetween; k++ {
		if k > 0 && !follows(p, line[k-1], line[k]) {
			last = -1
		}
		if p.Given[line[k]] == 0 || p.ChangesFinger(line[k]) {
			continue
		}
		if last >= 0 && k-last > 1 && k-last-1 <= fewBetween && k > from && last < to {
			a, b := line[last], line[k]
			five := a // past the other fingers the thumb passes, and they over it
			if p.Outward(a, b) < 0 {
				five = b
			}
			if p.Crossed(a, b, p.Given[a], p.Given[b]) && p.Semitones(a, b) >= fourth && p.Given[five] == 5 && !visit(a, b) {
				return
			}
		}
		last = k
	}
}

const fourth = 5 // semitones

// better words what would be played at notes instead, with the place of those that are not in the measure of a note, and of
// keys that are named twice.
func better(p *lint.Inspection, at int, notes []int) string {
	var out []string
	named := map[score.Pitch]int{}
	for _, n := range notes {
		named[p.Score.Notes[n].Pitch]++
	}
	for _, n := range notes {
		said := fmt.Sprintf("%d at %s", p.Unbound.Finger[n], p.Score.Notes[n].Pitch)
		if m := p.Score.Notes[n].Measure; m != p.Score.Notes[at].Measure || named[p.Score.Notes[n].Pitch] > 1 {
			said += fmt.Sprintf(" (m. %s, beat %s)", p.Score.Measures[m].Number, p.Score.Beat(m, p.Score.Notes[n].Onset))
		}
		out = append(out, said)
	}
	return wording.List(out) + " would lie far better"
}

// fault says what is odd in two digits on notes that follow each other; "" for nothing.
func fault(p *lint.Inspection, n, m int) string {
	a, b := p.Given[n], p.Given[m]
	x, y := &p.Score.Notes[n], &p.Score.Notes[m]
	if a == 0 || b == 0 || x.Midi == y.Midi || !follows(p, n, m) || p.ChangesFinger(n) {
		return ""
	}
	switch {
	case a == b && p.Black(n) && !p.Black(m) && p.Semitones(n, m) == 1: // it slides down
		return ""
	case a == b:
		return fmt.Sprintf("%d plays %s and then %s", a, x.Pitch, y.Pitch)
	case !p.Crossed(n, m, a, b) && p.Profile.Excess(a, b, p.Outward(n, m)) > 0:
		return fmt.Sprintf("%s with %d and %s with %d %s", x.Pitch, a, y.Pitch, b, farApart)
	case !p.Crossed(n, m, a, b) || longOnBlack(p, n, m, a, b) || passes(p, n, m, a, b):
		return ""
	}
	return fmt.Sprintf("from %s with %d to %s with %d the fingers cross", x.Pitch, a, y.Pitch, b)
}

// passes says that a finger passes the thumb as in a scale, by a third at most, the hand going on in one direction to the
// note after it; or that the hand shifts from thumb to fifth finger down a run, to go on with the next fingers.
func passes(p *lint.Inspection, n, m, a, b int) bool {
	if min(a, b) != 1 || p.Semitones(n, m) > 4 {
		return false
	}
	before, after := p.Alone(n, -1), p.Alone(m, 1)
	sameWay := func(x, y int) bool { return x >= 0 && y >= 0 && (p.Outward(x, y) > 0) == (p.Outward(n, m) > 0) }
	if a == 1 && b == 5 {
		return sameWay(before, n) && sameWay(m, after) && p.Digit(after) < 5
	}
	if a == 1 && b == 2 && p.Semitones(n, m) <= 2 {
		return sameWay(m, after) && p.Digit(after) != 1
	}
	return a == 1 && (b == 3 || b == 4) && sameWay(before, n)
}

// longOnBlack says that of fingers 3, 4 and 5, a tone apart at most, the longer lies on a black key and the shorter on a
// white one: they pass over each other so.
func longOnBlack(p *lint.Inspection, n, m, a, b int) bool {
	if min(a, b) < 3 || p.Semitones(n, m) > 2 {
		return false
	}
	if a < b {
		return p.Black(n) && !p.Black(m)
	}
	return p.Black(m) && !p.Black(n)
}

// follows says that two notes are struck alone one after the other in one voice, not rolled or apart.
func follows(p *lint.Inspection, n, m int) bool {
	a, b := p.Playing.Stroke(n), p.Playing.Stroke(m)
	x, y := &p.Score.Notes[n], &p.Score.Notes[m]
	return a != nil && b != nil && b.Index == a.Index+1 && len(a.Notes) == 1 && len(b.Notes) == 1 &&
		len(x.Ornaments)+len(y.Ornaments) == 0 && x.Part == y.Part && x.Voice == y.Voice && x.Staff == y.Staff && (x.Grace > 0) == (y.Grace > 0) &&
		!x.Arpeggio.Rolled && !y.Arpeggio.Rolled && !p.Score.At(n).Add(x.Duration).Less(p.Score.At(m)) &&
		(x.Marks&score.LetGo == 0 || p.Gap(n, m) <= quick)
}

// quick is the time in which a hand that has let go of a key goes nowhere else, in microseconds.
const quick = 300_000

// alike says that the same two digits stand elsewhere in the piece at the same two notes of an octave: it is meant.
func alike(p *lint.Inspection, n, m int) bool {
	x, y := &p.Score.Notes[n], &p.Score.Notes[m]
	by := y.Midi - x.Midi
	for k := range p.Playing.Lines {
		l := &p.Playing.Lines[k]
		if l.Hand != p.Playing.Hand(n) {
			continue
		}
		for i := 1; i < len(l.Strokes); i++ {
			a, b := l.Strokes[i-1].Notes, l.Strokes[i].Notes
			if len(a) != 1 || len(b) != 1 || b[0] == m || p.Given[a[0]] != p.Given[n] || p.Given[b[0]] != p.Given[m] {
				continue
			}
			if p.Score.Notes[b[0]].Midi-p.Score.Notes[a[0]].Midi == by && (p.Score.Notes[a[0]].Midi-x.Midi)%12 == 0 {
				return true
			}
		}
	}
	return false
}
