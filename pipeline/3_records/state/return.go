package state

import (
	"fmt"

	"fingerproof/corpus/score"
)

// Return is a passage that comes back, and how far it is fingered as the first time.
type Return struct {
	Kind  string        `json:"kind"`            // exact, transposed, mirrored
	Shift int           `json:"shift,omitempty"` // semitones from the first passage up to the later one
	First ReturnPassage `json:"first"`
	Later ReturnPassage `json:"later"`
	Notes int           `json:"notes"` // compared
	Alike int           `json:"alike"` // taken by the same finger
	// Apart says that the later passage, or part of it, is declared to be fingered for itself.
	Apart  bool         `json:"apart,omitempty"`
	Differ []Difference `json:"differ,omitempty"`
}

// ReturnPassage is a stretch of one hand from its first note to its last.
type ReturnPassage struct {
	Hand           score.Hand `json:"hand"`
	Measure        string     `json:"measure"` // where it begins, as printed
	MeasureIndex   int        `json:"measure_index"`
	ToMeasure      string     `json:"to_measure"` // where it ends
	ToMeasureIndex int        `json:"to_measure_index"`
	Beat           string     `json:"beat"` // on which it begins
	From           int        `json:"from"` // n of its first and last note in the order of playing
	To             int        `json:"to"`
}

// Difference is a note of a return that another finger takes than in the first passage.
type Difference struct {
	First   int    `json:"first"` // n of both notes
	Later   int    `json:"later"`
	Fingers [2]int `json:"fingers"`
	Why     string `json:"why"`
}

// String says where a passage stands: "m. 1–4, beat 1, right hand".
func (p ReturnPassage) String() string {
	if p.Measure == p.ToMeasure {
		return fmt.Sprintf("m. %s, beat %s, %s", p.Measure, p.Beat, p.Hand.Words())
	}
	return fmt.Sprintf("m. %s–%s, beat %s, %s", p.Measure, p.ToMeasure, p.Beat, p.Hand.Words())
}
