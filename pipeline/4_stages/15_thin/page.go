package thin

import (
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/hand"
)

// DigitsField is the name of the field in which an edition says how many digits it prints, where its preface tells the others.
const DigitsField = "digits"

// ByPreface says that a page with so many digits is read by its preface.
func ByPreface(digits string) bool {
	_, remembers := remembered[digits]
	return remembers
}

// Page is a page of ours as it lies before its reader. Slices run parallel to Score.Notes.
type Page struct {
	Score   *score.Score
	Playing *playing.Playing
	Digit   []int  // the finger that stands at a note, 0 for none
	Reads   []bool // the note has a finger, whether a digit says it or not
	Profile hand.Profile
	Digits  string // how many digits it prints
}

// ReadPage is Read of a page of which nothing is known but what stands on it: the finger of each note that has one, 0 for the others.
func ReadPage(page Page) []int {
	in := Fingered{
		Score: page.Score, Playing: page.Playing, Finger: make([]int, len(page.Digit)), Stands: make([]bool, len(page.Digit)),
		Profile: page.Profile, Style: Style{Digits: page.Digits},
	}
	const unknown = 1 // the reader looks at the fingers of what stands alone
	for i, digit := range page.Digit {
		switch {
		case digit > 0:
			in.Finger[i], in.Stands[i] = digit, true
		case page.Reads[i]:
			in.Finger[i] = unknown
		}
	}
	return Read(in, make([]bool, len(page.Digit)))
}
