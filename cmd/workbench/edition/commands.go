// Package edition measures what is printed: how many digits, whether marks keep their promises, and the drawn pages.
//
// Each is a command: go run ./cmd/workbench thin --help.
package edition

import "github.com/spf13/cobra"

// Commands lists the measurements.
func Commands() []*cobra.Command {
	return []*cobra.Command{
		placesCommand(), readerCommand(), thinCommand(), marksCommand(), engraveCommand(), pageHeightsCommand(),
		oneDigitCommand(), overlapsCommand(),
	}
}
