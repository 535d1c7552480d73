package hands

import (
	"cmp"
	"fmt"
	"io"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hands"
)

// wrongAround is how many moments are drawn before and after one with a wrong hand.
const wrongAround = 3

// drawnMoment is what is struck at one moment, as drawn.
type drawnMoment struct {
	text  string
	wrong bool // some note has the wrong hand
}

// listWrongHands draws a piece moment by moment where notes get the wrong hand: the onset in quarters, then each key
// with its length and hand, with an exclamation mark where it was given the other.
func listWrongHands(out io.Writer, pieces []handPiece, name string) error {
	at := slices.IndexFunc(pieces, func(p handPiece) bool { return p.name == name })
	if at < 0 {
		return fmt.Errorf("no piece %q among those that use both hands and no other hand's staff", name)
	}
	moments := pieces[at].moments()
	shown := -1
	for k := range moments {
		around := moments[max(k-wrongAround, 0):min(k+wrongAround+1, len(moments))]
		if !slices.ContainsFunc(around, func(d drawnMoment) bool { return d.wrong }) {
			continue
		}
		if shown >= 0 && shown < k-1 {
			fmt.Fprintln(out)
		}
		shown = k
		fmt.Fprintln(out, moments[k].text)
	}
	return nil
}

// moments draws every moment of a piece.
func (p *handPiece) moments() (out []drawnMoment) {
	got := hands.Infer(p.blind())
	order := make([]int, len(p.notes))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		x, y := &p.notes[a], &p.notes[b]
		return cmp.Or(x.Onset.Compare(y.Onset), cmp.Compare(x.Rank, y.Rank), cmp.Compare(x.Key, y.Key), cmp.Compare(a, b))
	})
	for k, i := range order {
		n := &p.notes[i]
		if k == 0 || p.notes[order[k-1]].Onset.Compare(n.Onset) != 0 {
			out = append(out, drawnMoment{text: fmt.Sprintf("%8.3f", quarters(n.Onset))})
		}
		m := &out[len(out)-1]
		m.text += fmt.Sprintf("  %d/%.2f%s", n.Key, quarters(n.End)-quarters(n.Onset), letter(n.Hand))
		if n.Rank.IsGrace() {
			m.text += "g"
		}
		if got[i] != n.Hand {
			m.text, m.wrong = m.text+"!", true
		}
	}
	return out
}

func quarters(m fingering.Moment) float64 { return float64(m.Num) / float64(max(m.Den, 1)) }

func letter(h score.Hand) string {
	if h == score.Left {
		return "L"
	}
	return "R"
}
