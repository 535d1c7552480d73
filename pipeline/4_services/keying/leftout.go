package keying

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/decision"
)

// notWord stands before the measures to which digits do not go.
const notWord = "not"

// behindDigits reads what may stand behind digits, and gives the words before it: print, and the measures that are left out.
func behindDigits(d *decision.Decision, words []string) []string {
	for {
		last := len(words) - 1
		switch {
		case last > 0 && words[last] == "print":
			d.Print, words = decision.Always, words[:last]
		case last > 1 && words[last-1] == notWord && '0' <= words[last][0] && words[last][0] <= '9': // else words of a reason
			d.Except, words = append(strings.Split(words[last], ","), d.Except...), words[:last-1]
		default:
			return words
		}
	}
}

// leavesOut refuses to leave out measures to which nothing goes, and names those to which it does.
func (k *Keying) leavesOut(f *decision.Finder, decided []decision.Decision) error {
	for i := range decided {
		d := &decided[i]
		if len(d.Except) == 0 {
			continue
		}
		goes := map[int]bool{}
		for j := range d.Notes {
			n, _, _ := f.Find(&d.Notes[j])
			for p := range k.Passages {
				for _, pair := range k.Passages[p].Goes {
					if pair[0] == n && d.Returns {
						goes[k.Score.Notes[pair[1]].Measure] = true
					}
				}
			}
		}
		for _, number := range d.Except {
			if !slices.ContainsFunc(k.Score.Measures, func(m score.Measure) bool { return m.Number == number }) {
				return fmt.Errorf("there is no measure %s", number)
			}
			if !slices.ContainsFunc(slices.Collect(maps.Keys(goes)), func(m int) bool { return k.Score.Measures[m].Number == number }) {
				hint := "it goes nowhere else: take \"not " + number + "\" out"
				if len(goes) > 0 {
					var places []string
					for _, m := range slices.Sorted(maps.Keys(goes)) {
						places = append(places, "m. "+k.Score.Measures[m].Number)
					}
					hint = "it goes to " + wording.List(places)
				}
				return fmt.Errorf("what is decided there does not go to m. %s\nhint: %s", number, hint)
			}
		}
	}
	return nil
}
