//go:build !windows

package programruns

import (
	"os"
	"runtime"
	"syscall"
)

// PeakMemory is the most memory that a program had, in bytes.
func PeakMemory(p *os.ProcessState) int64 {
	usage, ok := p.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	if runtime.GOOS == "darwin" {
		return int64(usage.Maxrss)
	}
	return int64(usage.Maxrss) << 10
}
