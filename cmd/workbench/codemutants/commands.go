// Package codemutants measures whether tests bite: it changes a package at many places, one at a time, and counts
// the changes that its tests notice.
//
// Each is a command: go run ./cmd/workbench mutants --help.
package codemutants

import "github.com/spf13/cobra"

// Commands lists the measurements.
func Commands() []*cobra.Command { return []*cobra.Command{mutantsCommand()} }
