package measurement

import (
	"context"
	"errors"
	"fmt"
	"io"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestHelpSaysWhenACommandFails(t *testing.T) {
	require.NotContains(t, Measurement{Long: "It measures."}.Command().Long, "  1  ")
	torn := Measurement{Long: "It measures.", Fails: "a file is torn"}
	require.Contains(t, torn.Command().Long, "  1  a file is torn\n")
}

func TestExitStatusIsThatOfTheHelp(t *testing.T) {
	require.Equal(t, 0, ExitStatus(nil))
	require.Equal(t, 1, ExitStatus(Failed("%d files are torn", 2)))
	require.Equal(t, 1, ExitStatus(fmt.Errorf("measuring: %w", Failed("a file is torn"))))
	require.Equal(t, 2, ExitStatus(errors.New("no such file")))
}

func TestACommandTakesNoArgumentsUnlessItSaysSo(t *testing.T) {
	c := Measurement{Use: "m", Run: func(context.Context, io.Writer, []string) error { return nil }}.Command()
	c.SilenceErrors, c.SilenceUsage = true, true
	c.SetArgs([]string{"more"})
	require.Error(t, c.Execute())
	c.SetArgs(nil)
	require.NoError(t, c.Execute())
}
