// Package commentary writes the editorial commentary of a collection for the
// back matter, in Markdown and in HTML: what the looks of the digits mean,
// and piece by piece the redistributions, the composer's digits and where the
// fingering differs from them, the readings of the witnesses, returns that are
// declared different, queries, and statistics.
package commentary

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
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
	Hand   string // "ninth (210 mm)"
	Press  bool   // what is open is not printed
	Rows   []policies.LegendRow
	Agents []string // "kp: the name behind it"
	// Witnesses says what the policy does with their digits; empty where no piece has any.
	Witnesses string
	sum       string
}

// Piece is the commentary on one piece.
type Piece struct {
	Title     string
	Policy    string // named where the collection has several
	Error     string
	Sources   []string // the witnesses, in words
	Sections  []Section
	Statistic Statistics
}

// Section is a list of remarks under a heading.
type Section struct {
	Heading string
	Opening string // a sentence on the whole, may be empty
	Remarks []string
}

// Statistics count what a piece, or the collection, prints. Notes are those
// that are struck; the others are digits in print, by whose they are, and notes
// on which the fingering is not the composer's.
type Statistics struct {
	Notes, Printed, Composer, Earlier, Editor, Open, Differ int
}

// New begins the commentary of a collection.
func New(c *corpus.Collection) *Commentary {
	out := &Commentary{Title: c.Title, Composer: c.Composer, Publisher: c.Publisher, Invented: c.Invented}
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

// Beats names a place in a measure as a musician would count it: "3", "2, third eighth".
type Beats func(measure int, onset score.Fraction) string

// Add takes in a piece, in the collection's order. Without beats (nil) places
// are named by measure, hand and note alone.
func (c *Commentary) Add(p *corpus.Piece, r *state.Result, policy *policies.Policy, beats Beats) {
	out := Piece{Title: r.Summary.Title}
	if out.Title == "" {
		out.Title = r.Piece
	}
	out.Policy = c.explain(policy, r, len(p.Witnesses) > 0)
	for _, w := range p.Witnesses {
		out.Sources = append(out.Sources, witnessInWords(w, r.Witnesses))
	}
	remarks := pieceRemarks{
		result: r, policy: policy, beats: beats, byN: map[int]*state.Note{}, players: map[string]int{},
	}
	for i := range r.Notes {
		remarks.byN[r.Notes[i].N] = &r.Notes[i]
		if part := r.Notes[i].Part; remarks.players[part] == 0 {
			remarks.players[part] = len(remarks.players) + 1
		}
		out.Statistic.count(&r.Notes[i])
	}
	opening, differ := remarks.composers()
	for _, s := range []Section{
		{Heading: "Redistributions", Remarks: remarks.redistributions()},
		{Heading: "The composer's digits, and where ours differ", Opening: opening, Remarks: differ},
		{Heading: "Set beside the composer's digits", Remarks: remarks.beside()},
		{Heading: "Readings of the witnesses", Remarks: remarks.readings()},
		{Heading: "Returns fingered differently on purpose", Remarks: remarks.returns()},
		{Heading: "Queries", Remarks: remarks.queries()},
	} {
		if s.Opening != "" || len(s.Remarks) > 0 {
			out.Sections = append(out.Sections, s)
		}
	}
	if r.Summary.Unattributed {
		out.callOfTheSource()
	}
	c.Total.add(out.Statistic)
	c.Pieces = append(c.Pieces, out)
}

// ofTheSource words what is said of the composer's digits where nothing tells whose they are.
var ofTheSource = strings.NewReplacer(
	"The composer's digits", "The digits of the source", "the composer's digits", "the digits of the source",
	"the composer's", "the source's", "The composer's", "The source's",
)

// callOfTheSource calls the digits in the text of a piece those of the source, and says so once.
func (p *Piece) callOfTheSource() {
	p.Sources = append(p.Sources, "nothing says whose the digits in the text are: they are called of the source, and "+
		"look and count as the composer's")
	for i := range p.Sections {
		s := &p.Sections[i]
		s.Heading, s.Opening = ofTheSource.Replace(s.Heading), ofTheSource.Replace(s.Opening)
		if strings.Contains(s.Heading, "witnesses") {
			continue // those have digits of the composer's
		}
		for k := range s.Remarks {
			s.Remarks[k] = ofTheSource.Replace(s.Remarks[k])
		}
	}
}

// explain takes in the legend of a policy once and gives the name it goes by.
func (c *Commentary) explain(policy *policies.Policy, r *state.Result, witnesses bool) string {
	at := slices.IndexFunc(c.Legends, func(l Legend) bool {
		return l.sum == policy.Sum() && l.Hand == r.Summary.Hand && l.Press == r.Summary.Press
	})
	if at < 0 {
		name := policy.Title()
		if slices.ContainsFunc(c.Legends, func(l Legend) bool { return l.Policy == name }) {
			name += fmt.Sprintf(", %d", len(c.Legends)+1)
			if policy.File != "" {
				name = policy.Title() + ", " + filepath.Base(policy.File)
			}
		}
		l := Legend{
			Policy: name, Hand: r.Summary.Hand, Press: r.Summary.Press, Rows: policy.Legend(), sum: policy.Sum(),
		}
		for _, who := range policy.Agents() {
			l.Agents = append(l.Agents, who+": "+policy.Agent(who))
		}
		at, c.Legends = len(c.Legends), append(c.Legends, l)
	}
	if witnesses {
		c.Legends[at].Witnesses = policyOnWitnesses(policy)
	}
	return c.Legends[at].Policy
}

// policyOnWitnesses says what becomes of digits that stand in witnesses alone.
func policyOnWitnesses(policy *policies.Policy) string {
	binds := map[string]string{
		"none":     "Where the text has no digit, none of a witness binds the fingering",
		"agreeing": "Where the text has no digit, one in which two witnesses agree binds the fingering",
		"composer": "Where the text has no digit, the composer's in a witness bind the fingering",
		"all":      "Where the text has no digit, those of the witnesses bind the fingering",
	}[policy.WitnessConstrains()]
	prints := map[string]string{
		"none": "none of them is printed", "composer": "the composer's among them are printed",
		"all": "they are printed",
	}[policy.WitnessPrints()]
	return binds + "; " + prints + "."
}

func witnessInWords(w corpus.Witness, counts []state.Witness) string {
	numbering := "fingers numbered 1 to 5"
	if w.Numbering == corpus.Old {
		numbering = "fingers numbered + 1 2 3 4, + the thumb; given here as 1 to 5"
	}
	whose := "its digits taken as the composer's"
	if w.Responsibility == "earlier" {
		whose = "its digits taken as an earlier hand's"
	}
	out := fmt.Sprintf("%s: %s, %s", w.Siglum, numbering, whose)
	for _, c := range counts {
		if c.Siglum != w.Siglum {
			continue
		}
		out += fmt.Sprintf("; %s at notes of the text", many(c.Digits, "digit"))
		if c.Unplaced > 0 {
			out += fmt.Sprintf(", %d on notes that the text does not have", c.Unplaced)
		}
		if c.Odd > 0 {
			out += fmt.Sprintf("; %d of all are no fingers in its numbering", c.Odd)
		}
	}
	return out
}

func (s *Statistics) count(n *state.Note) {
	if !n.Tied {
		s.Notes++
	}
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
	if f := composersFinger(n); differs(n, f) {
		s.Differ++
	}
}

func (s *Statistics) add(o Statistics) {
	s.Notes, s.Printed, s.Differ = s.Notes+o.Notes, s.Printed+o.Printed, s.Differ+o.Differ
	s.Composer, s.Earlier = s.Composer+o.Composer, s.Earlier+o.Earlier
	s.Editor, s.Open = s.Editor+o.Editor, s.Open+o.Open
}

// String is the count in a sentence.
func (s Statistics) String() string {
	share := 0
	if s.Notes > 0 {
		share = (100*s.Printed + s.Notes/2) / s.Notes
	}
	return fmt.Sprintf(
		"%s struck, %s in print (%d in 100): %d the composer's, %d of earlier hands, %d the editor's, %d open. The "+
			"fingering differs from the composer's digits on %s.",
		many(s.Notes, "note"), many(s.Printed, "digit"), share, s.Composer, s.Earlier, s.Editor, s.Open,
		many(s.Differ, "note"),
	)
}

// many counts in words: "1 note", "2 notes", "no notes".
func many(n int, what string) string {
	if n == 0 {
		return "no " + what + "s"
	}
	return wording.Count(n, what)
}

// differs reports whether the fingering is another than the composer's digit.
func differs(n *state.Note, composers int) bool {
	return composers > 0 && n.Finger > 0 && composers != n.Finger && !n.Tied
}

// composersFinger is the finger of the composer's digit at a note, of the text
// before one of a witness; 0 for none.
func composersFinger(n *state.Note) int {
	for _, only := range []bool{false, true} {
		for _, s := range n.Source {
			if s.Responsibility == score.Composer && !s.Alternate && !s.Substitution && s.WitnessOnly == only {
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
