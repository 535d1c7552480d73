package reasons

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"
)

// look is a passage of one hand about a note with the fingers of one way through it.
type look struct {
	in    *Question
	hand  score.Hand
	notes []int // struck, in the order of playing
	by    map[int]int
	// touched are the notes whose fingers the two ways do not share: what is the same in both speaks for neither.
	touched map[int]bool
}

// around is how many measures on either side of a note a way can differ in, at most.
const around = 2

// look gathers the way as delivered, or as it is with the steps of another choice. Only notes that the two ways do
// not share, and their neighbours, are kept.
func (in *Question) look(n int, steps []engine.Step) look {
	l := look{in: in, hand: in.Playing.Hand(n), by: map[int]int{}}
	own := *in
	for m := max(in.Measure-around, 0); m <= min(in.Measure+around, len(in.Score.Measures)-1); m++ {
		own.Measure = m
		for _, k := range own.notesOf(in.Playing.LineOf(n)) {
			if !in.Notes[k].Tied {
				l.notes = append(l.notes, k)
				l.by[k] = int(in.Notes[k].Finger)
			}
		}
	}
	touched := map[int]bool{n: true}
	for _, s := range in.Notes[n].Choices[0].Passage {
		touched[s.ID] = true
	}
	for _, s := range steps {
		l.by[s.ID] = int(s.Finger)
	}
	l.touched = touched
	first, last := -1, -1
	for i, k := range l.notes {
		if touched[k] {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first >= 0 {
		l.notes = l.notes[max(first-2, 0):min(last+3, len(l.notes))]
	}
	return l
}

func (l *look) pitch(n int) string { return l.in.Score.Notes[n].Pitch.String() }

func (l *look) mirrored(n int) int { return fingering.HandOf(l.hand).Mirror(l.in.Score.Notes[n].Midi) }

// pairs visits each two notes that are struck together or one after the other and on which the two ways differ; the second is
// the later or higher one.
func (l *look) pairs(visit func(a, b int, together bool)) {
	for i := range l.notes {
		for j := i + 1; j < len(l.notes); j++ {
			together := l.in.together(l.notes[i], l.notes[j])
			if !together && j > i+1 && !l.in.together(l.notes[i+1], l.notes[j]) && !l.next(i, j) {
				break
			}
			if l.touched[l.notes[i]] || l.touched[l.notes[j]] {
				visit(l.notes[i], l.notes[j], together)
			}
		}
	}
}

// next reports whether no other moment lies between the notes at i and j of the passage.
func (l *look) next(i, j int) bool {
	moments := 0
	for k := i; k < j; k++ {
		if !l.in.together(l.notes[k], l.notes[k+1]) {
			moments++
		}
	}
	return moments <= 1
}

// say tells what a criterion has against the way, at the place where it is worst.
func (l *look) say(criterion string, n int) string {
	switch criterion {
	case "stretch":
		return l.stretch()
	case "position":
		return "moves the hand more"
	case "passing":
		return l.passing()
	case "keys":
		return l.keys()
	case "repetition":
		return l.repetition()
	case "pattern":
		return "leaves the pattern that the keys suggest"
	case "parallel":
		return l.breaks(n)
	case "habit":
		return "editors print it more seldom in such a place"
	case "learned":
		return "the network, taught from print, expects it less here"
	case "line":
		return "joins the line less well, or gives it to a weaker finger"
	case "tempo":
		return "is harder at the tempo"
	case "reach":
		return "is taken by fewer hands"
	case "limit":
		return "goes beyond the hand, or takes the keys in an odd order"
	case "change":
		return l.changes(n)
	}
	return criterion
}

// spared tells what a criterion has against the way as delivered, which the other would spare.
func (l *look) spared(criterion string, n int) string {
	switch criterion {
	case "stretch", "passing", "keys", "repetition":
		return "the chosen way " + l.say(criterion, n)
	case "position":
		return "the hand would lie stiller"
	case "pattern":
		return "keeps to the pattern that the keys suggest"
	case "parallel":
		return "goes with another place where the passage stands"
	case "habit":
		return "editors print it more often in such a place"
	case "learned":
		return "the network, taught from print, expects it more here"
	case "line":
		return "joins the line better"
	case "tempo":
		return "is easier at the tempo"
	case "reach":
		return "is taken by more hands"
	case "change":
		return "no finger changes on a held key"
	}
	return "lies nearer to what the hand does"
}

func (l *look) stretch() string {
	var worst hand.Length
	says := "lies less even under the hand"
	l.pairs(func(a, b int, _ bool) {
		f, g := l.by[a], l.by[b]
		low, high := l.mirrored(a), l.mirrored(b)
		if low > high {
			f, g, low, high = g, f, high, low
		}
		if f == 0 || g <= f {
			return
		}
		span := hand.Distance(low, high)
		if x := span - l.in.Profile.Comfortable(f, g); x > worst {
			worst, says = x, fmt.Sprintf("stretches %d–%d beyond comfort (%s–%s)", f, g, l.pitch(a), l.pitch(b))
		}
	})
	if worst > 0 {
		return says
	}
	l.pairs(func(a, b int, _ bool) {
		f, g := l.by[a], l.by[b]
		low, high := l.mirrored(a), l.mirrored(b)
		if low > high {
			f, g, low, high = g, f, high, low
		}
		if f == 0 || g <= f {
			return
		}
		if x := hand.Distance(low, high) - l.in.Profile.Relaxed(f, g); x > worst {
			worst, says = x, fmt.Sprintf("opens %d–%d wider (%s–%s)", f, g, l.pitch(a), l.pitch(b))
		}
	})
	return says
}

func (l *look) passing() string {
	says := "passes less well"
	found := false
	l.pairs(func(a, b int, together bool) {
		f, g := l.by[a], l.by[b]
		if together || found || f == 0 || g == 0 || f == g || (l.mirrored(a) < l.mirrored(b)) == (f < g) ||
			l.mirrored(a) == l.mirrored(b) {
			return
		}
		found = true
		switch {
		case g == 1:
			says = fmt.Sprintf("passes the thumb under %d at %s", f, l.pitch(b))
		case f == 1:
			says = fmt.Sprintf("passes %d over the thumb at %s", g, l.pitch(b))
		default:
			says = fmt.Sprintf("passes %d over %d at %s", max(f, g), min(f, g), l.pitch(b))
		}
	})
	return says
}

func (l *look) keys() string {
	for _, f := range [...]int{1, 5} {
		for i, n := range l.notes {
			if l.by[n] != f || !l.touched[n] || !hand.Black(l.in.Score.Notes[n].Midi) {
				continue
			}
			name := map[int]string{1: "thumb", 5: "little finger"}[f]
			for _, j := range [...]int{i - 1, i + 1} {
				if j >= 0 && j < len(l.notes) && !hand.Black(l.in.Score.Notes[l.notes[j]].Midi) {
					return fmt.Sprintf("puts the %s on a black key among whites (%s)", name, l.pitch(n))
				}
			}
			return fmt.Sprintf("puts the %s on a black key (%s)", name, l.pitch(n))
		}
	}
	return "puts a finger less well among black and white keys"
}

func (l *look) repetition() string {
	says := "repeats a finger less well"
	found := false
	l.pairs(func(a, b int, together bool) {
		if !together && !found && l.by[a] != 0 && l.by[a] == l.by[b] &&
			l.in.Score.Notes[a].Midi != l.in.Score.Notes[b].Midi {
			found, says = true, fmt.Sprintf("takes %s and %s with the same finger (%d)", l.pitch(a), l.pitch(b),
				l.by[a])
		}
	})
	if found {
		return says
	}
	l.pairs(func(a, b int, together bool) {
		if !together && !found && l.by[a] != l.by[b] && l.in.Score.Notes[a].Midi == l.in.Score.Notes[b].Midi {
			found, says = true, fmt.Sprintf("changes the finger on %s (%d, then %d)", l.pitch(a), l.by[a], l.by[b])
		}
	})
	return says
}

// breaks names the passage that a way would no longer go with: one that has another finger at the place than the way, and as
// the chosen way has it where there is one such.
func (l *look) breaks(n int) string {
	differs := func(k, other int) (differs, new bool) {
		now, then := int(l.in.Notes[other].Finger), l.finger(other)
		return l.finger(k) != then, int(l.in.Notes[k].Finger) == now
	}
	said, broken := "", ""
	for _, k := range append([]int{n}, l.notes...) {
		for _, r := range l.in.Returns {
			for i := range r.Later {
				for _, pair := range [2][2]int{{r.Later[i], r.First[i]}, {r.First[i], r.Later[i]}} {
					if pair[0] != k {
						continue
					}
					switch other, new := differs(k, pair[1]); {
					case other && new && l.in.Given[pair[1]] == InText: // that one cannot give way
						return "breaks with " + l.in.sameAt(r, pair[1])
					case other && new && broken == "":
						broken = "breaks with " + l.in.sameAt(r, pair[1])
					case other && said == "":
						said = "goes otherwise than " + l.in.sameAt(r, pair[1])
					}
				}
			}
		}
	}
	if broken != "" || said != "" {
		return cmp.Or(broken, said)
	}
	return "goes less well with a place where the same surroundings return"
}

// finger is the finger of a note in this way.
func (l *look) finger(n int) int {
	if f, ok := l.by[n]; ok {
		return f
	}
	return int(l.in.Notes[n].Finger)
}

// changes names the keys that are held while n is struck: it is at one of them that the finger changes.
func (l *look) changes(n int) string {
	var held []string
	at := &l.in.Score.Notes[n]
	for _, k := range l.notes {
		x := &l.in.Score.Notes[k]
		from, struck := l.in.Score.At(k), l.in.Score.At(n)
		if k != n && x.Midi != at.Midi && from.Less(struck) && struck.Less(from.Add(x.Duration)) &&
			!slices.Contains(held, l.pitch(k)) {
			held = append(held, l.pitch(k))
		}
	}
	if len(held) == 0 {
		return "changes the finger on a key that is held"
	}
	return "changes the finger on a key that is held (" + strings.Join(held, ", ") + ")"
}

func (in *Question) same(r parallel.Return, other int) string {
	what := map[parallel.Kind]string{
		parallel.Exact: "the same passage", parallel.Transposed: "the passage transposed",
		parallel.Mirrored: "the other hand's mirrored passage", parallel.Figure: "the same figure",
	}[r.Kind]
	return fmt.Sprintf("%s in m. %s", what, in.Score.Measures[in.Score.Notes[other].Measure].Number)
}

// sameAt names the beat too, where it is in the measure that is accounted for, and the digit that the text has there.
func (in *Question) sameAt(r parallel.Return, other int) string {
	said := in.same(r, other)
	if in.Score.Notes[other].Measure == in.Measure {
		said += ", beat " + in.beat(other)
	}
	if in.Given[other] == InText {
		said += fmt.Sprintf(", where %d on %s stands in the text", in.Notes[other].Finger, in.Score.Notes[other].Pitch)
	}
	return said
}
