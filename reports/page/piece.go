package page

import (
	"bytes"
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/state"
)

// How sure a finger is, in the words of an editor's page.
const (
	firmWord     = "firm"
	fairWord     = "fair"
	doubtfulWord = "doubtful"
)

// sure says how sure the engine is of a finger; "" where it is given.
func sure(n *state.Note) string {
	switch {
	case n.Confidence == nil || n.Tied:
		return ""
	case *n.Confidence >= 80:
		return firmWord
	case *n.Confidence >= 55:
		return fairWord
	}
	return doubtfulWord
}

// piecePage is what the template of a piece shows.
type piecePage struct {
	*state.Result
	Title    string
	Policy   string
	Strips   []strip
	Measures []measure
	Sure     map[string]int
	Figures  []figure // what returns, by first passage
	Tally    string
}

type strip struct {
	Hand    string
	Picture template.HTML
	Shares  state.Effort
	Widest  string
}

// measure is one measure with its notes by hand.
type measure struct {
	Index    int
	Number   string
	Lines    []line
	Findings []state.Finding
	Doubts   []doubt
}

type line struct {
	Hand  string
	Marks []mark
}

// mark is a note with its finger, or a chord with its fingers, highest first.
type mark struct {
	Onset string
	Keys  []key
}

type key struct {
	Pitch, Finger, Class, Said string
}

type doubt struct {
	Place, Pitch string
	Finger       int
	Others       []string
}

// Piece writes the page of a piece under the policy of that title.
func Piece(r *state.Result, policy string) ([]byte, error) {
	p := piecePage{Result: r, Title: r.Summary.Title, Policy: policy, Sure: map[string]int{}}
	if p.Title == "" {
		p.Title = r.Piece
	}
	for _, h := range r.Summary.Hands {
		s := strip{Hand: handName(h.Hand), Picture: effortStrip(h, measureNumbers(r)), Shares: h.Effort}
		if h.Part != "" {
			s.Hand += " (" + h.Part + ")"
		}
		if h.Widest != nil {
			s.Widest = fmt.Sprintf("widest grip %d mm, taken by %s", (h.Widest.Span+50)/100, people(h.Widest.Reach))
		}
		p.Strips = append(p.Strips, s)
	}
	p.Measures = measures(r, p.Sure)
	p.Figures, p.Tally = figures(r), returnsTally(r)
	var b bytes.Buffer
	if err := templates.ExecuteTemplate(&b, "piece.html", p); err != nil {
		return nil, fmt.Errorf("writing the page of %s: %w", r.Piece, err)
	}
	return b.Bytes(), nil
}

// people says a share of adult pianists (FACTS §2: a normal curve through
// published means) no more exactly than it is known.
func people(share state.Percent) string {
	switch {
	case share >= 98:
		return "nearly all adult pianists"
	case share <= 2:
		return "hardly any adult pianist"
	}
	return fmt.Sprintf("about %d of 100 adult pianists", (share+2)/5*5)
}

func handName(h score.Hand) string {
	if h == score.Left {
		return "left hand"
	}
	return "right hand"
}

func measureNumbers(r *state.Result) []string {
	out := make([]string, r.Summary.Measures)
	for i := range r.Notes {
		out[r.Notes[i].MeasureIndex] = r.Notes[i].Measure
	}
	return out
}

// measures gathers notes, findings and doubts by measure. Measures without
// any of them are left out.
func measures(r *state.Result, tally map[string]int) []measure {
	all := make([]measure, r.Summary.Measures)
	var order []int
	for i := range r.Notes {
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		m, n := &r.Notes[a], &r.Notes[b]
		return cmp.Or(cmp.Compare(m.MeasureIndex, n.MeasureIndex), cmp.Compare(m.Part, n.Part), cmp.Compare(m.Hand, n.Hand),
			m.Onset.Cmp(n.Onset), cmp.Compare(graceLast(m.Grace), graceLast(n.Grace)), -cmp.Compare(m.Midi, n.Midi))
	})
	for _, i := range order {
		n := &r.Notes[i]
		m := &all[n.MeasureIndex]
		m.Index, m.Number = n.MeasureIndex, n.Measure
		if word := sure(n); word != "" {
			tally[word]++
			if word == doubtfulWord {
				m.Doubts = append(m.Doubts, doubtOf(n))
			}
		}
		name := strings.TrimSpace(handName(n.Hand) + " " + n.Part)
		if k := len(m.Lines); k == 0 || m.Lines[k-1].Hand != name {
			m.Lines = append(m.Lines, line{Hand: name})
		}
		l := &m.Lines[len(m.Lines)-1]
		onset := fmt.Sprint(n.Onset, " ", n.Grace)
		if k := len(l.Marks); k == 0 || l.Marks[k-1].Onset != onset {
			l.Marks = append(l.Marks, mark{Onset: onset})
		}
		k := &l.Marks[len(l.Marks)-1]
		k.Keys = append(k.Keys, keyOf(n))
	}
	for _, f := range r.Findings {
		m := &all[f.MeasureIndex]
		m.Index, m.Number = f.MeasureIndex, f.Measure
		m.Findings = append(m.Findings, f)
	}
	return slices.DeleteFunc(all, func(m measure) bool { return len(m.Lines) == 0 && len(m.Findings) == 0 })
}

func graceLast(grace int) int {
	if grace == 0 {
		return 1 << 20
	}
	return grace
}

func keyOf(n *state.Note) key {
	k := key{Pitch: n.Pitch, Finger: fmt.Sprint(n.Finger)}
	if n.Finger == 0 {
		k.Finger = "–"
	}
	for _, f := range n.Substitution {
		k.Finger += fmt.Sprintf("-%d", f)
	}
	var classes, said []string
	switch {
	case n.Tied:
		classes, said = append(classes, "held"), append(said, "held")
	case n.Responsibility == score.Unattributed:
		classes, said = append(classes, "open"), append(said, "suggested")
	default:
		classes, said = append(classes, "given"), append(said, n.Responsibility.String()+"'s digit")
	}
	if word := sure(n); word != "" {
		classes, said = append(classes, word), append(said, word)
	}
	if n.OutOfReach != "" {
		classes, said = append(classes, "beyond"), append(said, n.OutOfReach)
	}
	if n.Grace > 0 {
		classes = append(classes, "grace")
	}
	k.Class, k.Said = strings.Join(classes, " "), n.Pitch+", "+strings.Join(said, ", ")
	return k
}

func doubtOf(n *state.Note) doubt {
	d := doubt{Place: fmt.Sprintf("%s, %s quarters in", handName(n.Hand), n.Onset), Pitch: n.Pitch, Finger: n.Finger}
	for _, a := range n.Alternatives {
		if a.Finger != n.Finger {
			d.Others = append(d.Others, fmt.Sprintf("%d costs more by %.2f", a.Finger, float64(a.Regret)/1000))
		}
	}
	return d
}
