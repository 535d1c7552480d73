// Package commentary writes the editorial commentary of a collection for the
// back matter, in Markdown and in HTML: what the looks of the digits mean,
// and piece by piece the redistributions, the composer's digits and where the
// fingering differs from them, the readings of the witnesses, returns that are
// declared different, queries, and statistics.
package commentary

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/state"
	"fingerproof/policies"
	"fingerproof/rules/lint/decisions"
)

// Commentary gathers the pieces of a collection.
type Commentary struct {
	Title, Composer, Publisher, Invented string
	Legends                              []Legend
	Pieces                               []Piece
	Total                                Statistics
}

// Legend explains the looks under one policy.
type Legend struct {
	Policy string
	Rows   []policies.LegendRow
	Agents []string // "kp: the name behind it"
}

// Piece is the commentary on one piece.
type Piece struct {
	Title     string
	Policy    string
	Error     string
	Sources   []string // the witnesses, in words
	Sections  []Section
	Statistic Statistics
}

// Section is a list of remarks under a heading.
type Section struct {
	Heading string
	Remarks []string
}

// Statistics count what a piece, or the collection, prints.
type Statistics struct {
	Notes, Printed, Composer, Earlier, Editor, Open, Differ int
}

// New begins the commentary of a collection.
func New(c *corpus.Collection) *Commentary {
	out := &Commentary{Title: c.Title, Composer: c.Composer, Publisher: c.Publisher, Invented: c.Invented}
	if out.Title == "" {
		out.Title = "Editorial commentary"
	}
	return out
}

// Fail takes in a piece that could not be worked on.
func (c *Commentary) Fail(p *corpus.Piece, err error) {
	title := p.Title
	if title == "" {
		title = p.ID
	}
	line, _, _ := strings.Cut(err.Error(), "\n")
	c.Pieces = append(c.Pieces, Piece{Title: title, Error: line})
}

// Add takes in a piece, in the collection's order.
func (c *Commentary) Add(p *corpus.Piece, r *state.Result, policy *policies.Policy) {
	out := Piece{Title: r.Summary.Title, Policy: policy.Title()}
	if out.Title == "" {
		out.Title = r.Piece
	}
	if !slices.ContainsFunc(c.Legends, func(l Legend) bool { return l.Policy == policy.Title() }) {
		l := Legend{Policy: policy.Title(), Rows: policy.Legend()}
		for _, who := range policy.Agents() {
			l.Agents = append(l.Agents, who+": "+policy.Agent(who))
		}
		c.Legends = append(c.Legends, l)
	}
	for _, w := range p.Witnesses {
		out.Sources = append(out.Sources, witnessInWords(w))
	}
	t := teller{r: r, policy: policy, byN: map[int]*state.Note{}}
	for i := range r.Notes {
		t.byN[r.Notes[i].N] = &r.Notes[i]
		out.Statistic.count(&r.Notes[i])
	}
	for _, s := range []Section{
		{"Redistributions", t.redistributions()},
		{"The composer's digits, and where ours differ", t.composers()},
		{"Readings of the witnesses", t.readings()},
		{"Returns fingered differently on purpose", t.returns()},
		{"Queries", t.queries()},
	} {
		if len(s.Remarks) > 0 {
			out.Sections = append(out.Sections, s)
		}
	}
	c.Total.add(out.Statistic)
	c.Pieces = append(c.Pieces, out)
}

func witnessInWords(w corpus.Witness) string {
	numbering := "fingers numbered 1 to 5"
	if w.Numbering == corpus.Old {
		numbering = "fingers numbered + 1 2 3 4, + the thumb; told here as 1 to 5"
	}
	whose := "its digits taken as the composer's"
	if w.Responsibility == "earlier" {
		whose = "its digits taken as an earlier hand's"
	}
	return fmt.Sprintf("%s: %s, %s", w.Siglum, numbering, whose)
}

func (s *Statistics) count(n *state.Note) {
	s.Notes++
	if n.Printed {
		s.Printed++
		switch n.Responsibility {
		case score.Composer:
			s.Composer++
		case score.Earlier:
			s.Earlier++
		case score.Editor:
			s.Editor++
		default:
			s.Open++
		}
	}
	if f := composersFinger(n); f > 0 && n.Finger > 0 && f != n.Finger {
		s.Differ++
	}
}

func (s *Statistics) add(o Statistics) {
	s.Notes, s.Printed, s.Differ = s.Notes+o.Notes, s.Printed+o.Printed, s.Differ+o.Differ
	s.Composer, s.Earlier, s.Editor, s.Open = s.Composer+o.Composer, s.Earlier+o.Earlier, s.Editor+o.Editor, s.Open+o.Open
}

// String is the count in a sentence.
func (s Statistics) String() string {
	share := 0
	if s.Notes > 0 {
		share = (100*s.Printed + s.Notes/2) / s.Notes
	}
	return fmt.Sprintf("%d notes, %d of them with a digit in print (%d %%): %d the composer's, %d of earlier hands, %d the editor's, %d open. The fingering differs from the composer's digits on %d notes.",
		s.Notes, s.Printed, share, s.Composer, s.Earlier, s.Editor, s.Open, s.Differ)
}

// composersFinger is the finger of the composer's digit at a note, of the text
// before one of a witness; 0 for none.
func composersFinger(n *state.Note) int {
	for _, only := range []bool{false, true} {
		for _, s := range n.Source {
			if s.Responsibility == score.Composer && !s.Alternate && s.WitnessOnly == only {
				if f := fingersOf(s); len(f) > 0 {
					return f[0]
				}
			}
		}
	}
	return 0
}

// fingersOf gives the fingers of a source: its text where that is one digit.
func fingersOf(s state.Source) []int {
	if len(s.Fingers) > 0 {
		return s.Fingers
	}
	if len(s.Text) == 1 && s.Text[0] >= '1' && s.Text[0] <= '5' {
		return []int{int(s.Text[0] - '0')}
	}
	return nil
}

// queryRule is the rule under which decisions ask the volume editor.
const queryRule = decisions.QueryName
