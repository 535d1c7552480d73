package hands

import (
	"fmt"
	"io"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/06_hands"
)

// measureStray counts the notes that are given to another hand than that of the staff their voice lives on: by a hand
// sign or by position.
func measureStray(out io.Writer, path string) error {
	c, err := corpus.Open(path)
	if err != nil {
		return err
	}
	all, stray := 0, 0
	for i := range c.Pieces {
		if c.Pieces[i].Fault != nil {
			continue
		}
		s, err := opendata.ReadScore(c.Path(c.Pieces[i].Score))
		if err != nil {
			continue // round-trip names it
		}
		h, err := hands.Assign(s, hands.Scoring{Kind: string(c.Pieces[i].Scoring)})
		if err != nil {
			continue
		}
		here, first := 0, ""
		for k := range s.Notes {
			n := &s.Notes[k]
			if !h.Piano[k] || s.Parts[n.Part].Staves != 2 {
				continue
			}
			all++
			if (n.HomeStaff == 1) != (h.Hand[k] == score.Right) {
				here++
				if first == "" {
					first = s.Measures[n.Measure].Number
				}
			}
		}
		stray += here
		if here > 0 {
			fmt.Fprintf(out, "%s: %d notes, from m. %s\n", c.Pieces[i].ID, here, first)
		}
	}
	fmt.Fprintf(out, "%s: %d of %d notes are played by the hand of the other staff\n", path, stray, all)
	return nil
}
