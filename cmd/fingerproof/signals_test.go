//go:build !windows

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A signal ends the program wherever it is: also while it waits for lines that nobody types, which no code of ours can
// interrupt. The test waits long before it gives up; how quickly the program ends is measured elsewhere.
func TestASignalEndsTheProgramWhereverItIs(t *testing.T) {
	root, write := keepingCollection(t)
	self, err := os.Executable()
	require.NoError(t, err)
	for _, c := range []struct {
		name string
		args []string
		sent os.Signal
	}{
		{"waiting for lines", []string{"decisions", "enter", "figures", "--in", root, "--by", "AB"}, syscall.SIGTERM},
		{"waiting for lines, by the keyboard", []string{"decisions", "enter", "figures", "--in", root, "--by", "AB"}, os.Interrupt},
		{"writing into a pipe that nobody reads", []string{"lint", root, "--report", "json=" + filepath.Join(root, "pipe")}, syscall.SIGTERM},
	} {
		t.Run(c.name, func(t *testing.T) {
			_ = os.Remove(filepath.Join(root, "pipe"))
			require.NoError(t, syscall.Mkfifo(filepath.Join(root, "pipe"), 0o600))
			cmd := exec.Command(self, c.args...)
			cmd.Args[0] = "fingerproof" // the test program is the program under that name (TestMain)
			in, err := cmd.StdinPipe()
			require.NoError(t, err)
			defer in.Close()
			var said strings.Builder
			cmd.Stderr = &said
			require.NoError(t, cmd.Start())
			time.Sleep(2 * time.Second) // by now it waits
			require.NoError(t, cmd.Process.Signal(c.sent))
			ended := make(chan error, 1)
			go func() { ended <- cmd.Wait() }()
			select {
			case <-ended:
			case <-time.After(time.Minute):
				_ = cmd.Process.Kill()
				t.Fatal("it does not end")
			}
			require.Equal(t, exitInterrupted, cmd.ProcessState.ExitCode(), said.String())
			require.Contains(t, said.String(), "interrupted; every file written is whole")
		})
	}
	write("lines.txt", "1 r 3\n")
	status, _, complaint := command("decisions", "enter", "figures", filepath.Join(root, "lines.txt"), "--in", root, "--by", "AB")
	require.Equal(t, exitClean, status, "what was interrupted holds nobody up: "+complaint)
}
