// Package agreement fits the engine's tables and measures how far it agrees with the digits that editions print.
//
// Each is a command: go run ./cmd/workbench fit --help.
package agreement

import "github.com/spf13/cobra"

// Commands lists the measurements.
func Commands() []*cobra.Command {
	return []*cobra.Command{
		fitCommand(), tryCommand(), evaluateCommand(), idiomsCommand(), panelCommand(), disagreementsCommand(), adaptCommand(),
		learnedDataCommand(),
	}
}
