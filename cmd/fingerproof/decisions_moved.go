package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"fingerproof/corpus/files"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
)

// mostMoved is how many suggestions that came out otherwise are named; the rest is counted.
const mostMoved = 5

// movedSinceRun says which of the digits that are taken are others than the last run suggested: an editor who looked at its page or
// sheet has seen those. "" where none is, or where no run lies beside the collection.
func movedSinceRun(root string, w *pipeline.PieceRun, taken []decision.Decision) string {
	data, err := files.Read(filepath.Join(root, "out", "results", w.Piece.ID+".json"), files.StateLimit)
	if err != nil {
		return ""
	}
	was, err := state.Decode(data)
	if err != nil || was.Inputs.Score != w.Result.Inputs.Score { // of another text notes have other numbers
		return ""
	}
	finder, at := decision.NewFinder(w.Score), was.ByNumber()
	var moved []string
	for i := range taken {
		if taken[i].On != decision.Notes {
			continue
		}
		for k := range taken[i].Notes {
			ref := &taken[i].Notes[k]
			n, _, _ := finder.Find(ref)
			if n < 0 {
				continue
			}
			if e := at.Of(n); e != nil && e.Finger > 0 && len(ref.Fingers) > 0 && e.Finger != ref.Fingers[0] {
				moved = append(moved, fmt.Sprintf("%s %s %d → %d", w.Score.Place(n), ref.Pitch, e.Finger, ref.Fingers[0]))
			}
		}
	}
	if len(moved) == 0 {
		return ""
	}
	said := strings.Join(moved[:min(len(moved), mostMoved)], "; ")
	if more := len(moved) - mostMoved; more > 0 {
		said += fmt.Sprintf("; and %d more", more)
	}
	return fmt.Sprintf("%s: %s taken otherwise than the last run suggests: %s", w.Piece.ID, wording.Count(len(moved), "digit"), said)
}
