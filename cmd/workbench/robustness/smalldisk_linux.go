package robustness

import (
	"os"
	"path/filepath"
	"syscall"
)

// smallDisk mounts a file system of four megabytes below a folder; why says why there is none.
func smallDisk(base string) (dir string, unmount func(), why string) {
	dir = filepath.Join(base, "disk")
	if err := os.Mkdir(dir, 0o755); err != nil {
		return "", nil, err.Error()
	}
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=4m"); err != nil {
		return "", nil, "a small file system cannot be mounted: " + err.Error()
	}
	return dir, func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) }, ""
}
