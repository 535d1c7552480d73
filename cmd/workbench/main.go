// Command workbench is for the people who work on fingerproof: it fits the engine's tables, measures them against printed
// digits, and shows where they disagree.
package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"
)

func main() {
	root := &cobra.Command{
		Use:           "workbench",
		Short:         "fit and measure the engine",
		SilenceUsage:  true,
		SilenceErrors: true,
	}
	root.AddCommand(evaluateCommand(), disagreementsCommand(), limitsCommand(), handsCommand(), fitCommand(), tryCommand())
	root.AddCommand(thinCommand(), marksCommand(), responsibilitiesCommand())
	root.AddCommand(returnsCommand(), aimsCommand(), engraveCommand(), redistributionsCommand(), alignWitnessesCommand(), mutateCommand(), roundTripCommand())
	root.AddCommand(settleCommand(), killCommand(), travelCommand(), checkTimeCommand())
	root.AddCommand(plantCommand(), knownAgainCommand(), houseHandCommand())
	root.AddCommand(lintTimeCommand())
	if err := root.Execute(); err != nil {
		fmt.Fprintln(os.Stderr, "workbench:", err)
		os.Exit(2)
	}
}
