package lint

import (
	"slices"
	"strings"

	"fingerproof/corpus/score"
)

// Clefs are the clefs of a score by when they are set.
type Clefs struct {
	score *score.Score
	set   map[staffOf][]clefAt
}

type staffOf struct{ part, staff int }

type clefAt struct {
	at     score.Fraction
	middle int // the place of the note on the middle line
	known  bool
}

// Place counts the letters of a pitch from C0 upwards: C4 is 28.
func Place(p score.Pitch) int {
	return int(p.Octave)*7 + (int(p.Step)-'C'+7)%7
}

// middles are the notes on the middle line of the clefs, as places (common knowledge of the trade): B4, D3, C4, A3.
var middles = map[string]int{"treble clef": 34, "bass clef": 22, "alto clef": 28, "tenor clef": 26}

// Clefs lists the clefs of a score.
func (p *Inspection) Clefs() *Clefs {
	c := &Clefs{score: p.Score, set: map[staffOf][]clefAt{}}
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind != score.ItemClef {
			continue
		}
		reading, _ := strings.CutSuffix(i.Reading, NotShown)
		middle, known := middles[reading]
		key := staffOf{i.Part, max(i.Staff, 1)}
		c.set[key] = append(c.set[key], clefAt{p.Score.Measures[i.Measure].Start.Add(i.Onset), middle, known})
	}
	for _, set := range c.set {
		slices.SortStableFunc(set, func(a, b clefAt) int { return a.at.Cmp(b.at) })
	}
	return c
}

// Middle gives the place of the middle line of a staff at a moment; false where no clef is in force that is known.
func (c *Clefs) Middle(part, staff int, at score.Fraction) (middle int, known bool) {
	for _, x := range c.set[staffOf{part, staff}] {
		if at.Less(x.at) {
			break
		}
		middle, known = x.middle, x.known
	}
	return middle, known
}
