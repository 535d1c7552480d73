package playing

import (
	"slices"

	"fingerproof/corpus/score"
)

// rollingOf says of each note how it is struck: by the signs of the text, and by what editors decided.
func rollingOf(s *score.Score, decided []score.Rolling) []score.Rolling {
	out := make([]score.Rolling, len(s.Notes))
	for n := range s.Notes {
		if out[n] = s.Rolling(n); !out[n].Rolls() && n < len(decided) {
			out[n] = decided[n]
		}
	}
	return out
}

// Rolling says how a note is struck: at once with its chord, or in a roll, the composer's or an editor's.
func (p *Playing) Rolling(n int) score.Rolling { return p.rolling[n] }

// Rolled says that a note belongs to a rolled chord.
func (p *Playing) Rolled(n int) bool { return p.rolling[n].Rolls() }

// Rolls says that some of the notes belong to a rolled chord: the hand need not open to all of them at once.
func (p *Playing) Rolls(notes []int) bool { return slices.ContainsFunc(notes, p.Rolled) }

// WithRolls is the same playing with more rolls: by note, Struck where nothing changes.
func (p *Playing) WithRolls(more []score.Rolling) *Playing {
	out := *p
	out.rolling = slices.Clone(p.rolling)
	for n, r := range more {
		if r.Rolls() {
			out.rolling[n] = r
		}
	}
	return &out
}
