package engrave

import (
	"os/exec"
	"syscall"
)

// dieWithParent has the system kill a process when this program ends, however that ends.
func dieWithParent(command *exec.Cmd) {
	command.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
}
