package page

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/reasons"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/engine"
	"fingerproof/rules/lint/decision-stale"
	"fingerproof/rules/lint/decision-unplaced"
	"fingerproof/rules/parallel"
)

// Material is all that the page of a piece shows.
type Material struct {
	Result     *state.Result
	Policy     string // title of the house style
	Personal   string // how many personal choices there are, as their page counts them, "" for none
	Collection string // names the browser's store of decisions, beside the piece
	Passages   []review.Passage
	// Like are the places that are like measures of a passage, by its number.
	Like map[int][]review.LikePlace
	// Alike are, by note that the files decide, those that they decide in its place in like measures.
	Alike   map[int][]int
	Returns []parallel.Return
	// More holds what results leave out, by index into Score.Notes.
	More []More
	// Others is the effort of the other named hands, each fingered for itself.
	Others []OtherHand
	// Tempo is the speed at which each measure is to be played, in felt beats a minute, at the fast end.
	Tempo []int
	// Pages counts printed digits by page of the score.
	Pages []PageDigits
	// Music is the fingerprint of each measure of the score, Numbers its number as printed.
	Music, Numbers []string
	// Decided is what the files of decisions hold already, by initials.
	Decided map[string]decision.File
	// Sides is where the digit of each note stands in print, by index into Score.Notes; nil: on the side of its hand.
	Sides []score.Placement
	// TextSides is where a digit of the text prints of which the file does not say it.
	TextSides []score.Placement
	// BesideText is how an editor's digit prints beside one of the text.
	BesideText BesideText
	// Open lists the notes whose printed digit nobody has decided.
	Open []int
	// Declined are notes that were offered to the other hand, and that an editor left with theirs, offer by offer.
	Declined [][]int
	// Held is, by note, which of those entries gives its digit.
	Held map[int]heldData
	// Entries are the same decisions one by one, by the place where each stands.
	Entries map[string]string
	// Lost are those of them that have lost notes, with what stays of each.
	Lost map[string]pipeline.LostEntry
	// InFiles counts those decisions, by initials.
	InFiles map[string]int
	// Again says why notes are asked, or asked again, beside what is decided.
	Again map[int]*state.Asked
	// AtFirst are the fingers of every note as they were suggested before anything was decided; nil where none is asked beside
	// decided ones.
	AtFirst [][]int
	// Passed is when the piece was last passed for press, and by whom; zero where it never was.
	Passed Passed
	// Changes are the differences to what was last passed for press.
	Changes []Change
	// Pictures are the engraved excerpts by number of their passage; Glyphs the outlines they share.
	Pictures map[int]Picture
	Glyphs   string
	// Score is the whole edition, drawn.
	Score  WholeScore
	lookup *lookup  // made when first asked for
	marks  []string // of the passages, as lookup
	// Notation says why there are no pictures; "" where there are.
	Notation string
}

// Passed is the last pass for press of a piece.
type Passed struct {
	By, When string
	Differs  bool   // what stands now is not what was passed
	Unlike   bool   // not compared: one of the two prints by another rule (--press), or the passed text is lost
	Why      string // why it was not compared
}

// Change is one difference to what was passed.
type Change struct {
	Place    string // "m. 4, left hand, beat 3", "" where it stands at no place
	What     string // "E5, finger"
	Index    int    // of the measure
	N        int    // of the note, -1 where it is at none
	Old, New string
	Cause    string // what input makes it
	Measure  string // as printed
	Whose    bool   // of whose the digit is, and of nothing else
}

// More is what the page says of a note beyond the results.
type More struct {
	Beat    string           // "3"; "2, third eighth"
	Key     string           // the same as lines are keyed in: "2.3/8"
	Address score.Address    // the name decisions call it by
	Ref     decision.NoteRef // its name in lines of music
	Rank    int              // its place among all notes in the order of time
	Choices []engine.Choice
	Effort  []engine.Effort
	Reach   int // in ten thousand adult pianists
	Given   bool
	// RowLengths says how many fingers can be decided for the note's sign; nil where none can.
	RowLengths []int
	InText     bool   // Given, and it is the text that gives it
	Carried    string // initials of who decided the digit where the passage stands elsewhere
	By         string // initials of the editor who decided it
	Entry      string // file and line of that decision
}

// PageDigits is how many digits a page of the score prints.
type PageDigits struct {
	Name          string
	Measures      int
	Notes, Digits int
}

// Picture is an engraved excerpt.
type Picture struct {
	SVG           string
	Width, Height int // at full size, in CSS pixels
}

// Of gathers what the page of a piece shows, pictures left out.
func Of(w *pipeline.PieceRun, collection string) *Material {
	figures := figuresOf(w)
	m := factsOf(w, figures)
	m.Policy, m.Collection, m.Returns = w.Policy.Title(), collection, w.Returns
	m.Like = likePlaces(figures, m.Passages)
	m.Open, m.Declined, m.Sides = w.Open, w.Decided.Declined, w.Sides()
	m.TextSides = w.TextSides()
	m.BesideText = besideText(w.Policy)
	m.Tempo, m.Others = tempoByMeasure(w), otherHands(w)
	m.Pages = digitsByPage(w.Score, w.Result)
	m.Decided = decision.Files(w.Decisions)
	return m
}

// Reasons says of passages, by their number, why they are asked in a piece in which others are decided, as the page says it.
// changes are the differences to what was last passed.
func Reasons(w *pipeline.PieceRun, passed Passed, changes []Change) map[int][]string {
	m := factsOf(w, figuresOf(w))
	m.Passed, m.Changes = passed, changes
	out := map[int][]string{}
	for i := range m.Passages {
		out[m.Passages[i].Number], _ = m.askedFor(&m.Passages[i])
	}
	return out
}

// factsOf gathers what is known of the notes and passages of a piece, and of the decisions on them.
func factsOf(w *pipeline.PieceRun, figures *review.Figures) *Material {
	m := &Material{Result: w.Result, Passages: review.All(w.ReviewInput())}
	finder := decision.NewFinder(w.Score)
	addresses := finder.Addresses()
	m.More = make([]More, len(w.Score.Notes))
	inResult := w.Result.ByNumber()
	for i := range m.More {
		n, e := &w.Score.Notes[i], &w.Suggestion.Notes[i]
		beat := w.Score.BeatAt(n.Measure, n.Onset)
		m.More[i] = More{
			Beat: beat.String(), Key: beat.Key(), Address: addresses[i], Ref: finder.Name(i),
			Choices: e.Choices, Effort: e.Effort, Reach: e.Reach, Given: e.Constrained,
			RowLengths: suggest.RowLengths(n),
		}
		if r := inResult.Of(i); r != nil && r.Piled != "" && r.Confidence != nil {
			m.More[i].Given = false // its reading is asked
		}
		if w.Bound[i].Carried {
			m.More[i].Carried = w.Bound[i].By
		}
		switch reasons.GivenBy(w.Score, w.Playing, w.Bound, w.Suggestion, i) {
		case reasons.InText:
			m.More[i].InText = true
		case reasons.Decided:
			m.More[i].By = w.Bound[i].By
			if i < len(w.Decided.Deciding) && w.Decided.Deciding[i] != nil {
				m.More[i].Entry = w.Decided.Deciding[i].Place()
			}
		}
	}
	inTime := make([]int, len(m.More))
	for i := range inTime {
		inTime[i] = i
	}
	slices.SortStableFunc(inTime, func(a, b int) int { return decision.InTime(addresses[a], addresses[b]) })
	for rank, i := range inTime {
		m.More[i].Rank = rank
	}
	m.Music = finder.Music()
	for i := range w.Score.Measures {
		m.Numbers = append(m.Numbers, w.Score.Measures[i].Number)
	}
	m.Again, m.AtFirst = askedAgain(w.Result), w.AtFirst()
	m.InFiles, m.Entries = map[string]int{}, map[string]string{}
	at := map[string]heldData{} // by the place of the entry
	for i := range w.Decisions {
		d := &w.Decisions[i]
		at[d.Place()] = heldData{By: d.By, At: m.InFiles[d.By], Whole: d.On == decision.Redistribution}
		m.InFiles[w.Decisions[i].By]++
		m.Entries[w.Decisions[i].Place()] = decision.AsWritten(w.Decisions[i])
	}
	m.Lost = w.LostEntries()
	m.Held = map[int]heldData{}
	var decided []int
	for i := range m.More {
		if held, known := at[m.More[i].Entry]; known {
			m.Held[i] = held
		}
		if m.inFiles(i) {
			decided = append(decided, i)
		}
	}
	m.Alike = figures.Alike(decided)
	for n, all := range m.Alike {
		m.Alike[n] = slices.DeleteFunc(all, func(o int) bool { return !m.inFiles(o) })
	}
	return m
}

// inFiles says that the files decide a note's digit, at its place or where its passage stands elsewhere.
func (m *Material) inFiles(n int) bool { return m.Held[n].By != "" || m.More[n].Carried != "" }

func figuresOf(w *pipeline.PieceRun) *review.Figures {
	return review.NewFigures(w.Score, w.Playing, w.Profile, w.Bound, w.Result, w.Open)
}

// likePlaces finds the places that are like measures of the passages in which something is doubtful.
func likePlaces(figures *review.Figures, passages []review.Passage) map[int][]review.LikePlace {
	out := map[int][]review.LikePlace{}
	for i := range passages {
		if q := &passages[i]; q.ReturnOf == 0 && !q.Firm && !q.Bare {
			// What brings the passage back is decided with it anyway.
			places := slices.DeleteFunc(figures.Places(q, nil), func(l review.LikePlace) bool {
				return slices.ContainsFunc(passages, func(p review.Passage) bool {
					return p.ReturnOf == q.Number && p.Hand == q.Hand && p.First <= l.Measure && l.Measure <= p.Last
				})
			})
			if len(places) > 0 {
				out[q.Number] = places
			}
		}
	}
	return out
}

// askedAgain says of notes why they are asked, or asked again, where others are decided.
func askedAgain(r *state.Result) map[int]*state.Asked {
	out := map[int]*state.Asked{}
	for i := range r.Asked {
		for _, n := range r.Asked[i].Notes {
			out[n] = &r.Asked[i]
		}
	}
	return out
}

func tempoByMeasure(w *pipeline.PieceRun) []int {
	out := make([]int, len(w.Score.Measures))
	for i := range w.Score.Measures {
		m := &w.Score.Measures[i]
		span := w.Tempo.Micros(m.Start.Add(m.Length)) - w.Tempo.Micros(m.Start)
		beat := m.BeatUnit
		if beat.Sign() <= 0 {
			beat = score.Whole(1)
		}
		if span > 0 && m.Length.Sign() > 0 {
			// Beats in the measure, times sixty seconds, over the time it takes.
			beats := m.Length.Mul(score.Frac(beat.Den(), beat.Num()))
			out[i] = int(beats.Scaled(60_000_000) / span)
		} else if i > 0 {
			out[i] = out[i-1]
		}
	}
	return out
}

// measuresAPage stands in where a score names no pages.
const measuresAPage = 20

func digitsByPage(s *score.Score, r *state.Result) []PageDigits {
	paged := slices.ContainsFunc(s.Measures, func(m score.Measure) bool { return m.Page > 1 })
	page := func(measure int) int {
		if paged {
			return max(s.Measures[measure].Page, 1) - 1
		}
		return measure / measuresAPage
	}
	var out []PageDigits
	for i := range s.Measures {
		k := page(i)
		for len(out) <= k {
			name := fmt.Sprintf("page %d", len(out)+1)
			if !paged {
				name = fmt.Sprintf("from m. %s", s.Measures[i].Number)
			}
			out = append(out, PageDigits{Name: name})
		}
		out[k].Measures++
	}
	for i := range r.Notes {
		n := &r.Notes[i]
		p := &out[page(n.MeasureIndex)]
		if !n.Tied {
			p.Notes++
		}
		if n.Printed {
			p.Digits++
		}
	}
	return out
}

// decidedBy counts the notes whose digits editors have decided, by initials.
func (m *Material) decidedBy() string {
	counts := map[string]int{}
	for i := range m.Result.Notes {
		if n := &m.Result.Notes[i]; n.Responsibility == score.Editor && !n.Tied {
			counts[n.Agent]++
		}
	}
	var parts []string
	for _, who := range slices.Sorted(maps.Keys(counts)) {
		if who == "" {
			parts = append(parts, wording.Count(counts[who], "note")+" of the text")
			continue
		}
		parts = append(parts, fmt.Sprintf("%s %s", who, wording.Count(counts[who], "note")))
	}
	return strings.Join(parts, ", ")
}

// passedWords says when a piece was passed, by whom, and whether it still stands so.
func (m *Material) passedWords() string { return m.Passed.words() }

func (p Passed) words() string {
	if p.When == "" {
		return ""
	}
	said := p.When
	if p.By != "" {
		said += " by " + p.By
	}
	switch {
	case p.Unlike:
		said += "; not compared"
		if p.Why != "" {
			said += ": " + p.Why
		}
	case p.Differs:
		said += "; changed since"
	}
	return said
}

// inFiles says how many decisions the files hold, and whose.
func inFiles(counts map[string]int) string {
	var parts []string
	for _, who := range slices.Sorted(maps.Keys(counts)) {
		parts = append(parts, fmt.Sprintf("%d by %s", counts[who], who))
	}
	return strings.Join(parts, ", ")
}

// staleEntry is the entry of which a finding says that it holds for nothing any more, "" for other findings: it names
// the place where the entry stands.
func (m *Material) staleEntry(f *state.Finding) string {
	if f.Rule != decisionstale.Rule.Name {
		return ""
	}
	return m.Entries[f.Entry()]
}

// lostEntry is the entry of which a finding says that it has lost a note, as it is written, with what stays of it when what is
// lost is taken out.
func (m *Material) lostEntry(f *state.Finding) (written, stays string) {
	if f.Rule != decisionunplaced.Rule.Name {
		return "", ""
	}
	lost := m.Lost[f.Entry()]
	return lost.Written, lost.Stays
}
