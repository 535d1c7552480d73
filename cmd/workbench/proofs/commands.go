// Package proofs measures what is worked out of two scores of one work: the comparison of proofs, the alignment of
// witnesses, and whose a digit is.
//
// Each is a command: go run ./cmd/workbench mutate --help.
package proofs

import "github.com/spf13/cobra"

// Commands lists the measurements.
func Commands() []*cobra.Command {
	return []*cobra.Command{mutateCommand(), roundTripCommand(), alignWitnessesCommand(), draftsCommand(), drawDifferencesCommand(),
		responsibilitiesCommand(), oneChangeCommand()}
}
