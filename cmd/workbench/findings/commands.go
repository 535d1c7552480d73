// Package findings measures lint: whether it finds what is planted, invents nothing, knows findings again, and is
// quick.
//
// Each is a command of the workbench: go run ./cmd/workbench plant --help.
package findings

import "github.com/spf13/cobra"

// findingsCommands lists the measurements.
func Commands() []*cobra.Command {
	return []*cobra.Command{plantCommand(), knownAgainCommand(), lintTimeCommand()}
}
