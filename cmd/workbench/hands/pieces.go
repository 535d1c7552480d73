package hands

import (
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hands"
)

// handPiece is a piece with known hands. Notes tied on are part of the note that sounds.
type handPiece struct {
	name  string
	fold  int
	notes hands.Example
	count []int // note elements of each sounding note
}

// readHands reads the pieces that use both hands and have no note flagged as standing on the other staff.
func readHands(dir string) ([]handPiece, error) {
	pieces, err := opendata.ReadPieces(dir)
	if err != nil {
		return nil, err
	}
	var out []handPiece
	for _, p := range pieces {
		rows, err := opendata.ReadTable(filepath.Join(dir, p.Name+".tsv"))
		if err != nil {
			return nil, err
		}
		crossed := false
		for _, r := range rows {
			crossed = crossed || strings.Contains(r["flags"], "C")
		}
		if crossed || len(p.Hands[0]) == 0 || len(p.Hands[1]) == 0 {
			continue
		}
		hp := handPiece{name: p.Name, fold: p.Fold}
		for h, hand := range []score.Hand{score.Right, score.Left} {
			open := map[int]int{} // key → its latest note
			line := p.Hands[h]
			for _, k := range order(line) {
				n := line[k]
				if at, ok := open[n.Key]; ok && n.Tied && hp.notes[at].End.Compare(n.Onset) >= 0 {
					hp.notes[at].End = n.End
					hp.count[at]++
					continue
				}
				open[n.Key] = len(hp.notes)
				hp.notes = append(hp.notes, hands.Keystroke{Onset: n.Onset, End: n.End, Rank: n.Rank, Key: n.Key, Hand: hand})
				hp.count = append(hp.count, 1)
			}
		}
		out = append(out, hp)
	}
	return out, nil
}

// order gives the notes of a hand in the order of playing.
func order(line []fingering.Note) []int {
	out := make([]int, len(line))
	for i := range out {
		out[i] = i
	}
	slices.SortStableFunc(out, func(a, b int) int { return fingering.Before(&line[a], &line[b]) })
	return out
}

// blind gives the notes without their hands.
func (p *handPiece) blind() []hands.Keystroke {
	out := append([]hands.Keystroke(nil), p.notes...)
	for i := range out {
		out[i].Hand = score.NoHand
	}
	return out
}

// right counts the note elements whose hand is the right one, grace notes aside, and all of them.
func (p *handPiece) right(got []score.Hand) (count [2]int) {
	for i, h := range got {
		if p.notes[i].Rank.IsGrace() {
			continue
		}
		count[1] += p.count[i]
		if h == p.notes[i].Hand {
			count[0] += p.count[i]
		}
	}
	return count
}
