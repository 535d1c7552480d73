package main

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/shared"
)

// The guide lists every group with its commands, as --help does.
func TestTheGuideListsTheMeasurements(t *testing.T) {
	guide, err := os.ReadFile(shared.InProject("DEVELOPERS.md"))
	require.NoError(t, err)
	_, section, found := strings.Cut(string(guide), "\n## Measuring\n")
	require.True(t, found)
	section, _, _ = strings.Cut(section, "\n## ")
	rows := 0
	for _, line := range strings.Split(section, "\n") {
		if strings.HasPrefix(line, "| `") {
			rows++
		}
	}
	for _, g := range groups {
		var names []string
		for _, c := range g.commands() {
			names = append(names, "`"+c.Name()+"`")
		}
		row := fmt.Sprintf("| `%s` | %s | %s |", g.name, g.title, strings.Join(names, ", "))
		listed := strings.Contains(section, "\n"+row+"\n")
		require.True(t, listed, "DEVELOPERS.md, section \"Measuring\", lacks the row\n%s", row)
	}
	require.Equal(t, len(groups), rows, "rows of the table in the guide")
}

// Every command says what it measures and which exit status it gives, under a name that no other has.
func TestEveryMeasurementIsDocumented(t *testing.T) {
	named := map[string]string{}
	for _, g := range groups {
		for _, c := range g.commands() {
			require.NotEmpty(t, c.Short, c.Name())
			require.Contains(t, c.Long, "EXIT STATUS\n  0  ", c.Name())
			require.Empty(t, named[c.Name()], "%s stands in two groups", c.Name())
			named[c.Name()] = g.name
			for line := range strings.Lines(c.Long) {
				require.LessOrEqual(t, len([]rune(line)), 160, "%s: %s", c.Name(), line)
			}
		}
	}
	require.Greater(t, len(named), 20)
}

func TestHelpShowsTheGroups(t *testing.T) {
	var out strings.Builder
	root := workbench()
	root.SetOut(&out)
	root.SetArgs([]string{"--help"})
	require.NoError(t, root.Execute())
	for _, g := range groups {
		require.Contains(t, out.String(), g.title+" ("+g.name+"):")
	}
}
