// Package commentary writes the editorial commentary of a collection for the
// back matter, in Markdown and in HTML: what the looks of the digits mean,
// and piece by piece the redistributions, the composer's digits and where the
// fingering differs from them, the readings of the witnesses, what stands for
// a reason, returns that are declared different, queries, and statistics.
package commentary

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/printwords"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
	"fingerproof/rules/lint/decision-query"
)

// Commentary gathers the pieces of a collection.
type Commentary struct {
	Title, Composer, Publisher, Invented string
	Legends                              []Legend
	Pieces                               []Piece
	Total                                Statistics
	// Words are those of the language, which the first piece's house style says.
	Words *printwords.Words
	// FrontMatter and BackMatter are an editor's own texts, in Markdown: before the words on the fingering in the
	// preface, and before the remarks in the commentary.
	FrontMatter, BackMatter []string
	// Open says that some piece is not worked out for press: what is open is told and counted.
	Open bool
	// Left counts the notes whose digits nobody has decided and which therefore do not print, of pieces worked out for press.
	Left int
}

// Legend explains the looks under one policy.
type Legend struct {
	Policy string
	Hand   string // "ninth (210 mm)"
	Press  bool   // what is open is not printed
	Rows   []policies.LegendRow
	Agents []string // "kp: the name behind it"
	Signed []string // initials of editors whose digits print and whose names the house style does not say
	// Witnesses says what the policy does with their digits; empty where no piece has any.
	Witnesses string
	sum       string
	policy    *policies.Policy
	occurs    policies.Occurs
	pieces    []string // the titles of those that it holds for
}

// Piece is the commentary on one piece.
type Piece struct {
	Title      string
	Composer   string // as the score has it
	Policy     string // named where the collection has several
	Error      string
	Sources    []string // the witnesses, in words
	Sections   []Section
	Statistic  Statistics
	Unanswered int // findings that stand and that no editor answered
}

// Section is a list of remarks under a heading.
type Section struct {
	Heading string
	Opening string // a sentence on the whole, may be empty
	Remarks []string
}

// Statistics count what a piece, or the collection, prints. Notes are those
// that are struck; the others are notes with a digit in print, by whose it is, and notes
// on which the fingering is not the composer's, or not that of an earlier hand.
type Statistics struct {
	Notes, Printed, Composer, Earlier, Editor, Open, Differ, DifferEarlier int
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

// language takes the language of the first house style, English where there is none.
func (c *Commentary) language(policy *policies.Policy) {
	if policy != nil && c.Words == nil {
		c.Words = policy.Words()
	}
}

// Beats names a place in a measure as a musician would count it: "3", "2, third eighth".
type Beats func(measure int, onset score.Fraction) string

// Add takes in a piece, in the collection's order. Without beats (nil) places
// are named by measure, hand and note alone. What its legend has to explain is found in the results.
func (c *Commentary) Add(p *corpus.Piece, r *state.Result, policy *policies.Policy, beats Beats) {
	c.AddMarked(p, r, policy, beats, nil)
}

// AddMarked is Add for a piece that was marked; occurs is what stands in its edition, nil for what the results say.
func (c *Commentary) AddMarked(
	p *corpus.Piece, r *state.Result, policy *policies.Policy, beats Beats, occurs *policies.Occurs,
) {
	c.language(policy)
	c.Open = c.Open || !r.Summary.Press
	if occurs == nil {
		o := occursIn(r, policy)
		occurs = &o
	}
	w := c.Words
	out := Piece{Title: r.Summary.Title, Composer: r.Summary.Composer}
	if out.Title == "" {
		out.Title = r.Piece
	}
	out.Policy = c.explain(policy, r, out.Title, len(p.Witnesses) > 0, *occurs)
	for _, from := range p.Witnesses {
		out.Sources = append(out.Sources, witnessInWords(c.Words, from, r.Witnesses))
	}
	remarks := pieceRemarks{
		Words: w, source: r.Summary.Unattributed, result: r, policy: policy, beats: beats, byN: map[int]*state.Note{}, players: map[string]int{},
		keys: keysOf(r.Notes),
	}
	for i := range r.Notes {
		remarks.byN[r.Notes[i].N] = &r.Notes[i]
		if part := r.Notes[i].Part; remarks.players[part] == 0 {
			remarks.players[part] = len(remarks.players) + 1
		}
		out.Statistic.count(&r.Notes[i], remarks.keys)
		if n := &r.Notes[i]; n.Printed && n.Responsibility == score.Editor && n.Agent != "" {
			c.signed(policy, r, n.Agent)
		}
	}
	if r.Summary.Press {
		for i := range r.Open {
			c.Left += len(r.Open[i].Notes)
		}
	}
	opening, differ := remarks.composers()
	for _, s := range []Section{
		{Heading: w.Say("section.redistributions"), Remarks: remarks.redistributions()},
		{Heading: w.Say("section.rolls"), Remarks: remarks.rolls()},
		{Heading: remarks.say("section.composer"), Opening: opening, Remarks: differ},
		{Heading: w.Say("section.earlier"), Remarks: remarks.earlier()},
		{Heading: remarks.say("section.beside"), Remarks: remarks.beside()},
		{Heading: w.Say("section.seconds"), Remarks: remarks.seconds()},
		{Heading: w.Say("section.reasons"), Remarks: remarks.reasons()},
		remarks.sectionOfStets(),
		{Heading: w.Say("section.readings"), Remarks: remarks.readings()},
		{Heading: w.Say("section.returns"), Remarks: remarks.returns()},
		{Heading: w.Say("section.queries"), Remarks: remarks.queries()},
	} {
		if s.Opening != "" || len(s.Remarks) > 0 {
			out.Sections = append(out.Sections, s)
		}
	}
	for i := range r.Findings {
		if r.Findings[i].Rule != decisionquery.Rule.Name {
			out.Unanswered++
		}
	}
	if r.Summary.Unattributed {
		out.Sources = append(out.Sources, w.Say("unattributed"))
	}
	c.Total.add(out.Statistic)
	c.Pieces = append(c.Pieces, out)
}

// explain takes in the legend of a policy once and gives the name it goes by.
func (c *Commentary) explain(
	policy *policies.Policy, r *state.Result, title string, witnesses bool, occurs policies.Occurs,
) string {
	at := slices.IndexFunc(c.Legends, func(l Legend) bool {
		return l.sum == policy.Sum() && l.Hand == r.Summary.Hand && l.Press == r.Summary.Press
	})
	if at < 0 {
		name := policy.Title()
		taken := func(l Legend) bool { return l.Policy == name }
		if at := slices.IndexFunc(c.Legends, taken); at >= 0 && c.Legends[at].Hand != r.Summary.Hand && r.Summary.Hand != "" {
			name += ", " + handIn(c.words(), r.Summary.Hand) // the name of a file says nothing to readers
		}
		if slices.ContainsFunc(c.Legends, taken) {
			name += fmt.Sprintf(", %d", len(c.Legends)+1)
		}
		l := Legend{
			Policy: name, Hand: r.Summary.Hand, Press: r.Summary.Press, sum: policy.Sum(), policy: policy,
		}
		for _, who := range policy.Agents() {
			l.Agents = append(l.Agents, who+": "+policy.Agent(who))
		}
		at, c.Legends = len(c.Legends), append(c.Legends, l)
	}
	l := &c.Legends[at]
	l.occurs.Add(occurs)
	l.pieces = append(l.pieces, title)
	l.Rows = policy.LegendOf(c.Words, l.occurs)
	if witnesses {
		l.Witnesses = policyOnWitnesses(c.Words, policy)
	}
	return c.Legends[at].Policy
}

// signed takes in that a digit of an editor prints; the house style may not say who the initials are.
func (c *Commentary) signed(policy *policies.Policy, r *state.Result, initials string) {
	if slices.Contains(policy.Agents(), initials) {
		return
	}
	for k := range c.Legends {
		l := &c.Legends[k]
		if l.sum == policy.Sum() && l.Hand == r.Summary.Hand && l.Press == r.Summary.Press && !slices.Contains(l.Signed, initials) {
			l.Signed = append(l.Signed, initials)
			slices.Sort(l.Signed)
		}
	}
}

// policyOnWitnesses says what becomes of digits that stand in witnesses alone.
func policyOnWitnesses(w *printwords.Words, policy *policies.Policy) string {
	return w.Say("binds."+policy.WitnessConstrains()) + w.Say("semicolon") + w.Say("prints."+policy.WitnessPrints()) + "."
}

func witnessInWords(words *printwords.Words, w corpus.Witness, counts []state.Witness) string {
	numbering, whose := "numbering.new", "taken.composer"
	if w.Numbering == corpus.Old {
		numbering = "numbering.old"
	}
	if w.Responsibility == "earlier" {
		whose = "taken.earlier"
	}
	named := w.Siglum
	if w.Name != "" {
		named += " (" + w.Name + ")"
	}
	out := words.Say("witness", named, words.Say(numbering), words.Say(whose))
	for _, c := range counts {
		if c.Siglum != w.Siglum {
			continue
		}
		out += words.Say("witness.digits", words.Say("digits", c.Digits))
		if c.Unplaced > 0 {
			out += words.Say("witness.unplaced", c.Unplaced)
		}
		if c.Odd > 0 {
			out += words.Say("witness.odd", c.Odd)
		}
	}
	return out
}

func (s *Statistics) count(n *state.Note, struck keys) {
	if !n.Tied {
		s.Notes++
	}
	if n.Printed || n.Second > 0 {
		s.Printed++
		// Digits that stand in the text are printed, whoever's is set beside them.
		composer, earlier := standsThere(n, score.Composer), standsThere(n, score.Earlier)
		editor, open := n.Second > 0, false
		if n.Printed {
			switch n.Responsibility {
			case score.Composer:
				composer = true
			case score.Earlier:
				earlier = true
			case score.Editor:
				editor = true
			default:
				open = true
			}
		}
		for _, k := range []struct {
			is bool
			n  *int
		}{{composer, &s.Composer}, {earlier, &s.Earlier}, {editor, &s.Editor}, {open, &s.Open}} {
			if k.is {
				*k.n++
			}
		}
	}
	if struck.differ(n, composersFinger) {
		s.Differ++
	}
	if struck.differ(n, earlierFinger) {
		s.DifferEarlier++
	}
}

// standsThere says that a digit of somebody's stands at a note in the text.
func standsThere(n *state.Note, whose score.Responsibility) bool {
	return slices.ContainsFunc(n.Source, func(s state.Source) bool { return s.Responsibility == whose && !s.WitnessOnly })
}

func (s *Statistics) add(o Statistics) {
	s.Notes, s.Printed, s.Differ = s.Notes+o.Notes, s.Printed+o.Printed, s.Differ+o.Differ
	s.Composer, s.Earlier = s.Composer+o.Composer, s.Earlier+o.Earlier
	s.Editor, s.Open = s.Editor+o.Editor, s.Open+o.Open
	s.DifferEarlier += o.DifferEarlier
}

// In is the count in a sentence; what is open is counted where it is asked for.
func (s Statistics) In(w *printwords.Words, open bool) string {
	share := 0
	if s.Notes > 0 {
		share = (100*s.Printed + s.Notes/2) / s.Notes
	}
	whose := []string{
		w.Say("count.composer", s.Composer), w.Say("count.earlier", s.Earlier), w.Say("count.editor", s.Editor),
	}
	if open {
		whose = append(whose, w.Say("count.open", s.Open))
	}
	said := w.Say("counted", w.Say("notes", s.Notes), w.Say("notes", s.Printed), share, strings.Join(whose, ", "),
		w.Say("on.notes", s.Differ))
	if s.DifferEarlier > 0 {
		said += w.Say("counted.earlier", w.Say("on.notes", s.DifferEarlier))
	}
	return said
}

// composersFinger is the finger of the composer's digit at a note, of the text
// before one of a witness; 0 for none.
func composersFinger(n *state.Note) int {
	if n.Piled != "" && n.Responsibility == score.Composer {
		return n.Finger // one of several digits at one note of a chord, which are those of all its notes
	}
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
