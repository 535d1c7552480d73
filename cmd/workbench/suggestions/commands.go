// Package suggestions measures what the engine suggests, whatever an edition prints: what each aim moves, how
// passages that return are fingered, and whether anything goes beyond the hand.
//
// Each is a command: go run ./cmd/workbench aims --help.
package suggestions

import "github.com/spf13/cobra"

// Commands lists the measurements.
func Commands() []*cobra.Command {
	return []*cobra.Command{aimsCommand(), returnsCommand(), likeMeasuresCommand(), likeFiguresCommand(), limitsCommand(), personalCommand(), ownFindingsCommand(), hardFaultsCommand()}
}
