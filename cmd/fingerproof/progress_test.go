package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// stepping takes four pieces of 1,000 notes through a progress, four seconds each, and gives what it wrote.
func stepping(form string, terminal bool) string {
	var out bytes.Buffer
	at := time.Unix(1000, 0)
	p := newProgress(&environment{Stderr: &out, StderrIsTTY: terminal}, form, 4, func() time.Time { return at })
	for _, piece := range []string{"one", "two", "three", "four"} {
		at = at.Add(4 * time.Second)
		p.clear()
		p.step(piece, 1000)
	}
	return out.String()
}

func TestOffATerminalALineIsWrittenEveryTenSeconds(t *testing.T) {
	require.Equal(t, "fingerproof: 3 of 4, 250 notes a second, about 4 seconds left\n", stepping("", false))
	require.Empty(t, stepping("none", false))
	require.Empty(t, stepping("none", true))
}

func TestOnATerminalOneLineIsWrittenOver(t *testing.T) {
	said := stepping("", true)
	require.Contains(t, said, "\r\x1b[K1 of 4, 250 notes a second  one", "of one piece nothing is known")
	require.Contains(t, said, "\r\x1b[K2 of 4, 250 notes a second, about 8 seconds left  two")
	require.NotContains(t, said, "\n")
	require.True(t, strings.HasSuffix(said, "\r\x1b[K"), "nothing is left standing")
}

func TestProgressForProgramsIsLinesOfJSON(t *testing.T) {
	for _, terminal := range []bool{false, true} {
		lines := strings.Split(strings.TrimSpace(stepping("json", terminal)), "\n")
		require.Len(t, lines, 4)
		require.JSONEq(t, `{"pieces":2,"of":4,"notes":2000,"piece":"two","seconds":8,"seconds_left":8}`, lines[1])
	}
}
