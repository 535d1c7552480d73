// Package measurement is the frame of a measurement: one command of the workbench, with its help, its flags and its
// exit status. A new measurement is a file in the package of its group: a struct with what is asked for, a function
// that gives the Measurement, and a method that measures.
package measurement

import (
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Measurement describes one command.
type Measurement struct {
	Use, Short string
	// Long says what is measured on what, without the exit status.
	Long string
	// Args checks the arguments; nil: there are none.
	Args cobra.PositionalArgs
	// Fails says what exit status 1 means; empty for a command that only measures.
	Fails string
	// Flags adds the command's flags; nil: it has none.
	Flags func(f *pflag.FlagSet)
	// Run measures and prints what it found.
	Run func(ctx context.Context, out io.Writer, args []string) error
}

// Command makes the command of a measurement.
func (m Measurement) Command() *cobra.Command {
	c := &cobra.Command{Use: m.Use, Short: m.Short, Long: m.Long + m.exitStatus(), Args: m.Args}
	if c.Args == nil {
		c.Args = cobra.NoArgs
	}
	if m.Flags != nil {
		m.Flags(c.Flags())
	}
	c.RunE = func(c *cobra.Command, args []string) error { return m.Run(c.Context(), c.OutOrStdout(), args) }
	return c
}

func (m Measurement) exitStatus() string {
	if m.Fails == "" {
		return "\n\nEXIT STATUS\n  0  measured\n  2  the work could not be done"
	}
	return "\n\nEXIT STATUS\n  0  measured, and as it should be\n  1  " + m.Fails + "\n  2  the work could not be done"
}

// failure is the error of a measurement that was made and found something that should not be.
type failure struct{ error }

// Failed says that something was found that should not be: exit status 1.
func Failed(format string, args ...any) error { return failure{fmt.Errorf(format, args...)} }

// ExitStatus is the exit status that an error gives.
func ExitStatus(err error) int {
	switch {
	case err == nil:
		return 0
	case errors.As(err, new(failure)):
		return 1
	}
	return 2
}
