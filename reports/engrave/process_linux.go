package engrave

import (
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// clockTicks is how many parts a second has in which the system tells what a process has worked.
const clockTicks = 100

// worked is how long a process has been at work on any processor; false where the system does not say.
func worked(pid int) (time.Duration, bool) {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return 0, false
	}
	text := string(data)
	fields := strings.Fields(text[strings.LastIndexByte(text, ')')+1:]) // the name in brackets may hold anything
	if len(fields) < 13 {
		return 0, false
	}
	own, err := strconv.ParseInt(fields[11], 10, 64)
	system, err2 := strconv.ParseInt(fields[12], 10, 64)
	return time.Duration(own+system) * time.Second / clockTicks, err == nil && err2 == nil
}

// dieWithParent has the system kill a process when this program ends, however that ends.
func dieWithParent(command *exec.Cmd) {
	command.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
}
