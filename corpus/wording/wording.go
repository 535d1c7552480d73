// Package wording puts numbers and lists into the words of messages and pages.
package wording

import (
	"fmt"
	"strings"
)

// Count says how many there are of what a noun names: "1 note", "2 notes", "0 notes".
func Count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// List joins words as a sentence does: "a", "a and b", "a, b and c".
func List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// AsLikely says how likely a finger is beside the likeliest one, by milli-nats: "as likely" where a hundredth shows no
// difference, "73 in 100 as likely", "hardly likely". Below 0 it is how much likelier it is than an editor's own digit, at
// least. What its way takes in effort is another sum.
func AsLikely(milliNats int) string {
	switch {
	case milliNats <= -5:
		if times := 100 * 100 / max(inHundred(-milliNats), 1); times < 100*100 {
			return fmt.Sprintf("likelier, %d.%d times at least", times/100, times%100/10)
		}
		return "likelier, 100 times at least"
	case milliNats < 5:
		return "as likely"
	}
	if p := inHundred(milliNats); p > 0 {
		return fmt.Sprintf("%d in 100 as likely", min(p, 99))
	}
	return "hardly likely"
}

// inHundred is a hundred divided by e so many thousandths of times, in whole numbers: every machine comes to the same.
func inHundred(milliNats int) int {
	if milliNats >= len(hundreds) {
		return 0
	}
	return int(hundreds[max(milliNats, 0)])
}

// hundreds[i] is inHundred of i; beyond it is 0.
var hundreds = func() (t [5400]uint8) {
	const one, step = 1_000_000_000, 999_000_500 // e to the power of -1/1000
	x := int64(one)
	for i := range t {
		t[i] = uint8((100*x + one/2) / one)
		x = x * step / one
	}
	return t
}()
