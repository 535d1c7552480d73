package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWhatMemoryIsAskedForIsNotedWhereThatIsAskedFor(t *testing.T) {
	require.True(t, asksFor("--memprofile", []string{"run", "a.xml", "--memprofile", "m"}))
	require.True(t, asksFor("--memprofile", []string{"run", "--memprofile=m", "a.xml"}))
	require.False(t, asksFor("--memprofile", []string{"run", "--memprofiles", "a.xml", "memprofile"}))
}
