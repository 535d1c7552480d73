package formats

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
)

// onPage begins the kind of a loss of what stands on the page beside the notes; oddKind that of what a reader reports.
const (
	onPage  = "page: "
	oddKind = "odd: "
)

// lostOnPage says of what stands on the page what becomes of it.
var lostOnPage = map[score.ItemKind]string{
	score.ItemClef:          "a <clef> stands at another moment, at the end of the measure before, on another staff, or twice",
	score.ItemKey:           "<key> that is in force already is left out",
	score.ItemMetre:         "<time> that is in force already is left out",
	score.ItemTransposition: "a <transpose> stands elsewhere",
	score.ItemHairpin:       "a <wedge> is lost or begins or ends elsewhere",
	score.ItemPedal:         "a <pedal> is lost or begins or ends elsewhere",
	score.ItemDynamics:      "<dynamics> are lost or stand elsewhere",
	score.ItemOctaveLine:    "an <octave-shift> is lost or begins or ends elsewhere",
	score.ItemAccidental:    "an <accidental> is lost, or stands at another note",
	score.ItemTuplet:        "a <tuplet> that shows nothing, or that its notes are not in",
	score.ItemOrnament:      "an ornament is lost, or stands elsewhere",
	score.ItemWords:         "<words> are lost or stand elsewhere",
	score.ItemTempo:         "the words of a tempo are lost or stand elsewhere",
	score.ItemMetronome:     "a <metronome> is lost or stands elsewhere",
	score.ItemRepeat:        "a sign to repeat is lost or stands elsewhere",
	score.ItemBarline:       "a <barline> is another",
	score.ItemFermata:       "a <fermata> is lost or stands elsewhere",
	score.ItemFurther:       "Verovio writes something for which MusicXML has no words, or that is not read",
}

// itemsIn lists what stands on the page in a measure, of a kind, by the notes of the first reading where note maps them.
func itemsIn(s *score.Score, note func(int) int) map[loss][]score.Item {
	out := map[loss][]score.Item{}
	for _, i := range s.Items {
		i.Note, i.Line = note(i.Note), 0
		l := lossOfItem(&i)
		out[l] = append(out[l], i)
	}
	return out
}

func oddIn(s *score.Score, note func(int) int) map[loss][]score.Oddity {
	out := map[loss][]score.Oddity{}
	for _, o := range s.Oddities {
		o.Note, o.Line = note(o.Note), 0
		l := lossOfOddity(&o)
		out[l] = append(out[l], o)
	}
	return out
}

// alike says that two lists hold the same, in any order.
func alike[T any](x, y []T) bool {
	words := func(all []T) (out []string) {
		for _, v := range all {
			out = append(out, fmt.Sprintf("%+v", v))
		}
		slices.Sort(out)
		return out
	}
	return slices.Equal(words(x), words(y))
}

func same(i int) int { return i }

// pageLosses lists what stands on the page, or is reported by the readers, and is not the same.
func (r *readings) pageLosses() (out []loss) {
	out = append(out, unlikeIn(itemsIn(r.a, same), itemsIn(r.b, r.tied))...)
	return append(out, unlikeIn(oddIn(r.a, same), oddIn(r.b, r.tied))...)
}

func unlikeIn[T any](x, y map[loss][]T) (out []loss) {
	for l := range x {
		if !alike(x[l], y[l]) {
			out = append(out, l)
		}
	}
	for l := range y {
		if _, is := x[l]; !is {
			out = append(out, l)
		}
	}
	slices.SortFunc(out, func(p, q loss) int { return cmp.Or(cmp.Compare(p.kind, q.kind), p.measure-q.measure) })
	return out
}

// takePage gives a score what the second reading has on the page, where it is a loss.
func (r *readings) takePage(s *score.Score, has map[loss]bool) {
	s.Items = instead(s.Items, r.b.Items, func(i score.Item) bool { return has[lossOfItem(&i)] },
		func(i *score.Item) { i.Note = r.tied(i.Note) })
	slices.SortStableFunc(s.Items, func(a, b score.Item) int { return cmp.Or(a.Part-b.Part, a.Measure-b.Measure) })
	s.Oddities = instead(s.Oddities, r.b.Oddities, func(o score.Oddity) bool { return has[lossOfOddity(&o)] },
		func(o *score.Oddity) { o.Note = r.tied(o.Note) })
}

// instead gives what is no loss of the first list, and after it what is one of the second, moved to the notes of the first.
func instead[T any](first, second []T, lost func(T) bool, move func(*T)) (out []T) {
	for _, v := range first {
		if !lost(v) {
			out = append(out, v)
		}
	}
	for _, v := range second {
		if lost(v) {
			move(&v)
			out = append(out, v)
		}
	}
	return out
}

func lossOfItem(i *score.Item) loss { return loss{onPage + string(i.Kind), i.Measure} }

func lossOfOddity(o *score.Oddity) loss { return loss{oddKind + string(o.Kind), o.Measure} }

// becomes says of a kind of loss what becomes of it.
func becomes(kind string) string {
	if what, is := strings.CutPrefix(kind, onPage); is {
		if words := lostOnPage[score.ItemKind(what)]; words != "" {
			return words
		}
		return what + ": lost, or stands elsewhere"
	}
	if words := lostAs[kind]; words != "" {
		return words
	}
	return kind
}

// reasonOf names the loss from which what a reader reports in a measure follows: one of those that the two readings have
// there. It is empty where there is none.
func (r *readings) reasonOf(l loss, all []loss) string {
	follows := map[score.OddityKind][]string{
		score.OddTie:           {tieKind, lostKind, "pitch", "onset", "duration"},
		score.OddTieSign:       {tieKind},
		score.OddMeasureLength: {lostKind, measureKind, "duration", "onset", "grace", "tuplet", "small"},
		score.OddTuplet:        {"tuplet", onPage + string(score.ItemTuplet), lostKind},
		score.OddBeam:          {"beams"},
		score.OddEnding:        {measureKind},
	}
	kind := score.OddityKind(strings.TrimPrefix(l.kind, oddKind))
	if kind == score.OddValue || kind == score.OddOrder {
		return unreadableKind
	}
	if kind == score.OddBackup {
		return backupKind
	}
	for _, k := range follows[kind] {
		for _, other := range all {
			if other.kind == k && other.measure-l.measure <= 1 && l.measure-other.measure <= 1 {
				return k
			}
		}
	}
	if kind == score.OddMeasureLength && r.forwards[l.measure] {
		return forwardKind
	}
	return ""
}

// unreadableKind is what the MEI has of itself; backupKind is what only MusicXML can say wrongly; forwardKind shows in no value but in how long a voice lasts.
const (
	unreadableKind = "unreadable"
	backupKind     = "backup"
	forwardKind    = "forward"
)
