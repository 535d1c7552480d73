package opendata

import (
	"fmt"
	"path/filepath"
	"slices"

	"fingerproof/corpus/shared"
)

// sharedFolder is the folder of shared material, or where it should lie.
func Folder() string {
	if dir, found := shared.Find(""); found {
		return dir
	}
	return filepath.Join("..", "shared")
}

// mutationMaterial takes scores evenly from the fingered and engraved folders.
func Scores(shared string, n int) ([]string, error) {
	var out []string
	for _, folder := range []string{"fingered", "engraved"} {
		all, err := filepath.Glob(filepath.Join(shared, "data", folder, "*.mxl"))
		if err != nil || len(all) == 0 {
			return nil, fmt.Errorf("there is no score in %s\nhint: name the folder of shared material with --shared", filepath.Join(shared, "data", folder))
		}
		slices.Sort(all)
		want := max(n/2, 1)
		for k := range want {
			out = append(out, all[k*len(all)/want])
		}
	}
	return out, nil
}
