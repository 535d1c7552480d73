package edition

import (
	"fmt"
	"io"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/rules/places"
)

// habits counts what pages do where the hand leaps and in chords, so that print and ours can be laid side by side. It looks at
// the page alone.
type habits struct {
	title         string
	pieces        int
	notes, digits int
	fresh         [4]int // leaps of more than an octave that were not taken alike within eight measures: by where a digit stands
	known         [4]int // the others
	chords        [len(chordKinds)][5]int
}

// Where a digit stands at a leap.
const (
	atLanding = iota
	justBefore
	justAfter
	nowhere
)

// chordKinds are the chords of one voice that are counted apart.
var chordKinds = [...]string{"two keys within a fourth", "a fifth to a seventh", "an octave", "wider", "three keys or more"}

// What is printed of a chord of one voice.
const (
	nothing = iota
	whole
	outerTwo // of three keys or more
	outermost
	otherPart
)

// add looks at a page of a fingered piece.
func (h *habits) add(in *thin.Fingered, shows func(note int) bool) {
	h.pieces++
	for l := range in.Playing.Lines {
		p := &printedLine{events: places.Events(in.Score, &in.Playing.Lines[l], in.Finger), score: in.Score, shows: shows}
		leaps := newLeaps()
		for e := range p.events {
			h.notes += len(p.events[e].Notes)
			h.digits += p.digits(e)
			h.addChords(p, e)
			if leap, fresh := leaps.next(p, e); leap {
				at := nowhere
				switch {
				case p.digits(e) > 0:
					at = atLanding
				case p.digits(e-1) > 0:
					at = justBefore
				case p.digits(e+1) > 0:
					at = justAfter
				}
				if fresh {
					h.fresh[at]++
				} else {
					h.known[at]++
				}
			}
		}
	}
}

// addChords counts the chords of each voice of an event.
func (h *habits) addChords(p *printedLine, e int) {
	ev := &p.events[e]
	order, voices := p.voices(e)
	for _, v := range order {
		keys := voices[v]
		last := len(keys) - 1
		width := ev.Keys[keys[last]] - ev.Keys[keys[0]]
		if last == 0 || width == 0 {
			continue
		}
		kind := len(chordKinds) - 1
		if last == 1 {
			kind = map[bool]int{true: 1, false: 3}[width < 12]
			if width < 7 {
				kind = 0
			} else if width == 12 {
				kind = 2
			}
		}
		first, outer, n := p.shows(ev.Notes[keys[0]]), p.shows(ev.Notes[keys[last]]), 0
		for _, k := range keys {
			if p.shows(ev.Notes[k]) {
				n++
			}
		}
		switch {
		case n == 0:
			h.chords[kind][nothing]++
		case n == len(keys):
			h.chords[kind][whole]++
		case n == 1 && outer:
			h.chords[kind][outermost]++
		case n == 2 && first && outer:
			h.chords[kind][outerTwo]++
		default:
			h.chords[kind][otherPart]++
		}
	}
}

// bands are the shares of notes with a digit, in percent, by which editions are told apart; the first is where they begin.
var bands = [...]int{5, 20, 30, 50, 100}

// bandOf is the place of an edition among the bands, −1 where it prints too little to have habits.
func bandOf(share int) int {
	for k := 1; k < len(bands); k++ {
		if share >= bands[k-1] && share < bands[k] {
			return k - 1
		}
	}
	return -1
}

// newPrintHabits has one for each band.
func newPrintHabits() (out []*habits) {
	for k := 1; k < len(bands); k++ {
		out = append(out, &habits{title: fmt.Sprintf("print, %d to %d %%", bands[k-1], bands[k])})
	}
	return out
}

// printHabits lays the habits of print and of our pages side by side.
func printHabits(out io.Writer, all []*habits) {
	fmt.Fprintln(out, "\nwhere a digit stands at a leap of more than an octave")
	t := figures.NewTable("page", "pieces", "digits", "new leaps", "landing", "note before", "note after", "none", "known leaps", "landing")
	for _, h := range all {
		n, k := sumOf(h.fresh[:]), sumOf(h.known[:])
		t.Row(h.title, h.pieces, percent(h.digits, h.notes), n, percent(h.fresh[atLanding], n), percent(h.fresh[justBefore], n),
			percent(h.fresh[justAfter], n), percent(h.fresh[nowhere], n), k, percent(h.known[atLanding], k))
	}
	t.Print(out)
	for kind, name := range chordKinds {
		fmt.Fprintf(out, "\nchords of one voice: %s\n", name)
		t := figures.NewTable("page", "chords", "with digits", "of these all", "the outermost", "the outer two", "others")
		for _, h := range all {
			c := h.chords[kind]
			some := sumOf(c[whole:])
			t.Row(h.title, some+c[nothing], percent(some, some+c[nothing]), percent(c[whole], some), percent(c[outermost], some),
				percent(c[outerTwo], some), percent(c[otherPart], some))
		}
		t.Print(out)
	}
}

func sumOf(counts []int) (n int) {
	for _, c := range counts {
		n += c
	}
	return n
}

// leaps remembers how the hand leapt.
type leaps map[string]int

func newLeaps() leaps { return leaps{} }

// next says whether the hand leaps to an event, more than an octave from key to key, and whether it did not do so alike within
// eight measures before, nor has the key its finger from the measure. Events are asked for in their order.
func (l leaps) next(p *printedLine, e int) (leap, fresh bool) {
	if e == 0 {
		return false, false
	}
	before, now := &p.events[e-1], &p.events[e]
	if nearest(before.Keys, now.Keys) <= 12 {
		return false, false
	}
	same := fmt.Sprint(before.Keys, before.Fingers, now.Keys, now.Fingers)
	at, taken := l[same]
	l[same] = now.Measure
	return true, (!taken || now.Measure-at > 8) && !(len(now.Keys) == 1 && p.confirms(e))
}
