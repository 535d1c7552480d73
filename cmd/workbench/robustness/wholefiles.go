package robustness

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/passed"
)

// wholeFiles lists results, editions, pages and passed states, and reads each:
// the first that is not whole is the error. A passed state must have its text.
func wholeFiles(dir string) (map[string]bool, error) {
	out := map[string]bool{}
	store := passed.In(dir)
	for _, room := range []string{"out", "passed"} {
		err := filepath.WalkDir(filepath.Join(dir, room), func(path string, d fs.DirEntry, err error) error {
			// Files half written have names that begin with a point, and are nobody's.
			if err != nil || d.IsDir() || strings.HasPrefix(d.Name(), ".") {
				return err
			}
			name, _ := filepath.Rel(dir, path)
			slashed := filepath.ToSlash(name)
			if strings.HasPrefix(slashed, "passed/text/") {
				return nil // named by its content, so another one each time; looked at with its state
			}
			data, err := os.ReadFile(path)
			if err == nil {
				err = whole(store, slashed, data)
			}
			if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			out[slashed] = true
			return nil
		})
		if err != nil {
			return out, err
		}
	}
	return out, nil
}

// whole says what a file of a collection lacks; name is its path from the collection on, with slashes.
func whole(store passed.Store, name string, data []byte) error {
	var err error
	switch {
	case strings.HasPrefix(name, "out/results/"):
		_, err = state.Decode(data)
	case strings.HasPrefix(name, "out/review/"):
		if !bytes.Contains(data, []byte("</html>")) {
			err = errors.New("the page does not end")
		}
	case strings.HasPrefix(name, "out/edition/"):
		_, err = opendata.ParseScore(name, data)
	case strings.HasPrefix(name, "passed/"):
		var st *passed.State
		if st, err = passed.Decode(name, data); err == nil {
			var text []byte
			if text, err = store.Text(st); err == nil && text == nil {
				err = errors.New("its score is not beside it")
			}
		}
	}
	return err
}
