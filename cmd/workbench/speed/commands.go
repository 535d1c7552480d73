// Package speed measures how long the program takes beside what reading and writing scores takes anyway.
//
// Each is a command: go run ./cmd/workbench floor --help.
package speed

import "github.com/spf13/cobra"

// Commands lists the measurements.
func Commands() []*cobra.Command {
	return []*cobra.Command{floorCommand(), profileCommand(), scalingCommand()}
}
