package commentary

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/pipeline/3_records/state"
)

// instant is what one hand strikes together, with its fingers, as print names it: "C3+E3", "5+3".
type instant struct {
	note          *state.Note // the lowest
	keys, fingers string
	count         int
}

func (i *instant) same(o *instant) bool { return i.keys == o.keys && i.fingers == o.fingers }

// figure is a run of instants that is struck so many times, one after the other.
type figure struct {
	instants []instant
	times    int
	again    []*state.Note // where it comes back later
}

// longestFigure is how many instants of a figure are looked for again: those of two bars of eighths.
const longestFigure = 16

// spell says notes with their fingers: what sounds together as the rest of the commentary has it, a repeated figure once,
// and the measure where it is another than the last one named: "C♯4 E4 with 2 1; C3+E3+G3 with 5+3+1, 3 times; in m. 5 D4
// with 3". No digit stands in parentheses: those are the look of an earlier hand's.
func (p *pieceRemarks) spell(notes []fingered, measure int) string {
	var words []string
	figures := figuresOf(instantsOf(notes))
	for _, g := range figures {
		said, at := "", g.instants[0].note
		if at.MeasureIndex != measure {
			measure = at.MeasureIndex
			said = p.Say("in.measure", at.Measure)
		}
		var keys, fingers []string
		for _, i := range g.instants {
			keys, fingers = append(keys, i.keys), append(fingers, i.fingers)
		}
		said += p.Say("with.digits", strings.Join(keys, " "), strings.Join(fingers, " "))
		if g.times > 1 {
			said += p.Say("as.often", g.times)
		}
		for _, n := range g.again {
			said += p.Say("and.again", strings.TrimSpace(p.Say("in.measure", n.Measure))+p.beatOf(n))
		}
		words = append(words, said)
	}
	return strings.Join(words, p.Say("semicolon"))
}

// instantsOf joins notes in the order of playing, the lowest of those that begin together first.
func instantsOf(notes []fingered) (out []instant) {
	for k := 0; k < len(notes); {
		to := k + 1
		for to < len(notes) && notes[to].note.MeasureIndex == notes[k].note.MeasureIndex &&
			notes[to].note.Before(notes[k].note) == 0 {
			to++
		}
		chord := slices.Clone(notes[k:to])
		slices.SortStableFunc(chord, func(a, b fingered) int { return a.note.Midi - b.note.Midi })
		i := instant{note: chord[0].note, count: len(chord)}
		for c, f := range chord {
			if c > 0 {
				i.keys, i.fingers = i.keys+"+", i.fingers+"+"
			}
			i.keys, i.fingers = i.keys+pitch(f.note.Pitch), i.fingers+fingersAt(f)
		}
		out = append(out, i)
		k = to
	}
	return out
}

// fingersAt is the finger of a note, with a change on the held key: "4-1".
func fingersAt(f fingered) string {
	if f.note.Finger == f.finger && len(f.note.Substitution) > 0 {
		return digits(append([]int{f.finger}, f.note.Substitution...))
	}
	return fmt.Sprint(f.finger)
}

// figuresOf cuts instants where a figure begins that is repeated at once, and where another measure begins.
func figuresOf(all []instant) (out []figure) {
	open := -1 // the figure that plain instants go on with
	for k := 0; k < len(all); {
		if length, times := repeated(all[k:]); times > 1 {
			out = append(out, figure{instants: all[k : k+length], times: times})
			k, open = k+length*times, -1
			continue
		}
		if open < 0 || out[open].instants[0].note.MeasureIndex != all[k].note.MeasureIndex {
			open = len(out)
			out = append(out, figure{times: 1})
		}
		out[open].instants = append(out[open].instants, all[k])
		k++
	}
	for k := 0; k < len(out); k++ { // what comes back later is told once, with its places
		if len(out[k].instants)*out[k].times < 3 {
			continue
		}
		for j := k + 1; j < len(out); j++ {
			if out[j].times == out[k].times && alike(out[j].instants, out[k].instants) {
				out[k].again = append(out[k].again, out[j].instants[0].note)
				out = slices.Delete(out, j, j+1)
				j--
			}
		}
	}
	return out
}

// repeated says how long the figure is that all begin with and repeat at once, and how often it stands there: the one that
// covers most, the shortest of these. One key that is struck twice is no figure.
func repeated(all []instant) (length, times int) {
	covered := 0
	for l := 1; l <= longestFigure && 2*l <= len(all); l++ {
		n := 1
		for (n+1)*l <= len(all) && alike(all[:l], all[n*l:(n+1)*l]) {
			n++
		}
		if n < 2 || n == 2 && l == 1 && all[0].count == 1 || n*l <= covered {
			continue
		}
		length, times, covered = l, n, n*l
	}
	return length, times
}

func alike(a, b []instant) bool {
	return slices.EqualFunc(a, b, func(x, y instant) bool { return x.same(&y) })
}
