//go:build !linux

package robustness

// smallDisk gives none: only Linux has a file system of a few megabytes at hand.
func smallDisk(string) (dir string, unmount func(), why string) { return "", nil, "only on Linux" }
