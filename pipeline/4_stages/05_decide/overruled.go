package decide

import (
	"cmp"
	"slices"

	"fingerproof/pipeline/3_records/decision"
)

// Cause says why a decision on a note no longer holds.
type Cause string

// The causes.
const (
	Handed Cause = "handed" // the note was given to the other hand
	Freed  Cause = "freed"  // notes were given to the other hand beside it, and its grip changed with them
	Later  Cause = "later"  // its editor decided anew
	// Reopened says that its editor took it back without deciding anew.
	Reopened Cause = "reopened"
)

// Overruled is what one decision says of a note and a later one takes back.
type Overruled struct {
	Note          int
	First, Second *decision.Decision // the later one holds
	// Digits are what the first says and what holds now, "" where the note is open again.
	Digits [2]string
	Cause  Cause
}

// overrule takes claims on a note away that a later decision takes back.
func (p *placer) overrule(n int, by *decision.Decision, cause Cause, at map[int][]claim, which func(claim) bool) {
	at[n] = slices.DeleteFunc(at[n], func(c claim) bool {
		if which(c) && len(c.fingers) > 0 {
			p.overruled(n, c, by, cause)
		}
		return which(c)
	})
}

// overruled notes that a claim on a note was taken back.
func (p *placer) overruled(n int, c claim, by *decision.Decision, cause Cause) {
	p.out.Overruled = append(p.out.Overruled,
		Overruled{Note: n, First: c.d, Second: by, Digits: [2]string{c.words(), ""}, Cause: cause})
}

// keepOverruled leaves out what holds all the same, says what holds now, and keeps the last word on each note.
func (p *placer) keepOverruled() {
	var kept []Overruled
	for i, o := range p.out.Overruled {
		d := &p.out.Digits[o.Note]
		if d.Verb != "" {
			o.Digits[1] = claim{d: &decision.Decision{Verb: d.Verb}, fingers: d.Written()}.words()
		}
		again := slices.ContainsFunc(p.out.Overruled[i+1:], func(l Overruled) bool { return l.Note == o.Note })
		if !again && o.Digits[0] != o.Digits[1] {
			kept = append(kept, o)
		}
	}
	slices.SortStableFunc(kept, func(a, b Overruled) int { return cmp.Compare(a.Note, b.Note) })
	p.out.Overruled = kept
}
