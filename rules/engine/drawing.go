package engine

import (
	"cmp"
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// Drawing is a stretch of the priced lattice to be looked at: the events of a line with their best grips.
type Drawing struct{ Columns []Column }

// Column is one event.
type Column struct {
	Onset fingering.Moment
	// Struck and Held are the ids of the notes struck here and of those held on, lowest key first (from the side of
	// the thumb).
	Struck, Held []int
	// Grips are the best ones, the cheapest first, ties in the order of the lattice. Of is how many there are in all.
	Grips []GripNode
	Of    int
}

// GripNode is one grip of an event.
type GripNode struct {
	Fingers []fingering.Finger // one for each key that sounds, lowest first
	// More is what the best path through the grip costs above the best of all, in milli-nats.
	More int
	// Next is the grip of the next column on that path, as an index into its Grips; -1 where it is not drawn.
	Next int
	// Cheapest says that the grip lies on the cheapest path.
	Cheapest bool
}

// Frame is what is drawn: the events that begin at From or later and before To, with so many grips each at most.
type Frame struct {
	From, To fingering.Moment
	Grips    int
}

// Draw lays out a stretch of the lattice of one hand.
func Draw(
	h fingering.Hand, profile hand.Profile, weights *effort.Weights, aims effort.Aims, notes []fingering.Note, f Frame,
) Drawing {
	line := fingering.NewLine(h, notes, profile.Fits)
	l := lattice.New(line, profile)
	var d Drawing
	if len(line.Events) == 0 {
		return d
	}
	var work lattice.Workspace
	forward := work.Price(l, effort.NewPricerFor(weights, profile, aims).Model(line, l)).Forward()
	path, optimum := forward.Cheapest()
	marginals := forward.Backward()
	shown := map[int][]int{} // event → lattice index of each grip drawn
	var events []int
	for e := range line.Events {
		if at := line.Events[e].Onset; at.Compare(f.From) < 0 || at.Compare(f.To) >= 0 {
			continue
		}
		events = append(events, e)
		order := make([]int, len(l.Grips(e)))
		for g := range order {
			order[g] = g
		}
		cost := marginals.Of(e)
		slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(cost[x], cost[y]) })
		shown[e] = order[:min(f.Grips, len(order))]
	}
	for _, e := range events {
		c := Column{Onset: line.Events[e].Onset, Of: len(l.Grips(e))}
		for _, k := range line.Events[e].Keys {
			if k.Struck {
				c.Struck = append(c.Struck, line.Strikes[k.Strike].IDs[0])
			} else {
				c.Held = append(c.Held, line.Strikes[k.Strike].IDs[0])
			}
		}
		for _, g := range shown[e] {
			n := GripNode{More: milli(marginals.Of(e)[g] - optimum), Next: -1, Cheapest: path[e] == g}
			for i := range line.Events[e].Keys {
				n.Fingers = append(n.Fingers, l.Grips(e)[g].Fingers[i])
			}
			start, stretch := marginals.Departure(e, g, path)
			if next := e + 1 - start; next < len(stretch) {
				n.Next = slices.Index(shown[e+1], stretch[next])
			}
			c.Grips = append(c.Grips, n)
		}
		d.Columns = append(d.Columns, c)
	}
	return d
}
