// Package formats holds the same pieces in several formats against each other: MusicXML as it lies there, and the MEI
// that an engraver makes of it.
//
// Each is a command: go run ./cmd/workbench formats --help.
package formats

import "github.com/spf13/cobra"

// Commands lists the measurements.
func Commands() []*cobra.Command {
	return []*cobra.Command{formatsCommand(), timemapCommand(), habitsCommand()}
}
