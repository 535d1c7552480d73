// Package testruns reads what a run of the project's tests says.
//
// Each is a command: go run ./cmd/workbench skipped --help.
package testruns

import "github.com/spf13/cobra"

// Commands lists them.
func Commands() []*cobra.Command { return []*cobra.Command{skippedCommand()} }
