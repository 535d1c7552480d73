package page

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
	"fingerproof/rules/lint/decision-query"
	"fingerproof/rules/lint/decision-unplaced"
	"fingerproof/rules/lint/digit-missing"
	"fingerproof/rules/parallel"
)

// gathered is what one rule says in a passage: its findings as one line where there are several.
type gathered struct {
	Rule, Severity, Sentence string
	Findings                 []foundView
	Many                     bool
	Letting                  bool // they can be let stand
	Putting                  int  // digits of witnesses that could be put in, or digits that could be printed
	Prints                   bool // those that are worked out, and not put in
}

// foundView is a finding with how it can be answered.
type foundView struct {
	state.Finding
	Put     *put // by a digit, nil where there is none
	Letting bool // by letting it stand
}

// canStand says that a finding can be let stand: something is played where it is found, and it is not about an entry of
// decisions, which is mended in its file, or by deciding anew.
func (m *Material) canStand(f *state.Finding) bool {
	if f.Rule != decisionquery.Rule.Name && f.Rule != decisionunplaced.Rule.Name && // they are answered
		slices.ContainsFunc(all.OfDecisions(), func(r *lint.Rule) bool { return r.Name == f.Rule }) {
		return m.staleEntry(f) != ""
	}
	return len(review.StandsBy(m.look().notes, m.Result, f)) > 0
}

// toldOnly says that a passage asks nothing: what is found there of the text cannot be let stand, since nothing is played by which
// a decision could name it.
func (m *Material) toldOnly(p *review.Passage) bool {
	return p.OfText && !slices.ContainsFunc(p.Findings, func(k int) bool { return m.canStand(&m.Result.Findings[k]) })
}

// group is what one rule says of a piece in many places, to be judged at once.
type group struct {
	Rule, Severity, Words, Places string
	Fingerprints                  []string
	Putting                       int
	Prints                        bool
	Each                          []foundView // the same one by one
}

// groupFrom is the number of passages in which a rule has to speak for its findings to be judged at once.
const groupFrom = 2

// listedPlaces is how many places of a group are named.
const listedPlaces = 12

// placesOf names the measures in which findings stand, each once for a hand: the findings of both hands come mixed, and in the order of
// the passages. Of more than are named it counts the measures.
func placesOf(found []state.Finding) string {
	var places []string
	named, more := map[int]bool{}, map[int]bool{}
	for i := range found {
		place := "m. " + found[i].Measure
		if word := found[i].Hand.Words(); word != "" {
			place += " " + strings.TrimSuffix(word, " hand")
		}
		switch {
		case slices.Contains(places, place):
		case len(places) < listedPlaces:
			places = append(places, place)
			named[found[i].MeasureIndex] = true
		default:
			more[found[i].MeasureIndex] = true
		}
	}
	maps.DeleteFunc(more, func(measure int, _ bool) bool { return named[measure] })
	if len(more) > 0 {
		places = append(places, "and "+wording.Count(len(more), "measure")+" more")
	}
	return strings.Join(places, ", ")
}

// lostDigit is the rule that speaks of digits of witnesses that the text lacks.
const lostDigit = "digit-of-witness-lost"

// thenMark is the fingerprint of what lint would find, were its notes taken.
func thenMark(f *review.FoundIfTaken) string { return fmt.Sprintf("then %s %d", f.Rule, f.Notes[0]) }

// ifTaken gives what lint would find of a passage as findings that can be let stand.
func (m *Material) ifTaken(p *review.Passage) (out []foundView) {
	for i := range p.IfTaken {
		f := &p.IfTaken[i]
		n := m.look().notes.Of(f.Notes[0])
		if n == nil {
			continue
		}
		out = append(out, foundView{Letting: true, Finding: state.Finding{
			Rule: f.Rule, Severity: f.Severity, Message: f.Message, Notes: f.Notes, Measure: n.Measure, MeasureIndex: n.MeasureIndex,
			Hand: n.Hand, Beat: m.More[n.N].Beat, Fingerprint: thenMark(f),
		}})
	}
	return out
}

// gather puts the findings of a passage together by rule, in order of their first.
func (m *Material) gather(findings []state.Finding) []gathered {
	var out []gathered
	for _, f := range findings {
		k := slices.IndexFunc(out, func(g gathered) bool { return g.Rule == f.Rule && g.Severity == f.Severity })
		if k < 0 {
			k = len(out)
			out = append(out, gathered{Rule: f.Rule, Severity: f.Severity})
		}
		g := &out[k]
		view := foundView{f, m.putOf(&f), m.canStand(&f)}
		g.Findings = append(g.Findings, view)
		g.Letting = g.Letting || view.Letting
		if view.Put != nil && !view.Put.Over {
			g.Putting++
			g.Prints = view.Put.Print
		}
	}
	for i := range out {
		g := &out[i]
		if g.Many = len(g.Findings) > 1; g.Many {
			g.Sentence = m.manySentence(g.Rule, g.Findings)
		}
	}
	return out
}

// manySentence says of several findings of one rule what they have in common.
func (m *Material) manySentence(rule string, findings []foundView) string {
	if rule == lostDigit {
		if sigla := m.siglaOf(findings); sigla != "" {
			return fmt.Sprintf("%s of %s that the text lacks", wording.Count(len(findings), "digit"), sigla)
		}
	}
	return fmt.Sprintf("%s: %d times", titleOf(rule), len(findings))
}

// siglaOf names the witnesses whose digits are lost, "" where one of the findings is of another kind.
func (m *Material) siglaOf(findings []foundView) string {
	var sigla []string
	for i := range findings {
		s := m.witnessDigit(&findings[i].Finding)
		if s == nil {
			return ""
		}
		sigla = append(sigla, s.Witnesses...)
	}
	slices.Sort(sigla)
	sigla = slices.Compact(sigla)
	word := "witness "
	if len(sigla) > 1 {
		word = "witnesses "
	}
	return word + wording.List(sigla)
}

// put is a digit by which a finding is answered.
type put struct {
	Text, From string // From is the witness that has it
	// Print says that it is worked out and kept from print: it is taken, to be printed always.
	Print bool
	// Over says that it was decided for a note that is gone, and can be taken over for the one that stands there now.
	Over bool
}

// putOf gives the digit by which a finding could be answered, nil where there is none.
func (m *Material) putOf(f *state.Finding) *put {
	if s := m.witnessDigit(f); s != nil {
		return &put{Text: s.Text, From: strings.Join(s.Witnesses, ", ")}
	}
	if u := m.lost(f); u != nil {
		return &put{Text: u.Digits, Over: true}
	}
	if f.Rule != digitmissing.Rule.Name || len(f.Notes) == 0 {
		return nil
	}
	if n := m.look().notes.Of(f.Notes[0]); n != nil && n.Finger > 0 && !n.Printed {
		return &put{Text: writtenDigit(n), Print: true}
	}
	return nil
}

// lost is the decision of which a finding says that it has lost its note, where another note stands there now and a digit was
// decided; nil for others.
func (m *Material) lost(f *state.Finding) *state.Unplaced {
	if f.Rule != decisionunplaced.Rule.Name || len(f.Notes) == 0 {
		return nil
	}
	for i := range m.Result.Unplaced {
		u := &m.Result.Unplaced[i]
		if u.Instead != nil && *u.Instead == f.Notes[0] && u.Digits != "" && strings.HasSuffix(f.Fix, u.Entry) &&
			strings.Contains(f.Message, " for "+u.Pitch+" in what was ") {
			return u
		}
	}
	return nil
}

// witnessDigit is the digit of a witness that a finding says is lost and that could be put in: the text has none at
// the note. nil for other findings.
func (m *Material) witnessDigit(f *state.Finding) *state.Source {
	if f.Rule != lostDigit || len(f.Notes) == 0 {
		return nil
	}
	n := m.look().notes.Of(f.Notes[0])
	if n == nil {
		return nil
	}
	var found *state.Source
	for k := range n.Source {
		s := &n.Source[k]
		if !s.WitnessOnly {
			return nil
		}
		if found == nil && !s.Alternate && strings.Contains(f.Message, "has "+s.Text+" on") {
			found = s
		}
	}
	return found
}

func titleOf(rule string) string {
	if r := all.Rule(rule); r != nil {
		return r.Title
	}
	return rule
}

// groups lists the rules that speak in many passages.
func (m *Material) groups() []group {
	passages := map[string]int{}
	var order []string
	at := map[string][]state.Finding{}
	then := map[string]int{}
	for i := range m.Passages {
		p := &m.Passages[i]
		seen := map[string]bool{}
		var all []state.Finding
		for _, k := range p.Findings {
			if f := &m.Result.Findings[k]; m.canStand(f) {
				all = append(all, *f)
			}
		}
		for _, f := range m.ifTaken(p) {
			all = append(all, f.Finding)
			if f.Severity != "error" {
				then[f.Rule]++
			}
		}
		for _, f := range all {
			if f.Severity == "error" {
				continue // errors are judged one by one
			}
			if len(at[f.Rule]) == 0 {
				order = append(order, f.Rule)
			}
			at[f.Rule] = append(at[f.Rule], f)
			if !seen[f.Rule] {
				seen[f.Rule] = true
				passages[f.Rule]++
			}
		}
	}
	var out []group
	var alone []state.Finding // of rules that speak in one passage each
	for _, rule := range order {
		if passages[rule] < groupFrom {
			alone = append(alone, at[rule]...)
			continue
		}
		found := at[rule]
		g := group{Rule: rule, Severity: found[0].Severity}
		g.Words = fmt.Sprintf("%s: %s", titleOf(rule), wording.Count(len(found), "place"))
		if then[rule] > 0 {
			g.Words += fmt.Sprintf(", %d of them once the digits are taken", then[rule])
		}
		for i := range found {
			g.Fingerprints = append(g.Fingerprints, found[i].Fingerprint)
			g.Each = append(g.Each, foundView{Finding: found[i]})
			if put := m.putOf(&found[i]); put != nil && !put.Over {
				g.Putting++
				g.Prints = put.Print
			}
		}
		g.Places = placesOf(found)
		out = append(out, g)
	}
	slices.SortStableFunc(out, func(a, b group) int {
		return cmp.Compare(severityRank(a.Severity), severityRank(b.Severity))
	})
	if len(alone) >= groupFrom {
		out = append(out, ofOnePlace(alone, then))
	}
	if g := m.goneGroup(); g != nil {
		out = append(out, *g)
	}
	return out
}

// goneRule names the group of entries that hold for nothing any more and do no harm.
const goneRule = "gone"

// gone lists the findings that let something stand which is not found any more: they are asked in no passage, and their
// entries can be taken out all the same.
func (m *Material) gone() (out []state.Finding) {
	for _, f := range m.Result.Findings {
		if m.staleEntry(&f) != "" && f.Severity == lint.Note.String() {
			out = append(out, f)
		}
	}
	return out
}

// goneGroup offers to take the entries out of what is gone, nil where there is none.
func (m *Material) goneGroup() *group {
	found := m.gone()
	if len(found) == 0 {
		return nil
	}
	g := group{Rule: goneRule, Severity: lint.Note.String(), Words: wording.Count(len(found), "finding") + " let stand and not found any more: nothing to do, the entries can be taken out"}
	for i := range found {
		g.Fingerprints = append(g.Fingerprints, found[i].Fingerprint)
		g.Each = append(g.Each, foundView{Finding: found[i]})
	}
	return &g
}

// ofOnePlace puts the findings together of which none comes again: each is said whole, the worst first, so that one look
// and one reason can answer them.
func ofOnePlace(alone []state.Finding, then map[string]int) group {
	slices.SortStableFunc(alone, func(a, b state.Finding) int {
		return cmp.Compare(severityRank(a.Severity), severityRank(b.Severity))
	})
	later := 0
	g := group{Severity: alone[0].Severity}
	for i := range alone {
		f := &alone[i]
		later += min(then[f.Rule], 1)
		g.Fingerprints = append(g.Fingerprints, f.Fingerprint)
		g.Each = append(g.Each, foundView{Finding: *f})
	}
	g.Words = wording.Count(len(alone), "finding") + " that no other is like"
	if later > 0 {
		g.Words += ", some of them once the digits are taken"
	}
	return g
}

func severityRank(s string) int { return slices.Index([]string{"error", "warning", "note"}, s) }

// kind is one kind of passage that the page can show by itself.
type kind struct {
	Value, Name string
	Count       int
}

// What a passage is mainly: each has one.
const (
	kindDoubt    = "doubt"
	kindFirm     = "firm"
	kindHandover = "handover"
	kindFinding  = "finding"
)

func kindOf(p *review.Passage) string {
	switch {
	case p.Redistribution >= 0:
		return kindHandover
	case p.Firm:
		return kindFirm
	case len(p.Doubts) > 0:
		return kindDoubt
	}
	return kindFinding
}

// about lists, divided by bars, what a passage can be found by: the rules that speak in it, the reason of a
// redistribution, what most of its effort is.
func about(v *passageView) string {
	out := []string{v.KindName}
	for _, f := range v.Findings {
		out = append(out, "rule: "+f.Rule)
	}
	for _, f := range v.IfTaken {
		out = append(out, "rule: "+f.Rule)
	}
	if v.Handover != nil {
		out = append(out, "reason: "+strings.TrimSuffix(v.Handover.Reason, "."))
	}
	if v.Again {
		out = append(out, "asked again")
	}
	if v.Mostly != "" {
		out = append(out, "effort: "+v.Mostly)
	}
	slices.Sort(out)
	return strings.Join(slices.Compact(out), "|")
}

// kinds lists what the passages of a page can be found by, with how many there are of each.
func kinds(judge []passageView) []kind {
	names := map[string]string{
		kindDoubt: "real doubts", kindFirm: "without doubt", kindHandover: "redistributions",
		kindFinding: "findings and no doubt",
	}
	counts := map[string]int{}
	for i := range judge {
		for _, word := range strings.Split(judge[i].About, "|") {
			counts[word]++
		}
	}
	var out []kind
	for _, word := range []string{kindDoubt, kindFirm, kindHandover, kindFinding} {
		if counts[word] > 0 {
			out = append(out, kind{word, names[word], counts[word]})
			delete(counts, word)
		}
	}
	var rest []string
	for word, n := range counts {
		if n > 0 {
			rest = append(rest, word)
		}
	}
	slices.Sort(rest)
	for _, word := range rest {
		out = append(out, kind{word, word, counts[word]})
	}
	return out
}

// brief says in a few words what there is to judge.
func (m *Material) brief(v *passageView) string {
	var parts []string
	switch v.KindName {
	case kindHandover:
		parts = append(parts, fmt.Sprintf("%s for the %s: %s", wording.Count(len(v.Handover.Notes), "note"),
			v.Handover.To.Words(), strings.TrimSuffix(v.Handover.Reason, ".")))
	case kindFirm:
		said := "without doubt: " + wording.Count(len(v.Open), "note") + " with a digit in print"
		if len(v.Open) == 0 {
			said = "without doubt; none of its digits prints"
		}
		parts = append(parts, said)
	case kindDoubt:
		first := v.Choices[0]
		said := fmt.Sprintf("%d on %s", first.Finger, first.Pitch)
		if choices := m.More[v.Doubts[0]].Choices; len(choices) > 0 {
			said = fmt.Sprintf("%d or %d on %s", first.Finger, choices[0].Finger, first.Pitch)
		}
		if piled := m.look().notes.Of(v.Doubts[0]).Piled; piled != "" {
			said += ", read from the digits at " + piled
		}
		if n := len(m.onceEach(v.Doubts)) - 1; n > 0 {
			said += fmt.Sprintf(", and %s more", wording.Count(n, "doubt"))
		}
		parts = append(parts, said)
	}
	for _, g := range v.Gathered {
		said := titleOf(g.Rule)
		if len(g.Findings) > 1 {
			said += fmt.Sprintf(" ×%d", len(g.Findings))
		}
		parts = append(parts, g.Severity+": "+said)
	}
	if v.Again {
		parts = append(parts, "asked again")
	}
	if len(v.Like) > 0 {
		parts = append(parts, wording.Count(len(v.Like), "like place"))
	}
	return strings.Join(parts, "; ")
}

// onceEach leaves out of a list of notes those that another voice writes on the same key at the same moment: they are shown, and
// doubted, as one.
func (m *Material) onceEach(list []int) (out []int) {
	notes := m.look().notes
	for _, i := range list {
		n := notes.Of(i)
		if !slices.ContainsFunc(out, func(o int) bool {
			x := notes.Of(o)
			return x.MeasureIndex == n.MeasureIndex && x.Onset == n.Onset && x.Grace == n.Grace && x.Midi == n.Midi && x.Hand == n.Hand && x.Finger == n.Finger
		}) {
			out = append(out, i)
		}
	}
	return out
}

// likeView is a place that is like a measure of a passage, as a card names it.
type likeView struct {
	Measure           int
	Place, Kind, Says string
	Not               string // why no digits are offered there
}

// likeViews lists the places to which a decision on a passage can go too, then those to which it can not, with the
// reason. What is decided there is no longer offered.
func (m *Material) likeViews(p *review.Passage) (offered, refused []likeView) {
	notes := m.look().notes
	for _, l := range m.Like[p.Number] {
		v := likeView{
			Measure: l.Measure, Place: m.measureRange(l.Measure, l.Measure), Kind: l.Words(), Not: l.Not,
		}
		moved := 0
		var keeps []string
		for k, to := range l.To {
			a, b := notes.Of(l.From[k]), notes.Of(to)
			switch {
			case a == nil || b == nil || writtenDigit(a) == writtenDigit(b):
			case b.Confidence == nil && !slices.Contains(m.Open, to):
				keeps = append(keeps, b.Pitch+" "+writtenDigit(b))
			default:
				moved++
			}
		}
		switch {
		case moved > 0:
			v.Says = wording.Count(moved, "digit") + " would change there"
		case len(keeps) > 0:
			v.Says = "the other digits are the same there"
		default:
			v.Says = "the same digits are suggested there"
		}
		if len(keeps) > 0 {
			v.Says = strings.Join(keeps, ", ") + " stays there; " + v.Says
		}
		switch {
		case l.Not != "":
			refused = append(refused, v)
		case l.Open > 0:
			offered = append(offered, v)
		}
	}
	return offered, refused
}

// returnsOf names the passages that are judged with a passage since they bring it back.
func (m *Material) returnsOf(p *review.Passage) []string {
	var out []string
	for i := range p.Goes {
		g := &p.Goes[i]
		how := m.howAlike(g)
		for _, y := range g.Yields {
			how += fmt.Sprintf("; %s as in passage %d, once that is decided", m.look().notes.Of(y[0]).Pitch, y[1])
		}
		out = append(out, fmt.Sprintf("%s (%s)", m.measureRange(g.First, g.Last), how))
	}
	return out
}

// howAlike says how the music of a passage comes again: transposed only where every key goes by the same interval.
func (m *Material) howAlike(g *review.Going) string {
	if g.Kind != parallel.Transposed {
		return g.Kind.String()
	}
	notes, by := m.look().notes, map[int]bool{}
	for _, pair := range g.Notes {
		by[notes.Of(pair[1]).Midi-notes.Of(pair[0]).Midi] = true
	}
	switch {
	case len(by) < 2:
		return g.Kind.String()
	case by[0]:
		return "with other accidentals"
	}
	return "transposed by steps of the key"
}
