package codemutants

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"gopkg.in/yaml.v3"
)

// equivalent is a change that nobody can notice, as the file holds it.
type equivalent struct {
	ID     string `yaml:"id"`
	Change string `yaml:"change"`
	Reason string `yaml:"reason"`
}

// readEquivalent reads the changes that nobody can notice. Each gives its reason.
func readEquivalent(file string) (map[string]string, error) {
	text, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("reading the equivalent mutants: %w", err)
	}
	var list []equivalent
	if err := yaml.Unmarshal(text, &list); err != nil {
		return nil, fmt.Errorf("reading the equivalent mutants: %s: %w", file, err)
	}
	out := map[string]string{}
	for i, e := range list {
		switch {
		case e.ID == "" || e.Change == "" || e.Reason == "":
			return nil, fmt.Errorf("reading the equivalent mutants: %s: entry %d lacks its id, change or reason", file, i+1)
		case out[e.ID] != "":
			return nil, fmt.Errorf("reading the equivalent mutants: %s: entry %d: %s stands twice", file, i+1, e.ID)
		}
		out[e.ID] = e.Reason
	}
	return out, nil
}
