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
	"fingerproof/pipeline/4_services/review"
)

// mostMoved is how many suggestions that came out otherwise are named of a piece; the rest is counted.
const mostMoved = 5

// lastRun is what the last run laid down of a piece beside its collection: an editor who looked at its page or sheet has seen it. nil
// where there is none, or where it was of another text, whose notes have other numbers.
func lastRun(root string, w *pipeline.PieceRun) *state.Result {
	data, err := files.Read(filepath.Join(root, "out", "results", w.Piece.ID+".json"), files.StateLimit)
	if err != nil {
		return nil
	}
	was, err := state.Decode(data)
	if err != nil || was.Inputs.Score != w.Result.Inputs.Score {
		return nil
	}
	return was
}

// movedSince lists the notes of a decision whose finger is another than the last run suggests, and those where it holds too.
func movedSince(seen *state.Result, w *pipeline.PieceRun, f *decision.Finder, d *decision.Decision, goes []review.Going) (moved []string) {
	if seen == nil || d.On != decision.Notes {
		return nil
	}
	at, now := seen.ByNumber(), w.Result.ByNumber()
	for i := range goes {
		for _, pair := range goes[i].Notes {
			if a, b := at.Of(pair[1]), now.Of(pair[1]); a != nil && b != nil && a.Finger > 0 && a.Finger != b.Finger {
				moved = append(moved, fmt.Sprintf("%s %s %d → %d", w.Score.Place(pair[1]), b.Pitch, a.Finger, b.Finger))
			}
		}
	}
	for k := range d.Notes {
		ref := &d.Notes[k]
		n, _, _ := f.Find(ref)
		if n < 0 {
			continue
		}
		if e := at.Of(n); e != nil && e.Finger > 0 && len(ref.Fingers) > 0 && e.Finger != ref.Fingers[0] {
			moved = append(moved, fmt.Sprintf("%s %s %d → %d", w.Score.Place(n), ref.Pitch, e.Finger, ref.Fingers[0]))
		}
	}
	return moved
}

// sayMoved names passages that are left open, since what would be taken is not what an editor could read.
func sayMoved(piece string, passages int, moved []string) string {
	said := strings.Join(moved[:min(len(moved), mostMoved)], "; ")
	if more := len(moved) - mostMoved; more > 0 {
		said += fmt.Sprintf("; and %d more", more)
	}
	return fmt.Sprintf("%s: left open, since %s now otherwise than the last run suggested: %s: %s; run again, and look", piece,
		wording.Count(len(moved), "digit")+map[bool]string{true: " comes out", false: " come out"}[len(moved) == 1], wording.Count(passages, "passage"), said)
}
