package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/keying"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/10_bind"
)

// sayNotThere names the notes to which the sheet said that an answer would go and to which it does not, keyed in as it is. Some stay
// open, and no sheet shows it before the next: the text has another finger beside them, or thumb or fifth finger would come on a key
// of the other colour. Others have a word of their own in the same sitting, or come again from two passages and have the digit of one.
func sayNotThere(out io.Writer, k *keying.Keying, f *decision.Finder, after *withDecisions) {
	given := after.returning(f)
	if len(given) == 0 {
		return
	}
	w, err := after.run()
	if err != nil {
		return // said by sayMade
	}
	var left []int
	var other [][2]int // the note that gives no digit, and the one that gets none from it
	for i := range k.Passages {
		for _, pair := range k.Passages[i].Goes {
			there := w.Score.Measures[w.Score.Notes[pair[1]].Measure].Number
			except, said := given[pair[0]]
			if !said || slices.Contains(except, there) {
				continue
			}
			switch b := &w.Bound[pair[1]]; {
			case b.Verb == "":
				if !slices.Contains(left, pair[1]) {
					left = append(left, pair[1])
				}
			case len(b.Fingers) > 0 && !slices.Equal(b.Fingers, brought(w, pair).Fingers) && !slices.Contains(other, pair):
				other = append(other, pair)
			}
		}
	}
	sayOtherThere(out, w, other)
	if len(left) == 0 {
		return
	}
	slices.Sort(left)
	var names []string
	for _, n := range left[:min(len(left), mostDigits)] {
		names = append(names, fmt.Sprintf("%s in m. %s", w.Score.Notes[n].Pitch, w.Score.Measures[w.Score.Notes[n].Measure].Number))
	}
	if more := len(left) - len(names); more > 0 {
		names = append(names, fmt.Sprintf("%d more", more))
	}
	open := "which stay open"
	if len(left) == 1 {
		open = "which stays open"
	}
	fmt.Fprintf(out, "with these fingers it does not go to %s, %s: the text has another digit beside it there, or the key's colour is other\n",
		wording.List(names), open)
}

// sayOtherThere names notes that have another digit than the one that was to come to them.
func sayOtherThere(out io.Writer, w *pipeline.PieceRun, pairs [][2]int) {
	slices.SortStableFunc(pairs, func(a, b [2]int) int { return cmp.Compare(a[1], b[1]) })
	measure := func(n int) string { return "m. " + w.Score.Measures[w.Score.Notes[n].Measure].Number }
	var said []string
	for _, pair := range pairs {
		b, came, whose := &w.Bound[pair[1]], brought(w, pair), "decided by itself"
		if b.Carried {
			whose = "of another passage that comes again there"
			if from := cameFrom(w, pair[1]); from >= 0 {
				whose = "of " + measure(from) + ", which comes again there too"
			}
		}
		line := fmt.Sprintf("%s: %s has %s, %s, and not %s of %s", measure(pair[1]), w.Score.Notes[pair[1]].Pitch, decision.Digits(b.Written()),
			whose, decision.Digits(came.Written()), measure(pair[0]))
		if !slices.Contains(said, line) {
			said = append(said, line)
		}
	}
	for _, line := range said[:min(len(said), mostOnOtherKeys)] {
		fmt.Fprintln(out, line)
	}
	if more := len(said) - mostOnOtherKeys; more > 0 {
		fmt.Fprintf(out, "and so %s more\n", wording.Count(more, "digit"))
	}
}

// brought is the digit that is decided at a note as it comes to the one that brings it back.
func brought(w *pipeline.PieceRun, pair [2]int) decide.Digit {
	return bind.Brought(&w.Score.Notes[pair[0]], &w.Score.Notes[pair[1]], w.Bound[pair[0]])
}

// cameFrom is the decided note whose digit came to one that brings it back, -1 where none is known.
func cameFrom(w *pipeline.PieceRun, to int) int {
	for i := range w.Same {
		r := &w.Same[i]
		for k := range min(len(r.First), len(r.Later)) {
			for _, pair := range [][2]int{{r.First[k], r.Later[k]}, {r.Later[k], r.First[k]}} {
				d := &w.Decided.Digits[pair[0]]
				if pair[1] == to && d.Returns && slices.Equal(d.Fingers[:min(len(d.Fingers), 1)], w.Bound[to].Fingers[:1]) {
					return pair[0]
				}
			}
		}
	}
	return -1
}
