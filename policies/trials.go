package policies

import (
	"embed"
	"io/fs"
)

//go:embed trials/*.yaml
var trials embed.FS

// Trials gives the tests that a shipped style carries, nil where it has none.
func Trials(style string) []byte {
	data, err := fs.ReadFile(trials, "trials/"+style+".yaml")
	if err != nil {
		return nil
	}
	return data
}
