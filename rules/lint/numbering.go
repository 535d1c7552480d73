package lint

import "fingerproof/corpus/score"

// Counting is how the digits of a witness stand to the text's on the notes on
// which both have one.
type Counting struct {
	Siglum string
	// By is +1 or -1 where every one of the witness's digits is that much more
	// than the text's, and there are enough of them: it will count in another way
	// than is declared. 0 where nothing is suspected.
	By    int
	Notes int // on which they differ by one
	First int // of them
}

// enough is on how many notes a witness has to differ by one, and on none otherwise.
const enough = 4

// Countings looks at how the witnesses count their fingers, in the order of the
// manifest: digits all one lower than the text's are what + 1 2 3 4 makes of 1
// to 5 (FACTS §5.2), one higher where it is the other way about. It is worked
// out once.
func (p *Inspection) Countings() []Counting {
	if p.countings != nil {
		return p.countings
	}
	at := map[string]int{}
	p.countings = make([]Counting, len(p.Witnesses))
	lower, higher, other := make([]int, len(p.Witnesses)), make([]int, len(p.Witnesses)), make([]bool, len(p.Witnesses))
	for i := range p.Witnesses {
		p.countings[i].Siglum = p.Witnesses[i].Siglum
		at[p.Witnesses[i].Siglum] = i
	}
	p.WitnessDigits(func(w *Witness, m, n int, _ string) {
		i := at[w.Siglum]
		theirs, ours := onlyFinger(&w.Score.Notes[m]), onlyFinger(&p.Score.Notes[n])
		if theirs == 0 || ours == 0 {
			return
		}
		if lower[i]+higher[i] == 0 {
			p.countings[i].First = n
		}
		switch theirs - ours {
		case -1:
			lower[i]++
		case 1:
			higher[i]++
		default:
			other[i] = true
		}
	})
	for i := range p.countings {
		c := &p.countings[i]
		c.Notes = lower[i] + higher[i]
		switch {
		case other[i] || c.Notes < enough || lower[i] > 0 && higher[i] > 0:
		case lower[i] > 0:
			c.By = -1
		default:
			c.By = 1
		}
	}
	return p.countings
}

// onlyFinger is the finger of a note with one digit, 0 for any other note.
func onlyFinger(n *score.Note) int {
	finger := 0
	for k := range n.Indications {
		ind := &n.Indications[k]
		switch {
		case ind.Alternate || ind.Hidden:
		case finger > 0 || len(ind.Fingers) != 1:
			return 0
		default:
			finger = ind.Fingers[0]
		}
	}
	return finger
}
