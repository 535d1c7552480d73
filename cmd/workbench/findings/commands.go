// Package findings measures lint: whether it finds what is planted, invents nothing, knows findings again, and is
// quick.
//
// Each is a command: go run ./cmd/workbench plant --help.
package findings

import "github.com/spf13/cobra"

// Commands lists the measurements.
func Commands() []*cobra.Command {
	return []*cobra.Command{plantCommand(), drawCommand(), sameMusicCommand(), ownEditionsCommand(), knownAgainCommand(), lintTimeCommand()}
}
