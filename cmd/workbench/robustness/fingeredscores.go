package robustness

import (
	"fmt"
	"path/filepath"
	"slices"

	"fingerproof/cmd/workbench/opendata"
)

// fingeredScores takes scores evenly from the fingered material.
func fingeredScores(shared string, scores int) ([]string, error) {
	files, err := filepath.Glob(filepath.Join(opendata.Place(shared, "fingered"), "*.mxl"))
	if err != nil || len(files) == 0 {
		return nil, fmt.Errorf("there is no fingered score\nhint: name the folder of shared material with --shared")
	}
	slices.Sort(files)
	var out []string
	want := min(scores, len(files))
	for k := range want {
		out = append(out, files[k*len(files)/want])
	}
	// In the fingered material hardly a chord is offered to be rolled; in these songs some are.
	songs, err := filepath.Glob(filepath.Join(opendata.Place(shared, "engraved"), "Faisst*.mxl"))
	return append(out, songs...), err
}
