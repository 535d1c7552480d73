// Package hands measures which hand plays what: hands assigned from the music alone, and notes offered to the other
// hand.
//
// Each is a command: go run ./cmd/workbench hands --help.
package hands

import "github.com/spf13/cobra"

// Commands lists the measurements.
func Commands() []*cobra.Command {
	return []*cobra.Command{handsCommand(), redistributionsCommand(), signsCommand(), panelCommand()}
}
