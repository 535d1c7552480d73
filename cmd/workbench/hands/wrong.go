package hands

import (
	"cmp"
	"fmt"
	"io"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/hands"
)

// wrongAround is how many moments are drawn before and after one that is told wrong.
const wrongAround = 3

// listWrongHands draws a piece moment by moment where hands are told wrong: the onset in quarters, then each key with its
// length and hand, and the hand it was given where that is another.
func listWrongHands(out io.Writer, dir, name string) error {
	pieces, err := readHands(dir)
	if err != nil {
		return err
	}
	at := slices.IndexFunc(pieces, func(p handPiece) bool { return p.name == name })
	if at < 0 {
		return fmt.Errorf("no piece %q among those that use both hands and no other hand's staff", name)
	}
	p := &pieces[at]
	got := hands.Infer(p.blind())
	order := make([]int, len(p.notes))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		x, y := &p.notes[a], &p.notes[b]
		return cmp.Or(x.Onset.Compare(y.Onset), cmp.Compare(x.Rank, y.Rank), cmp.Compare(x.Key, y.Key), cmp.Compare(a, b))
	})
	type drawn struct {
		text  string
		wrong bool
	}
	var moments []drawn
	for k, i := range order {
		n := &p.notes[i]
		if k == 0 || p.notes[order[k-1]].Onset.Compare(n.Onset) != 0 {
			moments = append(moments, drawn{text: fmt.Sprintf("%8.3f", float64(n.Onset.Num)/float64(max(n.Onset.Den, 1)))})
		}
		m := &moments[len(moments)-1]
		long := float64(n.End.Num)/float64(max(n.End.Den, 1)) - float64(n.Onset.Num)/float64(max(n.Onset.Den, 1))
		m.text += fmt.Sprintf("  %d/%.2f%s", n.Key, long, letter(n.Hand))
		if n.Rank.IsGrace() {
			m.text += "g"
		}
		if got[i] != n.Hand {
			m.text, m.wrong = m.text+"!", true
		}
	}
	shown := -1
	for k := range moments {
		near := slices.ContainsFunc(moments[max(k-wrongAround, 0):min(k+wrongAround+1, len(moments))], func(d drawn) bool { return d.wrong })
		if !near {
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

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

func letter(h score.Hand) string {
	if h == score.Left {
		return "L"
	}
	return "R"
}
