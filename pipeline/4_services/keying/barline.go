package keying

import (
	"fmt"

	"fingerproof/corpus/wording"
)

// barline is the word of a line at which its digits go on in the next measure.
const barline = "|"

func (k *Keying) measureOf(note int) int { return k.Score.Notes[note].Measure }

// digitsIn counts the words for strokes.
func digitsIn(words []string) string {
	n := 0
	for _, w := range words {
		if strokeForm.MatchString(w) {
			n++
		}
	}
	return wording.Count(n, "digit")
}

func were(counted string) string {
	if counted == "1 digit" {
		return counted + " is"
	}
	return counted + " are"
}

// strokesAt says how many strokes a line has in the measure of one of its notes, from its first note on.
func (k *Keying) strokesAt(line []int, at int) string {
	at = min(max(at, 0), len(line)-1)
	measure := k.measureOf(line[at])
	var there []int
	for _, n := range line {
		if k.measureOf(n) == measure {
			there = append(there, n)
		}
	}
	return fmt.Sprintf("m. %s has %s of that hand from beat %s on", k.Score.Measures[measure].Number,
		wording.Count(k.countStrokes(there), "stroke"), k.Score.BeatAt(measure, k.Score.Notes[there[0]].Onset).Key())
}

// strokesOf says how many strokes a line has, and in which measures.
func (k *Keying) strokesOf(line []int) string {
	first, last := k.Score.Measures[k.measureOf(line[0])].Number, k.Score.Measures[k.measureOf(line[len(line)-1])].Number
	place := "m. " + first + " has"
	if last != first {
		place = "mm. " + first + "–" + last + " have"
	}
	return fmt.Sprintf("%s %s there", place, wording.Count(k.countStrokes(line), "stroke"))
}

func (k *Keying) countStrokes(line []int) (strokes int) {
	for at := 0; at < len(line); at += len(k.stroke(line, at)) {
		strokes++
	}
	return strokes
}
