package hands

import (
	"fmt"
	"io"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/pipeline/4_stages/14_redistribute"
)

// placeCount counts places: those known, those offered, and those found by the notes struck at the sign.
type placeCount struct{ places, known, offered, atSign int }

func (c *placeCount) add(p *signPlace) {
	c.places++
	if p.known {
		c.known++
	}
	if p.offered {
		c.offered++
	}
	if p.atSign {
		c.atSign++
	}
}

func (c *placeCount) print(out io.Writer, name string) {
	fmt.Fprintf(out, "  %-20s places %4d, known %4d, offered %4d: %s; at the sign itself %s\n",
		name, c.places, c.known, c.offered,
		figures.Share([2]int{c.known + c.offered, c.places}), figures.Share([2]int{c.atSign, c.places}))
}

// signCount is what all scores come to.
type signCount struct {
	all                       placeCount
	byKind                    map[string]*placeCount
	byFold                    [signFolds]placeCount
	notes, lost, back, failed int
	offers                    map[string]int // where no sign stands, by reason
}

func newSignCount() *signCount {
	return &signCount{byKind: map[string]*placeCount{}, offers: map[string]int{}}
}

// add takes in a score, and lists its places where that is asked for.
func (c *signCount) add(out io.Writer, piece *signPiece, list bool) {
	if piece.err != nil {
		c.failed++
		fmt.Fprintf(out, "left out: %s: %v\n", piece.name, piece.err)
		return
	}
	c.notes += piece.notes
	c.lost += piece.lost
	c.back += piece.back
	for r, n := range piece.offers {
		c.offers[r] += n
	}
	for k := range piece.places {
		p := &piece.places[k]
		if c.byKind[p.kind] == nil {
			c.byKind[p.kind] = &placeCount{}
		}
		c.byKind[p.kind].add(p)
		c.byFold[p.fold].add(p)
		c.all.add(p)
		if list {
			fmt.Fprintf(out, "%s: %s: %s, %d notes to the %s hand: %s\n",
				p.piece, p.where, p.kind, len(p.sign.Notes), p.sign.Sign.Hand, p.outcome())
		}
	}
}

// outcome says what is made of a place.
func (p *signPlace) outcome() string {
	switch {
	case p.known:
		return "known"
	case p.offered:
		return "offered, " + p.reason
	}
	return "missed"
}

func (c *signCount) print(out io.Writer) {
	c.all.print(out, "all")
	for _, kind := range placeKinds {
		if n := c.byKind[kind]; n != nil {
			n.print(out, kind)
		}
	}
	for f := range c.byFold {
		c.byFold[f].print(out, fmt.Sprintf("composers, fold %d", f))
	}
	total := 0
	for _, r := range redistribute.Reasons {
		total += c.offers[r]
	}
	fmt.Fprintf(out, "offered where no sign stands: %d, %.2f in a thousand of %d notes:",
		total, 1000*float64(total)/float64(max(c.notes, 1)), c.notes)
	for _, r := range redistribute.Reasons {
		fmt.Fprintf(out, " %s %d", r, c.offers[r])
	}
	fmt.Fprintf(out, "\nsigns read: %d notes not given to the hand named, %d offered back; %d scores left out\n",
		c.lost, c.back, c.failed)
}
