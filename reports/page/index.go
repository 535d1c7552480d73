package page

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
)

// Index gathers the pieces of a collection.
type Index struct {
	Title, Composer, Publisher, Invented string
	Rows                                 []row
	Notes, Printed, Given, OutOfReach    int
	Judge, Settled                       int    // passages to judge, notes decided
	Hand                                 string // for which all pieces are fingered, "" where they differ
	Unsaid                               int    // findings without a word, in pieces that stand as they were passed
	Carried                              int    // notes that follow from digits of the text, where their passage returns
	Passed                               int    // pieces that stand as they were passed for press, as this run found
	PassedOtherwise                      int    // of those, that would come out otherwise now
	PassedEarlier, Unlike                int    // that stood so as an earlier run found; that were passed and could not be compared
	InFiles                              map[string]int
	OpenDigits                           int
	Severities                           state.Counts
	Coming                               state.Counts // found of suggested digits, as soon as they are taken
	AsText                               state.Counts // that would be found of them, did they stand in the text
	Print                                inPrint
	Failed                               int
	Earlier, Waiting                     int // pieces as an earlier run left them, and those that no run has worked on
	Overview                             template.HTML
	Lists                                []link

	Handovers, Returns, Concordance, Corrections []listRow // of the pages across the collection
}

type row struct {
	ID, File, Title, Score, Error string
	Earlier, Waiting              bool   // as an earlier run left it; no run has worked on it
	ChangedSince                  string // why what an earlier run left may not hold any more, "" where it would come out the same
	Personal, PersonalFile        string // how many personal choices there are, and their page
	Before                        string // the page of an earlier run, of a piece that could not be worked on
	Key                           string // of the browser's store
	Run                           string // what the browser keeps was asked by this run, or by an older one
	Marks                         string // of its passages, with spaces between
	Summary                       state.Summary
	Spark                         template.HTML
	Doubtful, Settled, Carried    int
	Passages                      []rowPassage // what its page asks, the worst first
	Stands                        bool         // as it was passed for press
	Unlike                        bool         // it was passed, and could not be compared with that
	Judge                         int          // passages that are open
	Unsaid, Unprinted             int          // of a piece that stands as passed: findings without a word, doubts that do not print
	Worst                         string       // the passage that most wants judging
	WorstNumber, WorstWeight      int
	Effort                        int64 // a hundred struck notes, in milli-nats
	Rules, Reasons, Whose         string
	By, InFiles, Passed           string // editors with their digits, with their decisions; the last pass
	Decisions, OpenDigits         int
	Coming                        state.Counts // found of suggested digits, as soon as they are taken
	AsText                        state.Counts // that would be found of them, did they stand in the text
	Print                         inPrint
}

// inPrint says of every note with a digit in print whose it is: each is one of these.
type inPrint struct{ Text, Decided, Carried, Open int }

func (p *inPrint) add(o inPrint) {
	p.Text, p.Decided, p.Carried, p.Open = p.Text+o.Text, p.Decided+o.Decided, p.Carried+o.Carried, p.Open+o.Open
}

// String says it in words; what there is none of is left out.
func (p inPrint) String() string {
	var parts []string
	for _, k := range []struct {
		n    int
		said string
	}{
		{p.Text, "%d in the text"}, {p.Decided, "%d decided"},
		{p.Carried, "%d following from digits that stand where the passage returns"}, {p.Open, "%d open"},
	} {
		if k.n > 0 {
			parts = append(parts, fmt.Sprintf(k.said, k.n))
		}
	}
	return strings.Join(parts, ", ")
}

// PrintWords says whose the digits in print are; "" where pieces were run by a program that did not keep it.
func (i *Index) PrintWords() string {
	if p := i.Print; p.Text+p.Decided+p.Carried+p.Open != i.Printed {
		return ""
	}
	return i.Print.String()
}

// printOf says whose the digits in print of a piece are.
func (m *Material) printOf() (out inPrint) {
	open := map[int]bool{}
	for _, n := range m.Open {
		open[n] = true
	}
	for i := range m.Result.Notes {
		switch n := &m.Result.Notes[i]; {
		case !n.Printed:
		case open[n.N]:
			out.Open++
		case standsInText(n): // whatever an editor set beside it
			out.Text++
		case n.Responsibility == score.Editor && n.Agent != "":
			out.Decided++
		case n.Responsibility == score.Editor:
			out.Carried++
		default:
			out.Text++
		}
	}
	return out
}

// standsInText says that the text itself has a digit at a note.
func standsInText(n *state.Note) bool {
	return slices.ContainsFunc(n.Source, func(s state.Source) bool { return !s.WitnessOnly })
}

// coming counts what lint finds of suggested digits as soon as they are taken.
func (m *Material) coming() state.Counts {
	return m.countThen(func(p *review.Passage) []review.FoundIfTaken { return p.IfTaken })
}

// asText counts what the page says that lint would find of suggested digits, did they stand in the text: once they are
// decided nothing is found of them.
func (m *Material) asText() state.Counts {
	return m.countThen(func(p *review.Passage) []review.FoundIfTaken { return p.InText })
}

// countThen counts what is told in the passages, each finding once.
func (m *Material) countThen(told func(*review.Passage) []review.FoundIfTaken) (out state.Counts) {
	met := map[string]bool{}
	for i := range m.Passages {
		all := told(&m.Passages[i])
		for k := range all {
			f := &all[k]
			if name := thenMark(f); !met[name] {
				met[name] = true
				out.Add(state.CountsOf([]state.Finding{{Severity: f.Severity}}))
			}
		}
	}
	return out
}

// rowPassage is what the index knows of a passage.
type rowPassage struct {
	Mark, Place    string
	Number, Weight int
	// In a piece that stands as it was passed nothing waits here: no digit of it prints that is open. Findings are those on which
	// nobody has said a word; none: digits that do not print are in doubt.
	Quiet    bool
	Findings int
}

// count counts what is open in a piece, and what nobody has said a word on though it was passed so.
func (r *row) count() {
	r.Judge, r.Unsaid, r.Unprinted, r.Worst, r.Marks = 0, 0, 0, "", ""
	var marks []string
	for i := range r.Passages {
		p := &r.Passages[i]
		switch {
		case !r.Stands || !p.Quiet:
			if r.Judge++; r.Judge == 1 {
				r.Worst, r.WorstNumber, r.WorstWeight = p.Place, p.Number, p.Weight
			}
			marks = append(marks, p.Mark)
		case p.Findings > 0:
			r.Unsaid += p.Findings
		default:
			r.Unprinted++
		}
	}
	r.Marks = strings.Join(marks, " ")
}

// Quiet says in words what stands in a piece that was passed so, and waits for nobody; "" for nothing.
func (r *row) Quiet() string {
	var parts []string
	if r.Unsaid > 0 {
		parts = append(parts, wording.Count(r.Unsaid, "finding")+" on which nobody has said a word")
	}
	if r.Unprinted > 0 {
		parts = append(parts, wording.Count(r.Unprinted, "passage")+" in doubt where no digit prints")
	}
	return strings.Join(parts, "; ")
}

// link leads to a page across the collection.
type link struct {
	File, Name string
	Count      int
}

// NewIndex begins the index of a collection.
func NewIndex(c *corpus.Collection) *Index {
	i := &Index{Title: c.Title, Composer: c.Composer, Publisher: c.Publisher, Invented: c.Invented}
	if i.Title == "" {
		i.Title = "Review"
	}
	return i
}

// Entry is what the index takes from a piece. It is plain data, to be kept.
type Entry struct{ Of Index }

// EntryOf gives what the index takes from a piece.
func EntryOf(m *Material) *Entry {
	e := &Entry{}
	e.Of.take(m)
	return e
}

// Add takes in a piece, in the collection's order. Nothing of its text is held.
func (i *Index) Add(e *Entry) {
	of := &e.Of
	source.Detach(of)
	i.Rows = append(i.Rows, of.Rows...)
	i.Notes, i.Printed, i.Given, i.OutOfReach = i.Notes+of.Notes, i.Printed+of.Printed, i.Given+of.Given,
		i.OutOfReach+of.OutOfReach
	i.Settled, i.OpenDigits = i.Settled+of.Settled, i.OpenDigits+of.OpenDigits
	i.Carried += of.Carried
	i.Coming.Add(of.Coming)
	i.AsText.Add(of.AsText)
	i.Print.add(of.Print)
	i.Earlier += of.Earlier
	if i.InFiles == nil {
		i.InFiles = map[string]int{}
	}
	for who, n := range of.InFiles {
		i.InFiles[who] += n
	}
	i.Failed += of.Failed
	i.Severities.Error += of.Severities.Error
	i.Severities.Warning += of.Severities.Warning
	i.Severities.Note += of.Severities.Note
	i.Handovers = append(i.Handovers, of.Handovers...)
	i.Returns = append(i.Returns, of.Returns...)
	i.Concordance = append(i.Concordance, of.Concordance...)
	i.Corrections = append(i.Corrections, of.Corrections...)
}

// take takes in a piece by all that its page shows.
func (i *Index) take(m *Material) {
	r := m.Result
	s := r.Summary
	w := row{
		ID: r.Piece, File: FileName(r.Piece), Title: cmp.Or(s.Title, r.Piece), Score: s.Score,
		Personal: m.Personal, PersonalFile: PersonalFile(r.Piece), Key: storeKey(m.Collection, r.Piece), Run: m.runKey(), Summary: s, Spark: spark(s.Hands),
	}
	var whose, rules, reasons []string
	doubt := inDoubt(m.Passages)
	for k := range r.Notes {
		n := &r.Notes[k]
		if confidenceWord(n, doubt) == doubtfulWord {
			w.Doubtful++
		}
		switch {
		case n.Responsibility.String() != "editor" || n.Tied:
		case n.Agent == "": // nobody's initials: it stands in the text
			w.Carried++
		default:
			w.Settled++
		}
		for _, source := range n.Source {
			whose = append(whose, source.Responsibility.String())
			whose = append(whose, source.Witnesses...)
		}
		if word := n.Responsibility.String(); word != "" {
			whose = append(whose, word)
		}
	}
	for _, f := range r.Findings {
		rules = append(rules, f.Rule)
	}
	for _, d := range r.Redistributions {
		reasons = append(reasons, d.Reason)
	}
	w.Whose, w.Rules, w.Reasons = sorted(whose), sorted(rules), sorted(reasons)
	for _, p := range review.WorstFirst(m.Passages) {
		if p.ReturnOf > 0 || m.toldOnly(&p) {
			continue
		}
		w.Passages = append(w.Passages, rowPassage{
			Mark: m.mark(&p), Place: strings.TrimSuffix(m.measureRange(p.First, p.Last)+", "+p.Whose(), ", "),
			Number: p.Number, Weight: p.Weight, Quiet: len(p.Open) == 0 && p.Redistribution < 0, Findings: len(p.Findings),
		})
	}
	w.Coming, w.AsText, w.Print = m.coming(), m.asText(), m.printOf()
	i.Coming.Add(w.Coming)
	i.AsText.Add(w.AsText)
	i.Print.add(w.Print)
	w.By, w.InFiles, w.Passed, w.OpenDigits = m.decidedBy(), inFiles(m.InFiles), m.passedWords(), len(m.Open)
	if i.InFiles == nil {
		i.InFiles = map[string]int{}
	}
	for who, n := range m.InFiles {
		w.Decisions += n
		i.InFiles[who] += n
	}
	w.Stands = m.Passed.When != "" && !m.Passed.Differs && !m.Passed.Unlike
	w.Unlike = m.Passed.When != "" && m.Passed.Unlike
	i.OpenDigits += w.OpenDigits
	for _, h := range s.Hands {
		for _, e := range h.Effort {
			w.Effort += e.MilliNats
		}
	}
	if s.Struck > 0 {
		w.Effort = w.Effort * 100 / int64(s.Struck)
	}
	i.Rows = append(i.Rows, w)
	i.Notes += s.Notes
	i.Printed += s.Printed
	i.Given += s.Given
	i.OutOfReach += s.OutOfReach
	i.Settled += w.Settled
	i.Carried += w.Carried
	i.Severities.Error += s.Severities.Error
	i.Severities.Warning += s.Severities.Warning
	i.Severities.Note += s.Severities.Note
	i.list(m, w.Title)
}

// Decisions says how many decisions the files hold, and whose, over all pieces.
func (i *Index) Decisions() string { return inFiles(i.InFiles) }

// PassedWords says how many pieces stand as they were passed: of those that were compared now, those that an earlier run
// compared, and those that nobody could compare.
func (i *Index) PassedWords() string {
	var parts []string
	if now := len(i.Rows) - i.Earlier - i.Waiting - i.Unlike; now > 0 || len(i.Rows) == 0 {
		stood := "none"
		if i.Passed > 0 {
			stood = fmt.Sprint(i.Passed)
		}
		as := "they were"
		if now == 1 {
			as = "it was"
		}
		parts = append(parts, fmt.Sprintf("%s of %s stood as %s passed for press when these pages were made, by a run or by pass",
			stood, wording.Count(now, "piece"), as))
	}
	if i.PassedEarlier > 0 {
		parts = append(parts, fmt.Sprintf("%d stood so when an earlier run compared, and were not compared now", i.PassedEarlier))
	}
	if i.PassedOtherwise > 0 {
		parts = append(parts, fmt.Sprintf("%d stood so when an earlier run compared, and may not any more: marked below", i.PassedOtherwise))
	}
	if i.Unlike > 0 {
		parts = append(parts, wording.Count(i.Unlike, "piece")+" passed and not compared: passed with or without --press, unlike the run, "+
			"or the text is lost")
	}
	if i.Unsaid > 0 {
		parts = append(parts, fmt.Sprintf("in them %s on which nobody has said a word", wording.Count(i.Unsaid, "finding")))
	}
	return strings.Join(parts, "; ")
}

func sorted(words []string) string {
	slices.Sort(words)
	return strings.Join(slices.Compact(words), " ")
}

// Coming counts what lint finds of suggested digits of a piece as soon as they are taken.
func (e *Entry) Coming() state.Counts { return e.Of.Coming }

// AsText counts what its page says that lint would find of them, did they stand in the text.
func (e *Entry) AsText() state.Counts { return e.Of.AsText }

// FailedEntry gives what the index takes from a piece that could not be worked on; before leads to its page of an earlier
// run, "" where there is none.
func FailedEntry(p *corpus.Piece, problem, before string) *Entry {
	failed := row{ID: p.ID, Title: cmp.Or(p.Title, p.ID), Score: p.Score, Error: problem, Before: before}
	return &Entry{Of: Index{Rows: []row{failed}, Failed: 1}}
}

// Problem is why the piece could not be worked on, "" where it could.
func (e *Entry) Problem() string {
	for i := range e.Of.Rows {
		if problem := e.Of.Rows[i].Error; problem != "" {
			return problem
		}
	}
	return ""
}

// AsEarlier marks a piece that a run was not asked for as an earlier one left it.
// changed is why it may not hold any more, "" where it would come out the same.
func (e *Entry) AsEarlier(changed string) {
	for k := range e.Of.Rows {
		e.Of.Rows[k].Earlier, e.Of.Rows[k].ChangedSince = true, changed
	}
	e.Of.Earlier = 1
}

// PassedBy says of a piece that it was passed for press as it stands: it was worked out anew, and nothing differs from what
// was passed, nor from what an earlier run left.
func (e *Entry) PassedBy(by, when string) {
	for k := range e.Of.Rows {
		r := &e.Of.Rows[k]
		r.Passed, r.Stands, r.Unlike, r.Earlier, r.ChangedSince = Passed{By: by, When: when}.words(), true, false, false, ""
	}
	e.Of.Earlier, e.Of.Corrections = 0, nil
}

// Wait takes in a piece that this run was not asked for, and of which no earlier one left anything.
func (i *Index) Wait(p *corpus.Piece) {
	i.Rows = append(i.Rows, row{ID: p.ID, Title: cmp.Or(p.Title, p.ID), Score: p.Score, Waiting: true})
	i.Waiting++
}

// File is one page of the review folder.
type File struct {
	Name string
	Data []byte
}

// oneHand is the hand for which all pieces are fingered, "" where they differ.
func oneHand(rows []row) (hand string) {
	for k := range rows {
		by := rows[k].Summary.Hand
		if by != "" && hand != "" && by != hand {
			return ""
		}
		hand = cmp.Or(by, hand)
	}
	return hand
}

// Render writes the index and the pages across the collection.
func (i *Index) Render() ([]File, error) {
	i.Judge, i.Unsaid, i.Hand = 0, 0, oneHand(i.Rows)
	i.Passed, i.PassedEarlier, i.PassedOtherwise, i.Unlike = 0, 0, 0, 0
	for k := range i.Rows {
		switch r := &i.Rows[k]; {
		case r.Stands && r.Earlier && r.ChangedSince != "":
			i.PassedOtherwise++
		case r.Stands && r.Earlier:
			i.PassedEarlier++
		case r.Stands:
			i.Passed++
		case r.Unlike:
			i.Unlike++
		}
		i.Rows[k].count()
		i.Judge += i.Rows[k].Judge
		i.Unsaid += i.Rows[k].Unsaid
	}
	lists := i.lists()
	for _, l := range lists {
		i.Lists = append(i.Lists, link{l.File, l.Title, l.Count()})
	}
	i.Overview = overview(i.Rows)
	data, err := render("index.html", i)
	if err != nil {
		return nil, fmt.Errorf("writing the index page: %w", err)
	}
	out := []File{{"index.html", data}}
	for _, l := range lists {
		data, err := render("list.html", l)
		if err != nil {
			return nil, fmt.Errorf("writing the page of %s: %w", l.Title, err)
		}
		out = append(out, File{l.File, data})
	}
	return out, nil
}

// overview draws the whole collection: a bar a piece, as long as it has notes, filled as far as their fingers are in doubt. Effort
// is no measure of a piece: it counts against what editors print, and an easy piece may have less than none.
func overview(rows []row) template.HTML {
	most := 0
	for _, r := range rows {
		if r.Error == "" && !r.Waiting {
			most = max(most, r.Summary.Struck)
		}
	}
	if most == 0 {
		return ""
	}
	const height, left, width = 18, 210, 380
	var b strings.Builder
	at := 0
	for _, r := range rows {
		if r.Error != "" || r.Waiting {
			continue
		}
		long := r.Summary.Struck * width / most
		name := []rune(r.ID)
		if len(name) > 32 {
			name = append(name[:31], '…')
		}
		bar{
			name: string(name), long: long, filled: long * r.Doubtful / max(r.Summary.Struck, 1),
			words: fmt.Sprintf("%d of %s in doubt", r.Doubtful, wording.Count(r.Summary.Struck, "note")),
		}.draw(&b, left, at)
		at += height
	}
	svg := fmt.Sprintf(
		`<svg class="overview" viewBox="0 0 %d %d" role="img" `+
			`aria-label="the notes of each piece, and those in doubt">%s</svg>`,
		left+width+130, at+4, b.String(),
	)
	return template.HTML(svg) //nolint:gosec // numbers and escaped text
}
