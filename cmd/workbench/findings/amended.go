package findings

import (
	"hash/fnv"
	"math/rand/v2"

	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
)

// chance says how many of a hundred passages, and of a hundred digits of the text, are amended, and what the drawing begins with.
type chance struct {
	amended int
	seed    uint64
}

// drawing draws for one piece, whatever is drawn for others.
type drawing struct {
	*rand.Rand
	amended int
}

func (c chance) of(piece string) drawing {
	sum := fnv.New64a()
	_, _ = sum.Write([]byte(piece)) // never fails
	return drawing{rand.New(rand.NewPCG(c.seed, sum.Sum64())), c.amended}
}

func (d drawing) hit() bool { return d.IntN(100) < d.amended }

// amendments gives a passage the second likeliest finger at one of its notes, by chance: at single notes, where no other key
// of the grip would need another, too.
func (d drawing) amendments(w *pipeline.PieceRun, p *review.Passage) map[int][]int {
	if p.Redistribution >= 0 || !d.hit() {
		return nil
	}
	at := w.Result.ByNumber()
	var open []int
	for _, n := range review.Taken(w.Result, p) {
		if len(w.Playing.Together(n)) == 1 && len(at.Of(n).Alternatives) > 0 && len(at.Of(n).Fingers) == 0 {
			open = append(open, n)
		}
	}
	if len(open) == 0 {
		return nil
	}
	n := open[d.IntN(len(open))]
	return map[int][]int{n: {at.Of(n).Alternatives[0].Finger}}
}

// overText decides other fingers, by chance, at single keys where a digit of the text stands.
func (d drawing) overText(w *pipeline.PieceRun, finder *decision.Finder) decision.Decision {
	out := decision.Decision{Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-01-01"}
	for i := range w.Result.Notes {
		n := &w.Result.Notes[i]
		if len(n.Source) == 0 || n.Finger == 0 || n.Tied || n.Piled != "" || len(n.Fingers) > 0 || len(w.Playing.Together(n.N)) != 1 || !d.hit() {
			continue
		}
		finger := 1 + (n.Finger+d.IntN(4))%5 // another one
		out.Notes = append(out.Notes, finder.Ref(n.N, []int{finger}))
	}
	return out
}
