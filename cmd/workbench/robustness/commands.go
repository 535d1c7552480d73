// Package robustness measures what small changes and accidents do: edits of a measure, re-engravings under decisions,
// programs killed at work, and what proving causes costs.
//
// Each is a command: go run ./cmd/workbench travel --help.
package robustness

import "github.com/spf13/cobra"

// Commands lists the measurements.
func Commands() []*cobra.Command {
	return []*cobra.Command{travelCommand(), placeDecisionsCommand(), oneCorrectionCommand(), killCommand(), hostileCommand(), soakCommand(), checkTimeCommand(), judgeAllCommand(), finishCommand(), steadyCommand()}
}
