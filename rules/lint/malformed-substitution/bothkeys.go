package malformedsubstitution

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/rules/lint"
)

// bothKeys finds a change that may be none: the digits at one of the keys struck together are read as those of all of them
// (playing.Pile). Nothing is said once an editor has decided the notes so.
func bothKeys(p *lint.Inspection, n int) (says string, notes []int) {
	pile := p.Playing.Pile(n)
	if pile == nil || pile.At != n || !pile.AsChange {
		return "", nil
	}
	others, decided := []string{}, true
	for k, m := range pile.Notes {
		if m != n {
			others = append(others, p.Score.Notes[m].Pitch.String())
			decided = decided && p.DecidedFinger(m) == pile.Fingers[k]
		}
	}
	if decided {
		return "", nil
	}
	var stand []string
	for k := range p.Score.Notes[n].Indications {
		stand = append(stand, strconv.Itoa(p.Score.Notes[n].Indications[k].Fingers[0]))
	}
	has := "has"
	if len(others) > 1 {
		has = "have"
	}
	says = fmt.Sprintf("%s at %s, written as a change of finger, is read as %s, since %s %s no digit",
		strings.Join(stand, "-"), p.Score.Notes[n].Pitch, p.KeysWithFingers(pile.Notes, pile.Fingers), strings.Join(others, " and "), has)
	if pile.Sure {
		says += "; no hand could change so"
	} else {
		says += "; it may be a change all the same"
	}
	return says, slices.Clone(pile.Notes)
}
