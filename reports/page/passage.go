package page

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/rules/effort"
	"fingerproof/rules/lint/decision-query"
)

// likeOffer is where the answer to a redistribution holds too: the number of a passage, and its measures.
type likeOffer struct {
	Number   int
	Measures string
}

// passageView is a passage as its card shows it.
type passageView struct {
	review.Passage
	Place, HandName string
	Why             []string
	Effort          state.Effort // by criterion, in the words of an editor
	Reach           string
	Columns         []column
	Choices         []doubt
	Sources         []string
	Findings        []state.Finding
	Handover        *state.Redistribution
	MayRoll         []string    // why chords of it may be rolled
	Handed          string      // the notes that change hands
	LikePlaces      []likeOffer // of LikeOffers
	Picture         template.HTML
	Shown           string // the digits of the picture: decided, suggested, or the text's
	Unchanged       bool   // the picture shows no suggestion: before and after are one
	Box             string // viewBox of a second showing of the picture
	Width, Height   int
	Stands          bool   // a digit stands in the text here
	Drafted         string // initials of the editor whose own draft has open digits here; "" where none has
	Like, Refused   []likeView
	Returns         []string // passages judged with it
	Gathered        []gathered
	Then            []foundView // what lint finds once it is taken as suggested
	KindName        string
	Brief           string   // what there is to judge, in a few words
	About           string   // what it can be found by
	SureTo          int      // least confidence, in percent
	Again           bool     // decided once, and asked again
	AskedFor        []string // why
	Mostly          string   // what most of the effort is
}

// column is what one hand strikes at once, highest first.
type column struct {
	Beat string // where a beat begins
	Keys []fingerKey
}

type fingerKey struct {
	N                   int
	Pitch, Said, Finger string
	Doubt, Given        bool
	Stands, Decided     bool // in the text; or given otherwise and not open
	Prints              bool
	Held                bool // an entry of the files gives it: it can be reopened
}

// criterionWords says in an editor's words what an effort is made of.
var criterionWords = map[string]string{
	"stretch": "stretch", "position": "moving the hand", "passing": "passing",
	"keys": "thumb or little finger on black", "repetition": "repeated finger",
	"pattern": "pattern", "parallel": "agreement of returns", "habit": "habit of editors",
	"learned": "learned habit", "line": "line",
	"tempo": "speed", "reach": "reach", "limit": "beyond the hand", "change": "change on a held key",
}

func inWords(criterion string) string {
	if w := criterionWords[criterion]; w != "" {
		return w
	}
	return criterion
}

func (m *Material) passageViews() []passageView {
	notes := m.look().notes
	var out []passageView
	for _, p := range review.OffersFirst(m.Result, review.WorstFirst(m.Passages)) {
		if p.ReturnOf == 0 {
			out = append(out, m.passageView(p, notes))
		}
	}
	return out
}

func (m *Material) passageView(p review.Passage, notes state.ByNumber) passageView {
	v := passageView{
		Passage: p, Place: m.measureRange(p.First, p.Last), HandName: strings.TrimSpace(p.Whose() + " " + p.Part),
	}
	totals := map[string]int64{}
	reach := 10000
	for _, i := range p.Notes {
		n := notes.Of(i)
		for _, e := range m.More[i].Effort {
			totals[e.Criterion] += int64(e.Cost)
		}
		if m.More[i].Reach > 0 {
			reach = min(reach, m.More[i].Reach)
		}
		for _, s := range n.Source {
			v.Stands = true
			v.Sources = append(v.Sources, fmt.Sprintf(
				"m. %s, beat %s, %s: %s, %s", n.Measure, m.More[i].Beat, n.Pitch, s.Text, m.sourceName(s),
			))
		}
	}
	for _, c := range effort.Criteria {
		if totals[c] != 0 {
			v.Effort = append(v.Effort, state.Share{Criterion: inWords(c), MilliNats: totals[c]})
		}
	}
	v.Reach = pianists(state.PercentOf(int64(reach), 10000))
	v.Columns = m.columns(p, notes)
	for _, i := range p.Doubts {
		v.Choices = append(v.Choices, m.doubtOf(notes.Of(i)))
	}
	for _, i := range p.Findings {
		v.Findings = append(v.Findings, m.Result.Findings[i])
	}
	if p.Redistribution >= 0 {
		v.Handover = &m.Result.Redistributions[p.Redistribution]
		for _, number := range p.LikeOffers {
			k := slices.IndexFunc(m.Passages, func(q review.Passage) bool { return q.Number == number })
			v.LikePlaces = append(v.LikePlaces, likeOffer{number, m.measureRange(m.Passages[k].First, m.Passages[k].Last)})
		}
		v.Handed = m.handedWords(v.Handover.Notes)
	}
	for _, i := range p.Rolls {
		v.MayRoll = append(v.MayRoll, m.Result.Rolls[i].Why)
	}
	v.Gathered, v.Then = m.gather(v.Findings), m.ifTaken(&p)
	v.AskedFor, v.Again = m.askedFor(&p)
	v.Mostly = mostly(v.Effort)
	v.Why = m.why(&p, notes, &v)
	v.KindName, v.SureTo, v.Returns = kindOf(&p), m.sureTo(&p, notes), m.returnsOf(&p)
	v.Like, v.Refused = m.likeViews(&p)
	v.Brief, v.About = m.brief(&v), about(&v)
	if picture, drawn := m.Pictures[p.Number]; drawn {
		v.Unchanged = p.Redistribution < 0 && !strings.Contains(picture.SVG, `class="fing added`)
		v.Shown = "suggested"
		open := func(i int) bool { return !m.stands(i) && !m.decided(&p, i) }
		if p.Redistribution < 0 && !slices.ContainsFunc(p.Notes, open) {
			v.Shown = "decided"
			if !slices.ContainsFunc(p.Notes, func(i int) bool { return m.decided(&p, i) }) {
				v.Shown = "the text has it" // nobody has decided anything there
			}
		}
		if v.Drafted = draftedBy(p.Notes, notes, open); v.Drafted != "" && v.Shown == "suggested" {
			v.Shown = "in the draft of " + v.Drafted + ", and as suggested where it has no digit"
		}
		shown := picture.shown(fmt.Sprintf("x%d", p.Number))
		v.Picture = template.HTML(shown) //nolint:gosec // written by reports/engrave, text escaped
		v.Width, v.Height = picture.Width, picture.Height
	}
	return v
}

// draftedBy gives the initials of the editor of whose draft an open digit of some notes is; "" where none is.
func draftedBy(list []int, notes state.ByNumber, open func(i int) bool) string {
	for _, i := range list {
		if n := notes.Of(i); n != nil && n.Draft != "" && open(i) {
			return n.Draft
		}
	}
	return ""
}

// handedWords names notes with their fingers, by measure: "m. 3: F3 1, D4 3; m. 4: E4 1".
func (m *Material) handedWords(handed []state.RedistributedNote) string {
	var parts []string
	measure := ""
	for _, k := range handed {
		n := m.look().notes.Of(k.N)
		switch {
		case n == nil:
		case n.Measure == measure:
			parts[len(parts)-1] += fmt.Sprintf(", %s %d", n.Pitch, k.Finger)
		default:
			measure = n.Measure
			parts = append(parts, fmt.Sprintf("m. %s: %s %d", measure, n.Pitch, k.Finger))
		}
	}
	return strings.Join(parts, "; ")
}

// askedFor says why a passage is asked in a piece in which others are decided, and whether it was decided once.
func (m *Material) askedFor(p *review.Passage) (out []string, again bool) {
	since := m.changedSince(p)
	for _, n := range p.Notes {
		asked := m.Again[n]
		if asked == nil || asked.Cause == state.CauseBeside || slices.Contains(out, asked.Said) {
			continue // what stands beside decided digits is told by what has changed with them
		}
		again = true
		out = append(out, asked.Said)
	}
	if out = append(out, since...); len(out) == 0 && m.queried(p) {
		return []string{"a query there is not answered"}, again
	}
	if len(out) == 0 {
		out = m.otherThanAtFirst(p)
	}
	return out, again
}

// queried says that an editor's query on a passage waits for its answer.
func (m *Material) queried(p *review.Passage) bool {
	return slices.ContainsFunc(p.Findings, func(k int) bool { return m.Result.Findings[k].Rule == decisionquery.Rule.Name })
}

// changedSince says what input changed digits that a passage asks about since the piece was passed.
func (m *Material) changedSince(p *review.Passage) (out []string) {
	if p.Redistribution >= 0 {
		return nil
	}
	on := ""
	if m.Passed.When != "" {
		on = " on " + m.Passed.When // it may have been passed once more
	}
	for i := range m.Changes {
		c := &m.Changes[i]
		if c.Cause == "" || !slices.Contains(p.Doubts, c.N) && !slices.Contains(p.Open, c.N) {
			continue
		}
		said := "its fingering, or what prints of it, has changed since the piece was passed" + on + "; the cause: " + c.Cause
		if !slices.Contains(out, said) {
			out = append(out, said)
		}
	}
	return out
}

// mostOtherNamed is how many digits are named that are suggested otherwise than at first.
const mostOtherNamed = 6

// otherThanAtFirst names the digits that a passage asks and that were suggested otherwise before anything was decided; nothing
// where they are the same: what is decided beside them has not changed them.
func (m *Material) otherThanAtFirst(p *review.Passage) []string {
	if p.Redistribution >= 0 || len(m.InFiles) == 0 || m.AtFirst == nil {
		return nil
	}
	var said []string
	more := 0
	for _, i := range p.Notes {
		n := m.look().notes.Of(i)
		if n == nil || n.Finger == 0 || !slices.Contains(p.Doubts, i) && !slices.Contains(p.Open, i) || len(m.AtFirst[i]) == 0 {
			continue
		}
		now, first := append([]int{n.Finger}, n.Substitution...), m.AtFirst[i]
		if slices.Equal(now, first) {
			continue
		}
		if len(said) == mostOtherNamed {
			more++
			continue
		}
		said = append(said, fmt.Sprintf("%s (m. %s, beat %s) %s → %s", n.Pitch, n.Measure, m.More[i].Beat, decision.Digits(first), decision.Digits(now)))
	}
	if len(said) == 0 {
		return nil
	}
	if more > 0 {
		said = append(said, fmt.Sprintf("and %d more", more))
	}
	return []string{"what is suggested has changed with decisions beside it: " + strings.Join(said, "; ")}
}

// measureRange names measures as an editor does.
func (m *Material) measureRange(first, last int) string {
	if first == last {
		return "m. " + m.number(first)
	}
	return "mm. " + m.number(first) + "–" + m.number(last)
}

func (m *Material) sourceName(s state.Source) string {
	name := s.Responsibility.String()
	if m.Result.Summary.Unattributed && !s.WitnessOnly && s.Responsibility == score.Composer {
		name = ofTheSource
	}
	if s.Agent != "" {
		name += " (" + s.Agent + ")"
	}
	if len(s.Witnesses) > 0 {
		name += ", in " + strings.Join(s.Witnesses, ", ")
	}
	return name
}

// shared gives, by note of a passage that stands in its row of digits, the note of another voice that has the same key with the
// same finger: one digit stands for both. hidden are those other notes.
func (m *Material) shared(p *review.Passage, notes state.ByNumber) (of map[int]int, hidden map[int]bool) {
	of, hidden = map[int]int{}, map[int]bool{}
	var stroke []int
	for k, i := range p.Notes {
		n := notes.Of(i)
		if slices.Contains(p.Strokes, k) {
			stroke = stroke[:0]
		}
		at := slices.IndexFunc(stroke, func(o int) bool {
			return notes.Of(o).Midi == n.Midi && n.Finger > 0 && digitText(notes.Of(o), notes.Of(o).Finger) == digitText(n, n.Finger)
		})
		if at < 0 {
			stroke = append(stroke, i)
			continue
		}
		shows, other := stroke[at], i
		if n.Printed && !notes.Of(shows).Printed && !m.stands(shows) {
			shows, other = other, shows
			stroke[at] = shows
		}
		of[shows], hidden[other] = other, true
	}
	return of, hidden
}

// columns lists the notes of a passage as they are struck.
func (m *Material) columns(p review.Passage, notes state.ByNumber) []column {
	var out []column
	both, hidden := m.shared(&p, notes)
	for k, i := range p.Notes {
		n := notes.Of(i)
		if slices.Contains(p.Strokes, k) {
			c := column{}
			if beat := m.More[i].Beat; !strings.Contains(beat, ",") && n.Grace == 0 {
				c.Beat = n.Measure + "." + beat
			}
			out = append(out, c)
		}
		if hidden[i] {
			continue
		}
		other, shares := both[i]
		k := fingerKey{
			N: i, Pitch: n.Pitch, Finger: m.printedAt(n), Doubt: slices.Contains(p.Doubts, i) || shares && slices.Contains(p.Doubts, other),
			Prints: n.Printed, Given: m.More[i].Given, Stands: m.stands(i), Decided: m.decided(&p, i),
		}
		_, k.Held = m.Held[i]
		k.Said = fmt.Sprintf(", m. %s beat %s", n.Measure, m.More[i].Beat)
		if k.Doubt {
			k.Said += ", doubtful"
		}
		switch {
		case m.stands(i):
			k.Said += ", stands in the text"
		case m.More[i].By != "":
			k.Said += ", decided by " + m.More[i].By
		case m.More[i].Carried != "":
			k.Said += ", carried from where the passage stands elsewhere, decided there by " + m.More[i].Carried
		case k.Given:
			k.Said += ", given by a source"
		}
		c := &out[len(out)-1]
		c.Keys = append(c.Keys, k)
		slices.SortStableFunc(c.Keys, func(a, b fingerKey) int {
			return -cmp.Compare(notes.Of(a.N).Midi, notes.Of(b.N).Midi)
		})
	}
	return out
}

// Regrets up to which two fingers come out alike, and up to which the other is a fair choice, in milli-nats.
const (
	alike     = 60
	nearlyFor = 300
)

// why says in sentences what there is to judge.
func (m *Material) why(p *review.Passage, notes state.ByNumber, v *passageView) []string {
	var out []string
	if d := p.Redistribution; d >= 0 {
		r := m.Result.Redistributions[d]
		if r.Why != "" { // it stands below, whole
			return nil
		}
		out = append(out, fmt.Sprintf(
			"The %s could take notes here: %s.", r.To.Words(), strings.TrimSuffix(r.Reason, "."),
		))
	}
	for _, said := range v.AskedFor {
		out = append(out, "Asked because "+said+".")
	}
	if p.Firm {
		out = append(out, fmt.Sprintf(
			"Nothing here is in doubt; at %s a digit will print and nobody has decided it.",
			wording.Count(len(p.Open), "note"),
		))
	}
	out = append(out, saidOnce("If it is taken as suggested, lint will say (%s): %s.", p.IfTaken)...)
	if len(p.IfTaken) > 0 {
		if review.WantsReason(p) {
			out = append(out, "It is taken only with a reason, by which that stands. Or choose another finger.")
		} else {
			out = append(out, "Taken with a reason (y), that stands; without one it is asked here as soon as it is taken. Or choose another finger.")
		}
	}
	out = append(out, saidOnce("Did these digits stand in the text, lint would say (%s): %s. It is told; no answer is asked but the digits.", p.InText)...)
	out = append(out, m.readAsPiles(p, notes)...)
	near, fair := 0, 0
	var first string
	leads := false // the first note in doubt, by which the passage is called, is the first of them
	doubts := m.onceEach(p.Doubts)
	for k, i := range doubts {
		if choices := m.More[i].Choices; len(choices) > 0 {
			switch n, c := notes.Of(i), choices[0]; {
			case c.Regret < -alike: // an editor's own digit is the harder one
			case c.Regret <= alike:
				near++
				if first == "" {
					leads = k == 0
					first = fmt.Sprintf(
						"%d and %d on %s (m. %s, beat %s)", n.Finger, c.Finger, n.Pitch, n.Measure, m.More[i].Beat,
					)
				}
			case c.Regret <= nearlyFor:
				fair++
			}
		}
	}
	switch {
	case near > 1 && (leads || near == len(doubts)):
		out = append(out, fmt.Sprintf("Two fingers come out alike on %s, beginning with %s.", wording.Count(near, "note"), first))
	case near > 1:
		out = append(out, fmt.Sprintf("Of the %s in doubt two fingers come out alike on %d; the first of these: %s.", wording.Count(len(doubts), "note"), near, first))
	case near == 1 && len(doubts) > 1 && !leads:
		out = append(out, fmt.Sprintf("Of the %s in doubt two fingers come out alike on one: %s.", wording.Count(len(doubts), "note"), first))
	case near == 1:
		out = append(out, first+" come out alike.")
	case fair > 0:
		out = append(out, "Another finger would cost little more; the choices below say how much.")
	case len(p.Doubts) > 0 && len(p.IfTaken)+len(p.InText) == 0 && slices.ContainsFunc(p.Doubts, func(i int) bool { return notes.Of(i).Piled == "" }):
		out = append(out, "Editors finger such a place in several ways.")
	}
	var signs, fixed, given []string // a row of digits for one sign
	for _, i := range p.Notes {
		if n := notes.Of(i); n != nil && len(n.Fingers) > 1 {
			said := fmt.Sprintf("%s (m. %s, beat %s) %s", n.Pitch, n.Measure, m.More[i].Beat,
				strings.Trim(fmt.Sprint(n.Fingers), "[]"))
			if upper := n.Fingers[0] > n.Fingers[1]; len(n.Fingers) == 2 && upper == (n.Hand == score.Right) {
				said += ", from the upper note"
			}
			switch {
			case m.More[i].RowLengths != nil && !m.More[i].Given:
				signs = append(signs, said)
			case slices.Equal(inText(n), n.Fingers):
				given = append(given, said)
			default:
				fixed = append(fixed, said)
			}
		}
	}
	if len(signs) > 0 {
		out = append(out, "Ornaments, fingered as a row: "+strings.Join(signs, "; ")+
			". Choose the note to change all its fingers.")
	}
	if len(fixed) > 0 {
		out = append(out, "Fingers of a sign, in the order of playing, which follow from the digit of its note: "+strings.Join(fixed, "; ")+".")
	}
	if len(given) > 0 {
		out = append(out, "Fingers of a sign, in the order of playing, as the text has them: "+strings.Join(given, "; ")+".")
	}
	if v.Mostly != "" {
		out = append(out, fmt.Sprintf("Most of the effort here is %s.", v.Mostly))
	}
	return out
}

// saidOnce says what lint would find in a sentence that takes its severity and its message; what is the same of several
// notes is said once, with how many places.
func saidOnce(sentence string, found []review.FoundIfTaken) (out []string) {
	said := map[string]int{}
	for i := range found {
		said[found[i].Severity+found[i].Message]++
	}
	for i := range found {
		f := &found[i]
		n := said[f.Severity+f.Message]
		if n == 0 {
			continue
		}
		said[f.Severity+f.Message] = 0
		how := f.Severity
		if n > 1 {
			how = fmt.Sprintf("%s, at %d places", how, n)
		}
		out = append(out, fmt.Sprintf(sentence, how, f.Message))
	}
	return out
}

// readAsPiles says which digits of the text are read as those of several keys: to take the passage is to say so.
func (m *Material) readAsPiles(p *review.Passage, notes state.ByNumber) (out []string) {
	var places []string
	read := map[string][]string{}
	for _, i := range p.Doubts {
		n := notes.Of(i)
		if n.Piled == "" {
			continue
		}
		place := fmt.Sprintf("%s (m. %s, beat %s)", n.Piled, n.Measure, m.More[i].Beat)
		if read[place] == nil {
			places = append(places, place)
		}
		read[place] = append(read[place], fmt.Sprintf("%s with %d", n.Pitch, n.Finger))
	}
	for _, place := range places {
		out = append(out, fmt.Sprintf("The digits at %s would be a change of finger; they are read as those of the keys struck together: %s. Taken, it is decided so; they print as they stand.",
			place, wording.List(read[place])))
	}
	return out
}

// mostly names what more than half of an effort is, "" where nothing is.
func mostly(shares state.Effort) string {
	var worst state.Share
	var sum int64
	for _, s := range shares {
		if s.MilliNats > worst.MilliNats {
			worst = s
		}
		sum += max(s.MilliNats, 0)
	}
	if sum > 0 && worst.MilliNats*2 > sum {
		return worst.Criterion
	}
	return ""
}

func (m *Material) doubtOf(n *state.Note) doubt {
	d := doubt{Place: fmt.Sprintf("m. %s, beat %s", n.Measure, m.More[n.N].Beat), Pitch: n.Pitch, Finger: n.Finger}
	for _, c := range m.More[n.N].Choices {
		d.Others = append(d.Others, fmt.Sprintf("%d, %s", c.Finger, wording.AsLikely(c.Regret)))
	}
	return d
}

// pianists says a share of adult pianists (FACTS §1.1: a normal curve through
// published means) no more exactly than it is known.
func pianists(share state.Percent) string {
	switch {
	case share >= 98:
		return "nearly all adult pianists"
	case share <= 2:
		return "hardly any adult pianist"
	}
	return fmt.Sprintf("about %d of 100 adult pianists", (share+2)/5*5)
}

// inText lists the digits that stand at a note in the text, alternatives left out.
func inText(n *state.Note) (out []int) {
	for k := range n.Source {
		if s := &n.Source[k]; !s.Alternate && !s.WitnessOnly {
			for _, digit := range s.Text {
				if digit >= '1' && digit <= '5' {
					out = append(out, int(digit-'0'))
				}
			}
		}
	}
	return out
}
