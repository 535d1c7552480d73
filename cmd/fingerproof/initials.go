package main

import (
	"fmt"

	"fingerproof/pipeline/3_records/decision"
)

// initialsVariable names the editor on a machine that is one editor's own.
const initialsVariable = "FINGERPROOF_BY"

// initials says who decides or passes: --by, or else what the environment says, which is then named on standard error:
// nothing is signed without a name, and none that nobody saw. needs says what is missing where there is none.
func initials(env *environment, needs, by string) (string, error) {
	from := "--by"
	if by == "" {
		if by = env.Getenv(initialsVariable); by == "" {
			return "", fmt.Errorf("%s\nhint: --by INITIALS, or the variable %s", needs, initialsVariable)
		}
		from = initialsVariable
	}
	if !decision.AreInitials(by) {
		return "", fmt.Errorf("%s cannot be %q\nhint: the initials of one person, one to five letters, as AB", from, by)
	}
	if from == initialsVariable {
		env.complain("by %s, as %s says", by, initialsVariable)
	}
	return by, nil
}
