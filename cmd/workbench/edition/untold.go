package edition

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/rules/places"
)

// untold counts the strokes whose fingers neither the digits of a page nor the sentences of its preface tell a player. The reader of
// 15_thin finds them by what is usual, which no page says.
type untold struct {
	title  string
	kinds  [len(strokeKinds)]untoldStrokes
	other  int // keys without a digit which show another finger at the stroke before
	places []string
	list   bool
	of     string // the piece and the style that places are listed of
}

// untoldStrokes are those of one kind.
type untoldStrokes struct {
	all   int
	bare  int // not told, without any digit
	known int // of these, those that a page showed within eight measures, by the same fingers
	part  int // not told, with digits on some keys
	two   int // of these, those with two digits or more
}

// strokeKinds are the strokes that are counted apart.
var strokeKinds = [...]string{"a single key", "two keys of one voice", "two keys of two voices", "three keys or more"}

func (c *untold) add(in *thin.Fingered, printed []bool) {
	shows := func(i int) bool { return printed[i] || in.Stands[i] }
	for l := range in.Playing.Lines {
		p := &printedLine{events: places.Events(in.Score, &in.Playing.Lines[l], in.Finger), score: in.Score, shows: shows}
		preface, hand := places.NewPreface(p.events), in.Playing.Lines[l].Hand.Words()
		shown := map[string]int{} // by keys and fingers: the last measure in which they had digits, from 1
		for e := range p.events {
			ev := &p.events[e]
			c.addOther(p, e, hand)
			kind := strokeKind(p, e)
			n := &c.kinds[kind]
			n.all++
			at, name := preface.Untold(e, shows), fmt.Sprint(ev.Keys, ev.Fingers)
			switch digits := p.digits(e); {
			case len(at) == 0 && digits > 0:
				shown[name] = ev.Measure + 1
			case len(at) == 0:
			case digits > 0:
				n.part++
				if digits > 1 {
					n.two++
				}
				c.note(p, e, hand, strokeKinds[kind]+", told in part")
			case shown[name] > 0 && ev.Measure+1-shown[name] <= 8:
				n.known++
				fallthrough
			default:
				n.bare++
				c.note(p, e, hand, strokeKinds[kind]+", bare and not told")
			}
		}
	}
}

// strokeKind is the place of an event among strokeKinds.
func strokeKind(p *printedLine, e int) int {
	keys := slices.Compact(slices.Clone(p.events[e].Keys))
	order, _ := p.voices(e)
	switch {
	case len(keys) > 2:
		return 3
	case len(keys) == 1:
		return 0
	case len(order) == 1:
		return 1
	}
	return 2
}

// addOther looks for keys that are struck again at once by another finger and have no digit, where the stroke before has one.
func (c *untold) addOther(p *printedLine, e int, hand string) {
	const quarters = 4 * 24
	if e == 0 || p.events[e].At-p.events[e-1].End > quarters {
		return
	}
	before, now := &p.events[e-1], &p.events[e]
	bare := func(key int) bool { // also of a second voice that strikes it
		for k, i := range now.Notes {
			if now.Keys[k] == key && p.shows(i) {
				return false
			}
		}
		return true
	}
	for k, key := range now.Keys {
		at := slices.Index(before.Keys, key)
		if at >= 0 && before.Fingers[at] != now.Fingers[k] && p.shows(before.Notes[at]) && bare(key) {
			c.other++
			c.note(p, e, hand, "another finger was just printed on the key")
		}
	}
}

// note lists a place.
func (c *untold) note(p *printedLine, e int, hand, what string) {
	if !c.list {
		return
	}
	n := &p.score.Notes[p.events[e].Notes[0]]
	var keys []string
	for _, i := range p.events[e].Notes {
		keys = append(keys, p.score.Notes[i].Pitch.String())
	}
	c.places = append(c.places, fmt.Sprintf("%s, %s, m. %s, beat %s, %s by %s: %s", c.of, hand, p.score.Measures[n.Measure].Number,
		n.Onset.Add(score.Whole(1)), strings.Join(keys, "+"), joined(p.events[e].Fingers), what))
}

// printUntold lays the styles beside each other.
func printUntold(out io.Writer, all []*untold) {
	fmt.Fprintln(out, "\nstrokes whose fingers neither digits nor the preface tell")
	t := figures.NewTable("page", "strokes of", "all", "bare and not told", "of these shown within eight measures", "told in part", "of these with two digits or more")
	for _, c := range all {
		for kind, name := range strokeKinds {
			n := &c.kinds[kind]
			t.Row(c.title, name, n.all, n.bare, n.known, n.part, n.two)
		}
	}
	t.Print(out)
	fmt.Fprintln(out)
	t = figures.NewTable("page", "keys bare by another finger than was just printed on them")
	for _, c := range all {
		t.Row(c.title, c.other)
	}
	t.Print(out)
	for _, c := range all {
		for _, place := range c.places {
			fmt.Fprintln(out, place)
		}
	}
}
