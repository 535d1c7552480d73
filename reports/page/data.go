package page

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"html/template"
	"maps"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/rules/engine"
)

// What the page's script knows: enough to show what follows from a choice and to write decisions, and no more.
type pageData struct {
	Key    string `json:"key"`
	Run    string `json:"run"` // of what the run read and asks
	Piece  string `json:"piece"`
	Engine string `json:"engine"`
	Score  string `json:"score"`
	// Passages, Notes and Choices are by number, as Choices of notes.
	Passages numbered[passageData]     `json:"passages"`
	Notes    numbered[noteData]        `json:"notes"`
	Choices  numbered[[]engine.Choice] `json:"choices"`
	Findings map[string]findingRef     `json:"findings"`
	// Music is the fingerprint of each measure, "" where nothing is struck.
	Music []string `json:"music"`
	// Decided is, by initials, what their file holds already, as it is written; Heads what it says of all of them.
	Decided map[string]string `json:"decided,omitempty"`
	Heads   map[string]string `json:"heads,omitempty"`
	// Held is, by note, the decision of the files that gives its digit.
	Held map[int]heldData `json:"held,omitempty"`
	// Alike are, by note whose digit is decided, those that are decided so in its place in like measures.
	Alike map[int][]int `json:"alike,omitempty"`
	// At is, by note, the passage in which it is judged; Says, by note, what is to be said of a printed digit that
	// no passage asks about.
	At     numbered[int]       `json:"at"`
	Says   numbered[string]    `json:"says"`
	Groups map[string][]string `json:"groups,omitempty"` // fingerprints of findings judged at once, by rule
	Places []string            `json:"places"`           // the measures' numbers
	// Around is what the house style sets around an editor's digit beside one of the text, before it and behind.
	Around [2]string `json:"around"`
}

type passageData struct {
	Hand     score.Hand `json:"hand"`
	Place    string     `json:"place"`
	First    int        `json:"first"`
	Last     int        `json:"last"`
	Notes    []int      `json:"notes"`
	Around   []int      `json:"around,omitempty"` // notes of its hand just before and behind it
	Doubts   []int      `json:"doubts,omitempty"`
	Findings []string   `json:"findings,omitempty"` // fingerprints
	Mark     string     `json:"mark"`               // keeps a decision with its passage when numbers change
	Firm     bool       `json:"firm,omitempty"`     // taken together with others
	Handover string     `json:"handover,omitempty"` // id of a redistribution
	To       string     `json:"to,omitempty"`       // the hand that takes its notes
	Reason   string     `json:"reason,omitempty"`   // why it is offered
	Handed   [][2]int   `json:"handed,omitempty"`   // these notes, with the finger each gets
	Staying  [][2]int   `json:"staying,omitempty"`  // notes that keep their hand and are decided with them
	// Like are the numbers of the redistributions that its answer holds for, too.
	Like []int `json:"like,omitempty"`
	// Rolls are chords that may be rolled, by their notes, with the reason for which it is offered.
	Rolls []rollData `json:"rolls,omitempty"`
	// IfTaken are the fingerprints of what lint will find when it is taken as suggested: it is asked as soon as it is taken.
	IfTaken []string `json:"then,omitempty"`
	// WantsReason says that to take it as suggested makes an error.
	WantsReason bool `json:"wants,omitempty"`
	Returns     bool `json:"returns,omitempty"` // decided for its returns too, unless the editor says otherwise
	// Also are the places in which it is decided with it.
	Also []alsoData `json:"also,omitempty"`
	Open []int      `json:"open,omitempty"` // notes that print and nobody has decided
	Rest []int      `json:"rest,omitempty"` // notes asked beside what is found, though their digit does not print
	Bare bool       `json:"bare,omitempty"` // it asks what is found alone: its digits are those of other passages
	// Figures are measures of the passage that stand again elsewhere.
	Figures []figureData `json:"figures,omitempty"`
}

type rollData struct {
	Notes  []int  `json:"n"`
	Reason string `json:"r,omitempty"`
}

// figureData is a measure of a passage with the places that are like it: one decision can go to all of them. Notes of a
// place run parallel to those of the figure.
type figureData struct {
	Measure int         `json:"m"` // by index
	Notes   []int       `json:"n"`
	Places  []likePlace `json:"places"`
}

// likePlace is a measure that is like another. Where Not is given, it says why no digits are offered there.
type likePlace struct {
	Measure int    `json:"m"`
	Place   string `json:"place"`
	Kind    string `json:"kind"`            // exact, transposed
	Shift   int    `json:"shift,omitempty"` // semitones up
	Open    int    `json:"open,omitempty"`  // printed digits nobody has decided
	Not     string `json:"not,omitempty"`
	Notes   []int  `json:"n"`
}

type noteData struct {
	// Moment, Key and Index name the note in a line of music of a file of decisions; Rank orders notes in time.
	Moment  string `json:"o"`
	Key     string `json:"k"`
	Index   int    `json:"i"`
	Rank    int    `json:"t"`
	Measure string `json:"m"`
	Beat    string `json:"b"`
	Pitch   string `json:"p"`
	Finger  int    `json:"f"`
	Written string `json:"w,omitempty"` // the finger as a file of decisions writes it, 5-4 for a change on the held key
	Given   bool   `json:"g,omitempty"`
	Stands  bool   `json:"s,omitempty"` // a digit stands at it in the text or in a witness
	// Text is what stands at it in the text itself; an editor's digit prints beside that, or, where Alone, not at all.
	Text  string `json:"x,omitempty"`
	Alone bool   `json:"xa,omitempty"`
	// Row is how its sign is fingered, 1-3-2, where that can be decided, with Lengths fingers.
	Row     string `json:"r,omitempty"`
	Lengths []int  `json:"l,omitempty"`
	// Voice is the note of another voice on its key with its finger, for which its digit stands in the row; 0 for none.
	Voice int `json:"v,omitempty"`
}

// heldData is the decision that gives a digit: the place of its entry among those of an editor, counted from 0.
type heldData struct {
	By string `json:"by"`
	At int    `json:"at"`
	// Whole says that it is a redistribution, which is taken back whole.
	Whole bool `json:"whole,omitempty"`
}

type findingRef struct {
	Rule  string `json:"rule"`
	Notes []int  `json:"notes,omitempty"`
	Put   string `json:"put,omitempty"` // the digit by which it is answered: of a witness, or worked out and to be printed
	From  string `json:"from,omitempty"`
	Print bool   `json:"print,omitempty"`
	// Over is the digit that was decided for a note that is gone: it can be taken over for the one that stands there now.
	Over string `json:"over,omitempty"`
	// Entry is what the files of decisions hold, where the finding is that it holds for nothing any more.
	Entry string `json:"entry,omitempty"`
	// Drop is an entry that has lost notes, and Stays what holds of it, which stays when they are taken out.
	Drop  string `json:"drop,omitempty"`
	Stays string `json:"stays,omitempty"`
	// Then is the passage with which it comes, were it taken as suggested, and Speaks the notes whose digits make it; 0 for
	// what is found already.
	Then   int   `json:"then,omitempty"`
	Speaks []int `json:"speaks,omitempty"`
	// Mild says that it is a note, neither an error nor a warning: the page goes on past it.
	Mild bool `json:"mild,omitempty"`
}

// mildest is the severity of what no editor has to stop at.
const mildest = "note"

// data gives the script's knowledge as JSON. Only notes of passages, and those that a choice reaches, are in it.
func (m *Material) data(groups []group) template.JS {
	r := m.Result
	d := pageData{
		Key: storeKey(m.Collection, r.Piece), Run: m.runKey(), Piece: r.Piece, Engine: r.Inputs.Engine, Score: r.Inputs.Score,
		Findings: map[string]findingRef{}, Music: append([]string{}, m.Music...), Decided: map[string]string{}, Heads: map[string]string{},
		Passages: newNumbered[passageData](len(m.Passages) + 1), Notes: newNumbered[noteData](len(m.More)),
		Choices: newNumbered[[]engine.Choice](len(m.More)), At: m.passageOf(), Says: newNumbered[string](len(m.More)), Groups: map[string][]string{}, Places: append([]string{}, m.Numbers...),
		Around: m.BesideText.Around,
	}
	for by, file := range m.Decided {
		d.Decided[by] = file.Entries
		if file.Head != "" {
			d.Heads[by] = file.Head
		}
	}
	for _, g := range groups {
		d.Groups[g.Rule] = g.Fingerprints
	}
	for _, f := range m.gone() {
		d.Findings[f.Fingerprint] = findingRef{Rule: f.Rule, Entry: m.staleEntry(&f), Notes: review.StandsBy(m.look().notes, r, &f)}
	}
	notes := m.look().notes
	open := newNumbered[bool](len(m.More)) // printed without anybody's decision, though something gives it: it can be taken
	for i := range m.Passages {
		for _, n := range m.Passages[i].Open {
			open.set(n, true)
		}
	}
	add := func(i int) {
		if d.Notes.has(i) {
			return
		}
		if n := notes.Of(i); n != nil {
			more := &m.More[i]
			v := noteData{
				Moment: more.Ref.Moment(), Key: more.Ref.Key(), Index: n.MeasureIndex, Rank: more.Rank, Measure: n.Measure, Beat: more.Beat, Pitch: n.Pitch, Finger: n.Finger,
				Given: more.Given && !open.has(i), Stands: len(n.Source) > 0, Text: textDigits(n), Alone: m.BesideText.Never && ofComposer(n),
			}
			if n.Finger > 0 {
				v.Written = writtenDigit(n)
			}
			if v.Lengths = more.RowLengths; v.Lengths != nil && len(n.Fingers) > 1 {
				v.Row = strings.Trim(strings.ReplaceAll(fmt.Sprint(n.Fingers), " ", "-"), "[]")
				if slices.Contains(v.Lengths, len(n.Fingers)) {
					v.Written = v.Row // a sign is taken whole
				}
			}
			d.Notes.set(i, v)
		}
	}
	for k := range m.Passages {
		p := &m.Passages[k]
		v := passageData{
			Hand: p.Hand, Place: m.measureRange(p.First, p.Last), First: p.First, Last: p.Last, Notes: append([]int{}, p.Notes...),
			Doubts: p.Doubts, Mark: m.markOf(k), Firm: p.Firm,
		}
		for _, k := range p.Findings {
			f := &r.Findings[k]
			v.Findings = append(v.Findings, f.Fingerprint)
			ref := findingRef{Rule: f.Rule, Entry: m.staleEntry(f), Mild: f.Severity == mildest}
			ref.Drop, ref.Stays = m.lostEntry(f)
			if m.canStand(f) {
				ref.Notes = review.StandsBy(notes, r, f)
			}
			if p := m.putOf(f); p != nil && p.Over {
				ref.Over = p.Text
			} else if p != nil {
				ref.Put, ref.From, ref.Print = p.Text, p.From, p.Print
			}
			d.Findings[f.Fingerprint] = ref
			for _, n := range append(slices.Clone(f.Notes), ref.Notes...) {
				add(n)
			}
		}
		if p.Redistribution >= 0 {
			handed := &r.Redistributions[p.Redistribution]
			v.Handover, v.To, v.Reason, v.Like = handed.ID, handed.To.String(), handed.Reason, p.LikeOffers
			for _, n := range handed.Notes {
				add(n.N)
				v.Handed = append(v.Handed, [2]int{n.N, n.Finger})
			}
			for _, n := range review.Staying(r, handed) {
				add(n.N)
				v.Staying = append(v.Staying, [2]int{n.N, n.Finger})
			}
		}
		for _, i := range p.Rolls {
			v.Rolls = append(v.Rolls, rollData{r.Rolls[i].Notes, r.Rolls[i].Reason})
			for _, n := range r.Rolls[i].Notes {
				add(n)
			}
		}
		v.Returns, v.Open, v.Rest, v.Bare = p.ForReturns, p.Open, p.Rest, p.Bare
		for k := range p.Goes {
			v.Also = append(v.Also, m.alsoOf(&p.Goes[k]))
		}
		v.WantsReason = review.WantsReason(p)
		for i := range p.IfTaken {
			f := &p.IfTaken[i]
			add(f.Notes[0])
			v.IfTaken = append(v.IfTaken, thenMark(f))
			d.Findings[thenMark(f)] = findingRef{Rule: f.Rule, Notes: f.Notes[:1], Then: p.Number, Speaks: f.Notes, Mild: f.Severity == mildest}
		}
		v.Figures = m.figuresOf(p.Number)
		for _, f := range v.Figures {
			for _, n := range f.Notes { // some may be decided with another passage, and stand in none of this one
				add(n)
			}
			for _, place := range f.Places {
				for _, n := range place.Notes {
					add(n)
				}
			}
		}
		v.Around = m.around(p)
		for _, n := range v.Around {
			add(n)
		}
		d.Passages.set(p.Number, v)
		for _, i := range p.Notes {
			add(i)
			if m.More[i].Given || d.Choices.has(i) {
				continue
			}
			choices := m.More[i].Choices
			for c := range choices {
				for _, s := range choices[c].Passage {
					add(s.ID)
				}
			}
			if len(choices) > 0 {
				d.Choices.set(i, choices)
			}
		}
		both, _ := m.shared(p, notes)
		for shows, other := range both {
			if d.Notes.has(shows) {
				d.Notes.of[shows].Voice = other
			}
		}
	}
	for i := range r.Notes {
		n := &r.Notes[i]
		if !n.Printed || d.At.get(n.N) != 0 && (!m.More[n.N].Given || open.has(n.N)) {
			continue
		}
		d.Says.set(n.N, m.saysOf(n))
		add(n.N)
		if held, decided := m.Held[n.N]; decided && m.More[n.N].By != "" {
			if d.Held == nil {
				d.Held = map[int]heldData{}
			}
			d.Held[n.N] = held
		}
	}
	for _, n := range slices.Sorted(maps.Keys(d.Held)) {
		for _, o := range m.Alike[n] {
			if notes.Of(o) == nil || !m.inFiles(o) || notes.Of(o).Finger != notes.Of(n).Finger {
				continue
			}
			add(o)
			if held, known := m.Held[o]; known {
				d.Held[o] = held
			}
			if d.Alike == nil {
				d.Alike = map[int][]int{}
			}
			d.Alike[n] = append(d.Alike[n], o)
		}
	}
	return template.JS(d.encode()) //nolint:gosec // JSON, escaped for HTML by the encoder
}

// writtenDigit is the finger of a note as a file of decisions writes it: 5-4 for a change on the held key.
func writtenDigit(n *state.Note) string {
	return strings.ReplaceAll(digitText(n, n.Finger), "–", "-")
}

// aroundKept is how many notes before and behind a passage help to find what is decided in it.
const aroundKept = 2

// around lists notes of a passage's hand before and behind it.
func (m *Material) around(p *review.Passage) []int { return m.near(p, aroundKept) }

// near lists up to so many notes of a passage's hand before it, and as many behind it, in the two measures next to it.
func (m *Material) near(p *review.Passage, most int) (out []int) {
	if len(p.Notes) == 0 {
		return nil
	}
	own := m.look().notes.Of(p.Notes[0])
	var before, behind []int
	gather := func(from, to int) (out []int) {
		for measure := from; measure <= to; measure++ {
			for _, i := range m.look().inside[measure] {
				if n := &m.Result.Notes[i]; n.Hand == own.Hand && n.Part == own.Part && !n.Tied {
					out = append(out, n.N)
				}
			}
		}
		return out
	}
	before, behind = gather(p.First-2, p.First-1), gather(p.Last+1, p.Last+2)
	byRank := func(a, b int) int { return m.More[a].Rank - m.More[b].Rank }
	slices.SortFunc(before, byRank)
	slices.SortFunc(behind, byRank)
	return append(before[max(len(before)-most, 0):], behind[:min(len(behind), most)]...)
}

// figuresOf gathers the places that are like measures of a passage by the measure that they are like.
func (m *Material) figuresOf(passage int) (out []figureData) {
	for _, l := range m.Like[passage] {
		if k := len(out) - 1; k < 0 || out[k].Measure != l.Of {
			out = append(out, figureData{Measure: l.Of, Notes: l.From})
		}
		f := &out[len(out)-1]
		f.Places = append(f.Places, likePlace{
			Measure: l.Measure, Place: m.measureRange(l.Measure, l.Measure), Kind: l.Words(), Shift: l.Shift,
			Open: l.Open, Not: l.Not, Notes: l.To,
		})
	}
	return out
}

// saysOf says whose a printed digit is that no passage asks about.
func (m *Material) saysOf(n *state.Note) string {
	said := fmt.Sprintf("m. %s, beat %s, %s: %s, ", n.Measure, m.More[n.N].Beat, n.Pitch, digitText(n, n.Finger))
	switch {
	case m.stands(n.N):
		return said + "stands in the text"
	case m.More[n.N].Carried != "":
		said += "carried from where the passage stands elsewhere, decided there by " + m.More[n.N].Carried
	case m.More[n.N].By != "":
		said += "decided by " + m.More[n.N].By
		if entry := m.More[n.N].Entry; entry != "" {
			said += ", in the entry at " + entry
		}
	case m.More[n.N].Given:
		said += "given by a source"
	default:
		said += "not asked about"
	}
	return said
}

// runKey is the same for runs that read the same and ask the same, so that a browser knows what an older run asked.
func (m *Material) runKey() string {
	h := sha256.New()
	fmt.Fprintf(h, "%+v\n", m.Result.Inputs)
	for _, by := range slices.Sorted(maps.Keys(m.Decided)) {
		fmt.Fprintf(h, "%q %q\n", by, m.Decided[by].Head+m.Decided[by].Entries)
	}
	for i := range m.Passages {
		fmt.Fprintln(h, m.markOf(i))
	}
	return hex.EncodeToString(h.Sum(nil)[:6])
}

// markOf is the mark of a passage by its place among Passages, worked out once.
func (m *Material) markOf(i int) string {
	if len(m.marks) != len(m.Passages) {
		m.marks = make([]string, len(m.Passages))
		for k := range m.Passages {
			m.marks[k] = m.mark(&m.Passages[k])
		}
	}
	return m.marks[i]
}

// mark is the same for a passage as long as it asks the same: its doubts, its open digits, its findings, its
// redistribution.
func (m *Material) mark(p *review.Passage) string {
	b := append(make([]byte, 0, 256), fmt.Sprint(p.Hand, p.Part)...)
	address := func(n int) { b = append(append(b, '|'), m.More[n].Address.String()...) }
	for _, i := range p.Doubts {
		address(i)
	}
	for _, i := range p.Open {
		address(i)
	}
	for _, i := range p.Findings {
		b = append(append(b, '|'), m.Result.Findings[i].Fingerprint...)
	}
	if p.Redistribution >= 0 {
		for _, n := range m.Result.Redistributions[p.Redistribution].Notes {
			address(n.N)
		}
	}
	if p.Firm && len(p.Open) == 0 { // no digit of it prints: its notes tell it from others
		for _, i := range p.Notes {
			address(i)
		}
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:6])
}
