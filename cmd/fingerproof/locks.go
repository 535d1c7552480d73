package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"fingerproof/corpus/files"
)

// lockName is the lock file of a folder that programs write into.
const lockName = ".lock"

// shortWait is how long a command waits for another that writes a single file.
const shortWait = 30 * time.Second

// lockFolder takes the lock of a folder, which it makes where it is missing, and gives what gives it back. Where
// another program writes there it waits as long as patience; the error names that program.
func lockFolder(ctx context.Context, env *environment, dir string, patience time.Duration) (func(), error) {
	_, err := os.Lstat(dir)
	made := errors.Is(err, fs.ErrNotExist)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("making the folder %s: %w", dir, err)
	}
	lock, err := files.Take(ctx, filepath.Join(dir, lockName), holderName(), patience)
	if err != nil {
		if errors.As(err, new(files.Held)) {
			err = fmt.Errorf("%w\nhint: wait until it is done", err)
		}
		return nil, err
	}
	return func() {
		if err := lock.Release(); err != nil {
			env.complain("giving back the lock of %s: %v", dir, err)
		}
		if made {
			_ = os.Remove(dir) // only where nothing was written into it is it empty
		}
	}, nil
}

// holderName names this program as others are to read it in its locks.
func holderName() string {
	host, err := os.Hostname()
	if err != nil {
		host = "this machine"
	}
	return fmt.Sprintf("fingerproof (process %d on %s, since %s)", os.Getpid(), host,
		time.Now().Format(time.DateTime))
}
