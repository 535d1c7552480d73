package keying

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/rules/lint/decision-query"
)

// Found is a finding that a line can let stand.
type Found struct {
	Rule    string
	Measure int        // by index
	Hand    score.Hand // NoHand where it speaks of both, or of none
	Speaks  []int      // notes that it speaks of; none where it is about a measure
	Notes   []int      // notes by which it is let stand
	Instead string     // what answers it, where it cannot be let stand
	OfText  bool       // it speaks of the text alone, whatever hand it names: a line without a hand means it too
	Stands  bool       // an editor let it stand: only a line that names its rule means it, to give it another reason
	Entry   string     // the entry of decisions that it is about, as file and line, where taking it out answers it
	Grip    bool       // it says that notes struck together are beyond the hand: they may be rolled, offered or not
}

// HasReason says that a short line ends in a reason in the editor's own words.
func HasReason(line string) bool {
	return slices.ContainsFunc(strings.Fields(line), func(w string) bool {
		return w == "ok:" || w == "stet" || w == "stet:" || isQuery(w)
	})
}

// Line reads one short line, as Key does, and what it says of findings: stet RULE: REASON and stet: REASON let findings
// stand, ok: REASON takes the digits too; the reason is the findings' where there are any, else the digits'. An empty line or a remark gives nothing.
func Line(k *Keying, f *decision.Finder, line string) ([]decision.Decision, error) {
	decided, err := read(k, f, line)
	if err != nil {
		return nil, err
	}
	return decided, k.leavesOut(f, decided)
}

func read(k *Keying, f *decision.Finder, line string) ([]decision.Decision, error) {
	words := strings.Fields(line)
	if len(words) > 0 && strings.HasPrefix(words[0], "#") && words[0] != "#" {
		if p, err := k.passage(words[0]); err == nil && p.Offer.To != score.NoHand && !slices.Contains(words, rollWord) {
			return k.offers(f, p, words[1:])
		}
	}
	asks := slices.IndexFunc(words, isQuery) // what follows is the editor's own words
	if asked, ok, err := k.askedOfFindings(f, words); ok || err != nil {
		return asked, err
	}
	if len(words) > 2 && strings.HasPrefix(words[0], "#") && (words[1] == "ok" || words[1] == "ok!") && words[2] == rollWord {
		return k.okAndRoll(f, words)
	}
	if at := slices.Index(words, rollWord); at > 0 && at <= 3 && words[0] != "#" && !slices.ContainsFunc(words[:at], isQuery) &&
		!slices.ContainsFunc(words[:at], func(w string) bool { return strings.HasPrefix(w, "stet") || w == "ok:" || w == "ok" }) {
		return k.rolled(f, words, at)
	}
	if len(words) > 1 && strings.HasPrefix(words[0], "#") && (words[1] == "ok" || words[1] == "ok!") {
		if p, err := k.passage(words[0]); err == nil && p.WantsReason {
			return nil, fmt.Errorf("to take %s as it is makes an error (%s)\nhint: %s ok: REASON, or other digits", words[0],
				strings.Trim(rulesOf(p.IfTaken), " ()"), words[0])
		}
	}
	at := slices.IndexFunc(words, func(w string) bool { return w == "stet" || w == "stet:" || w == "ok:" })
	if at < 1 || words[0] == "#" || asks > 0 && asks < at {
		d, err := one(Key(k, f, line))
		return k.andAnswers(f, k.forReturns(f, d), err, words)
	}
	rule, why := "", ""
	switch named, rest, colon := strings.Cut(strings.Join(words[at+1:], " "), ":"); {
	case words[at] != "stet":
		why = strings.Join(words[at+1:], " ")
	case colon:
		rule, why = strings.TrimSpace(named), strings.TrimSpace(rest)
	default:
		return k.plainStet(f, words, at, line)
	}
	all, err := k.foundAt(words[:at])
	if err != nil {
		return nil, err
	}
	found := open(all)
	if why == "" {
		return nil, fmt.Errorf("a stet on a finding needs its reason\nhint: %s: meant as a roll",
			strings.TrimSuffix(strings.TrimSpace(line), ":"))
	}
	if words[at] == "ok:" && strings.HasPrefix(words[0], "#") { // what is taken with a reason is taken knowing of them
		if p, err := k.passage(words[0]); err == nil {
			found = slices.Concat(found, p.IfTaken)
		}
	}
	chosen := slices.DeleteFunc(slices.Clone(found), func(one Found) bool { return rule != "" && one.Rule != rule })
	if len(chosen) == 0 && rule != "" && words[at] == "stet" { // it stands already: for this reason from now on
		chosen = slices.DeleteFunc(slices.Clone(all), func(one Found) bool { return one.Rule != rule })
	}
	if rule == "" { // an entry of decisions is answered in its file: the rest stands all the same
		can := slices.DeleteFunc(slices.Clone(chosen), func(one Found) bool { return one.Instead != "" || len(one.Notes) == 0 })
		if len(can) > 0 {
			chosen = can
		}
	}
	if len(chosen) == 0 && words[at] == "ok:" { // nothing is found there: the digits are taken, with the reason
		taken, err := one(k.takenFor(f, words[:at], why))
		return k.forReturns(f, taken), err
	}
	if len(chosen) == 0 {
		what := "no finding"
		if rule != "" {
			what += " of " + rule
		}
		if len(found) == 0 && words[0][0] != '#' {
			elsewhere, _ := k.foundAt(words[:min(at, 2)]) // in the measure
			found = open(elsewhere)
		}
		return nil, fmt.Errorf("%s speaks of that place%s", what, hintOf(found))
	}
	var out []decision.Decision
	if words[at] == "ok:" {
		taken, err := k.takenFor(f, words[:at], why)
		if err != nil {
			return nil, fmt.Errorf("%w\nhint: %s stet: %s", err, strings.Join(words[:at], " "), why)
		}
		taken.Why = "" // the reason is that of what stands: the commentary prints it there, and not under every digit
		out = append(out, k.forReturns(f, []decision.Decision{*taken})...)
	}
	for _, one := range chosen {
		if one.Instead != "" {
			return nil, fmt.Errorf("what %s says in m. %s cannot be let stand\nhint: %s", one.Rule,
				k.Score.Measures[one.Measure].Number, one.Instead)
		}
		d := decision.Decision{Verb: decision.Stet, On: decision.Finding, Rule: one.Rule, Why: why, By: k.By, When: k.When}
		for _, n := range one.Notes {
			d.Notes = append(d.Notes, f.Ref(n, nil))
		}
		if len(d.Notes) == 0 {
			return nil, fmt.Errorf("the finding of %s in m. %s names no note by which it could be let stand", one.Rule,
				k.Score.Measures[one.Measure].Number)
		}
		out = append(out, d)
	}
	return out, nil
}

// askedOfFindings reads a query about what is found, and nothing else: of a passage that asks no digit, #7 ? why, or of the
// text in a measure, named without a hand. Each finding is asked about, so that a word on it is the answer and no digit beside
// it is. ok is false for other lines.
func (k *Keying) askedOfFindings(f *decision.Finder, words []string) (out []decision.Decision, ok bool, err error) {
	if len(words) < 3 || !isQuery(words[1]) || words[0] == "#" {
		return nil, false, nil
	}
	found, err := k.foundAt(words[:1])
	if err != nil {
		return nil, false, err
	}
	if strings.HasPrefix(words[0], "#") {
		p, err := k.passage(words[0])
		if err != nil || p.Offer.To != score.NoHand || len(p.Notes) > 0 && (p.Taken == nil || len(p.Taken) > 0) {
			return nil, false, err
		}
	}
	for _, one := range open(found) {
		if one.Rule == decisionquery.Rule.Name || one.Entry != "" || len(one.Notes) == 0 {
			continue
		}
		d := decision.Decision{Verb: decision.Query, On: decision.Finding, Rule: one.Rule, Why: strings.Join(words[2:], " "), By: k.By, When: k.When}
		for _, n := range one.Notes {
			d.Notes = append(d.Notes, f.Ref(n, nil))
		}
		out = append(out, d)
	}
	if len(out) == 0 && !strings.HasPrefix(words[0], "#") {
		return nil, false, fmt.Errorf("nothing is found of the text in m. %s\nhint: name a note, as in: %s r 1 ? %s", words[0], words[0], strings.Join(words[2:], " "))
	}
	return out, len(out) > 0, nil
}

// takenFor takes the digits of a place for a reason, which is whole: its last word is no order.
func (k *Keying) takenFor(f *decision.Finder, place []string, why string) (*decision.Decision, error) {
	d, err := Key(k, f, strings.Join(append(slices.Clone(place), "ok"), " "))
	if d != nil {
		d.Why = why
	}
	return d, err
}

// andAnswers adds to digits that are taken of a passage the answer to what is asked of it.
func (k *Keying) andAnswers(f *decision.Finder, taken []decision.Decision, err error, words []string) ([]decision.Decision, error) {
	if err != nil || len(words) < 2 || words[1] != "ok" && words[1] != "ok!" || !strings.HasPrefix(words[0], "#") {
		return taken, err
	}
	p, err := k.passage(words[0])
	if err != nil {
		return nil, err
	}
	for _, one := range p.Findings {
		if one.Rule != decisionquery.Rule.Name || len(one.Notes) == 0 {
			continue
		}
		d := decision.Decision{
			Verb: decision.Stet, On: decision.Finding, Rule: one.Rule, Why: "by the digits that are taken", By: k.By, When: k.When,
		}
		for _, n := range one.Notes {
			d.Notes = append(d.Notes, f.Ref(n, nil))
		}
		taken = append(taken, d)
	}
	return taken, nil
}

// plainStet reads stet without a rule: it lets digits of the text stand, and where there are none but findings, says how
// these are let stand.
func (k *Keying) plainStet(f *decision.Finder, words []string, at int, line string) ([]decision.Decision, error) {
	d, err := one(Key(k, f, line))
	if err == nil {
		return d, nil
	}
	all, wrong := k.foundAt(words[:at])
	found := open(all)
	if wrong != nil || len(found) == 0 {
		return nil, err
	}
	why := strings.Join(words[at+1:], " ")
	if why == "" {
		why = "REASON"
	}
	return nil, fmt.Errorf("%s there; a finding stands only with a reason%s\nhint: %s stet: %s",
		wording.Count(len(found), "finding"), rulesOf(found), strings.Join(words[:at], " "), why)
}

// open leaves out what an editor let stand.
func open(found []Found) []Found {
	return slices.DeleteFunc(slices.Clone(found), func(one Found) bool { return one.Stands })
}

func one(d *decision.Decision, err error) ([]decision.Decision, error) {
	if d == nil || err != nil {
		return nil, err
	}
	return []decision.Decision{*d}, nil
}

// rulesOf names the rules of findings in brackets.
func rulesOf(found []Found) string {
	var names []string
	for _, one := range found {
		if !slices.Contains(names, one.Rule) {
			names = append(names, one.Rule)
		}
	}
	return " (" + strings.Join(names, ", ") + ")"
}

func hintOf(found []Found) string {
	if len(found) == 0 {
		return ""
	}
	return "\nhint: there is" + strings.Trim(strings.ReplaceAll(rulesOf(found), "(", ""), ")")
}

// foundAt lists the findings of a passage, #7, or of a place: measures and hand, or a beat in a measure. What speaks of
// no hand or of a measure as a whole belongs to both hands and every beat.
func (k *Keying) foundAt(words []string) (out []Found, err error) {
	if strings.HasPrefix(words[0], "#") {
		p, err := k.passage(words[0])
		if err != nil {
			return nil, err
		}
		return p.Findings, nil
	}
	if from, to, wrong := k.measures(words[0]); len(words) == 1 && wrong == nil { // what speaks of no hand, or of the text
		for _, one := range k.Found {
			if from <= one.Measure && one.Measure <= to && (one.Hand == score.NoHand || one.OfText) {
				out = append(out, one)
			}
		}
		return out, nil
	}
	if len(words) < 2 {
		return nil, fmt.Errorf("%q is too short\nhint: measure, hand, as in: 12 r stet: meant as a roll", words[0])
	}
	hand, err := handOf(words[1])
	if err != nil {
		return nil, err
	}
	from, to, err := k.measures(words[0])
	if err != nil {
		return nil, err
	}
	var struck []int // on the beat
	if len(words) > 2 {
		onsets, ok := k.Score.Keyed(from, words[2])
		if !ok || from != to {
			return nil, fmt.Errorf("%q is no beat of m. %s", words[2], words[0])
		}
		for _, n := range k.line(hand, func(n *score.Note) bool { return n.Measure == from }) {
			if slices.Contains(onsets, k.Score.Notes[n].Onset) {
				struck = append(struck, n)
			}
		}
	}
	for _, one := range k.Found {
		switch {
		case one.Measure < from || one.Measure > to || one.Hand != score.NoHand && one.Hand != hand:
		case len(words) > 2 && len(one.Speaks) > 0 &&
			!slices.ContainsFunc(one.Speaks, func(n int) bool { return slices.Contains(struck, n) }):
		default:
			out = append(out, one)
		}
	}
	return out, nil
}
