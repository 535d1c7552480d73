package check

import (
	"regexp"
	"strings"

	"fingerproof/corpus/score"
)

// The names by which a state knows rolls and redistributions: what is offered by measure, onset, hand and key, what was
// decided by who decided it and when.
var (
	offeredName = regexp.MustCompile(`^r(oll)?(.+?)-[\d/]+-([LR])-\d+(?:-.*)?$`)
	decidedName = regexp.MustCompile(`^(.+)-(\d{4}-\d\d-\d\d)-(?:roll-)?(.+)$`)
)

// placed puts what a state keeps of a roll or a redistribution ("roll32-1-L-53 up: F3 C4 G4") in words with its place, as it
// stands where no name of ours is known: "m. 32, left hand: F3 C4 G4, up".
func placed(kept string) string {
	head, notes, ok := strings.Cut(kept, ": ")
	name, how, named := strings.Cut(head, " ")
	if !ok || !named {
		return kept
	}
	switch offered, decided := offeredName.FindStringSubmatch(name), decidedName.FindStringSubmatch(name); {
	case decided != nil:
		return "m. " + decided[3] + ": " + notes + ", " + how + " (" + decided[1] + ", " + decided[2] + ")"
	case offered != nil:
		hand := score.Right
		if offered[3] == "L" {
			hand = score.Left
		}
		if offered[1] == "" { // of a redistribution the hand that takes it stands behind
			return "m. " + offered[2] + ": " + notes + ", " + how
		}
		return "m. " + offered[2] + ", " + hand.Words() + ": " + notes + ", " + how
	}
	return kept
}
