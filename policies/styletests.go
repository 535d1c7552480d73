package policies

import (
	"embed"
	"io/fs"
)

//go:embed styletests/*.yaml
var styletests embed.FS

// StyleTests gives the tests that a shipped style carries, nil where it has none.
func StyleTests(style string) []byte {
	data, err := fs.ReadFile(styletests, "styletests/"+style+".yaml")
	if err != nil {
		return nil
	}
	return data
}
