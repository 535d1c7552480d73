package engrave

import (
	"context"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// The limit counts what the engraver works, not what passes: on a machine that is busy with other things it waits.
func TestAnEngraverThatWaitsForTheMachineIsNotStopped(t *testing.T) {
	worker := newWorker(t, processPress(t, 2*time.Second))
	defer worker.Close(context.Background())
	want, err := worker.draw(context.Background(), order{Score: testScore()})
	require.NoError(t, err)
	pid := worker.child.command.Process.Pid
	require.NoError(t, syscall.Kill(pid, syscall.SIGSTOP))
	time.AfterFunc(3*time.Second, func() { _ = syscall.Kill(pid, syscall.SIGCONT) })
	got, err := worker.draw(context.Background(), order{Score: testScore()})
	require.NoError(t, err)
	require.Equal(t, want, got)
	require.Equal(t, pid, worker.child.command.Process.Pid, "it was not started anew")
}
