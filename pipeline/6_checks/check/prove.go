package check

import (
	"maps"
	"slices"
	"strings"

	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/policies"
)

// input is one thing a result stands on that is not what it was, and how to
// put it back.
type input struct {
	name string
	back func(*pipeline.Inputs)
}

// Names of inputs, as causes are named.
const (
	thePolicy    = "policy"
	theDecisions = "decisions"
	theManifest  = "manifest"
	theText      = "text"
	theLayout    = "layout"
	theFile      = "file of the score, in nothing that diff compares" // playback, voices, what the file says of itself
	theDay       = "day"
	theEngine    = "engine"
	theWeights   = "weights"
	theWitnesses = "witnesses"
	theDraft     = "draft"
	theRules     = "rules of lint"
)

// differing lists the inputs that are not what they were. Engine, rules, witnesses, drafts and weights other
// than the program's own cannot be put back: they are what is left. SameInputs looks at the same list.
func (p *prover) differing() {
	now := pipeline.InputsOf(p.now)
	add := func(name string, back func(*pipeline.Inputs)) {
		p.inputs = append(p.inputs, input{name, back})
		p.out.Inputs = append(p.out.Inputs, name)
	}
	old := policies.Resolved(p.was.Policy, "passed")
	if keys := policies.Differing(old, now.Policy); len(keys) > 0 {
		add(thePolicy+" ("+wording.List(keys)+")", func(in *pipeline.Inputs) { in.Policy = old })
	}
	if !sameDecisions(p.was.Decisions, now.Decisions) {
		add(theDecisions, func(in *pipeline.Inputs) { in.Decisions = p.was.Decisions })
	}
	if !maps.Equal(p.was.Settings, now.Piece.Settings()) {
		add(theManifest, func(in *pipeline.Inputs) { in.Piece = p.settings })
	}
	if p.was.ScoreSum != source.Sum(now.Data) {
		name := theText
		if d := now.Piece.Draft; p.layout && (d == nil || d.Score != "") { // a draft typed in the text is more than layout
			if name = theLayout; len(p.laidOut) == 0 {
				name = theFile
			}
		}
		if p.text != nil {
			add(name, func(in *pipeline.Inputs) { in.Data = p.text })
		} else {
			p.out.Inputs = append(p.out.Inputs, name+" (not kept as passed)")
		}
	}
	if p.was.When != now.Today && slices.ContainsFunc(now.Decisions, expires) {
		add(theDay, func(in *pipeline.Inputs) { in.Today = p.was.When })
	}
	if p.witnessesChanged() {
		p.out.Inputs = append(p.out.Inputs, theWitnesses)
	}
	if p.draftChanged() {
		p.out.Inputs = append(p.out.Inputs, theDraft)
	}
	if p.was.Engine != pipeline.EngineVersion {
		p.out.Inputs = append(p.out.Inputs, theEngine)
	}
	if p.rulesChanged() {
		p.out.Inputs = append(p.out.Inputs, theRules)
	}
	switch shipped := pipeline.ShippedWeights(); {
	case p.weightsGone():
		p.out.Inputs = append(p.out.Inputs, theWeights)
	case p.was.Weights != p.now.Weights.Sum:
		add(theWeights, func(in *pipeline.Inputs) { in.Weights = shipped })
	}
}

// weightsGone says that the weights are others than when the piece was passed, and those of then cannot be put
// back: a state keeps their sum alone, and they are not the program's own.
func (p *prover) weightsGone() bool {
	return p.was.Weights != p.now.Weights.Sum && p.was.Weights != pipeline.ShippedWeights().Sum
}

// variant is a piece worked out with some inputs put back.
type variant struct {
	snapshot passed.Snapshot
	oldText  bool // its notes are those of the passed text
	failed   bool
}

func (p *prover) work(back ...func(*pipeline.Inputs)) variant {
	in := pipeline.InputsOf(p.now)
	in.Press = p.now.Press
	for _, b := range back {
		b(&in)
	}
	if d := in.Piece.Draft; d != nil && d.Score == "" {
		in.Draft = in.Data // the draft is what is typed in that text
	}
	p.out.Reruns++
	w, err := pipeline.Again(p.now, in)
	if err != nil {
		return variant{failed: true}
	}
	return variant{snapshot: passed.SnapshotOf(w.Result), oldText: source.Sum(in.Data) == p.was.ScoreSum}
}

// restores reports whether a variant gives back what was passed where a
// change stands.
func (p *prover) restores(v variant, c *Change) bool {
	if v.failed {
		return false
	}
	switch c.Kind {
	case FindingNew:
		return !slices.Contains(v.snapshot.Findings, c.New)
	case FindingGone, FindingLetStand:
		return slices.Contains(v.snapshot.Findings, c.Old)
	case Redistribution:
		if c.New != "" {
			return !slices.Contains(v.snapshot.Redistributions, c.New)
		}
		return slices.Contains(v.snapshot.Redistributions, c.Old)
	case Second:
		if c.New != "" {
			return !slices.Contains(v.snapshot.Seconds, c.New)
		}
		return slices.Contains(v.snapshot.Seconds, c.Old)
	case Roll:
		if c.New != "" {
			return !slices.Contains(v.snapshot.Rolls, c.New)
		}
		return slices.Contains(v.snapshot.Rolls, c.Old)
	case NoteAdded, NoteMissing:
		return v.oldText && p.sum != p.was.ScoreSum ||
			len(v.snapshot.Notes) == len(p.was.Notes) && len(p.was.Notes) != len(p.current.Notes)
	}
	at := c.row
	if v.oldText && len(v.snapshot.Notes) == len(p.was.Notes) {
		at = c.old
	}
	if at >= len(v.snapshot.Notes) {
		return false
	}
	n, o := &v.snapshot.Notes[at], &p.was.Notes[c.old]
	switch c.Kind {
	case Text:
		return n.At == o.At && n.Pitch == o.Pitch
	case Hand:
		return n.Hand == o.Hand
	case Fingers:
		return n.Fingers == o.Fingers
	case Row:
		return n.Row == o.Row
	case Printed:
		return n.Printed == o.Printed
	}
	return n.Whose == o.Whose
}

// prove finds the cause of each change: the one input that, put back alone,
// gives back what was passed; of a policy, the one key, if one suffices; else
// the fewest inputs that do together; else what cannot be put back.
func (p *prover) prove() {
	open := make([]*Change, 0, len(p.out.Changes))
	for i := range p.out.Changes {
		if p.out.Changes[i].Cause == "" {
			open = append(open, &p.out.Changes[i])
		}
	}
	explain := func(v variant, cause string) {
		open = slices.DeleteFunc(open, func(c *Change) bool {
			if p.restores(v, c) {
				c.Cause = cause
				return true
			}
			return false
		})
	}
	for _, in := range p.inputs {
		if len(open) == 0 {
			return
		}
		if strings.HasPrefix(in.name, thePolicy) {
			open = p.byPolicy(open)
			continue
		}
		explain(p.work(in.back), in.name)
	}
	for len(open) > 0 && len(p.inputs) > 1 {
		cause, v, ok := p.together(open)
		if !ok {
			break
		}
		explain(v, cause) // at least the first is explained: it ends
	}
	for _, c := range open {
		c.Cause = p.elimination(c.Kind)
	}
}

// fewKeys are tried one by one at once; more are tried in groups first.
const fewKeys = 3

// byPolicy finds the keys of the policy that, put back alone, give back what
// was passed; for what no key alone gives back, the keys together. It gives
// the changes still to be explained. Keys that bear on the least come first.
func (p *prover) byPolicy(open []*Change) []*Change {
	old := policies.Resolved(p.was.Policy, "passed")
	keys := policies.Differing(old, p.now.Policy)
	ordered := slices.Clone(keys)
	slices.SortStableFunc(ordered, func(a, b string) int { return pipeline.Bears(a) - pipeline.Bears(b) })
	if len(keys) > fewKeys {
		return p.byGroup(old, ordered, open)
	}
	for _, key := range ordered {
		open = p.byKeys(old, []string{key}, open, nil)
	}
	if len(keys) > 1 {
		open = p.byKeys(old, keys, open, nil)
	}
	return open
}

// byGroup puts a group of keys back and, where that gives back anything, each
// half of it: one guilty key of n is found in about 2·log n workings.
func (p *prover) byGroup(old *policies.Policy, keys []string, open []*Change) []*Change {
	return p.byKeys(old, keys, open, func(mine []*Change) []*Change {
		mine = p.byGroup(old, keys[:len(keys)/2], mine)
		return p.byGroup(old, keys[len(keys)/2:], mine)
	})
}

// byKeys puts keys back together and names them as the cause of the changes
// that this undoes, but for those that closer explains; nil explains none. It
// gives the changes still to be explained.
func (p *prover) byKeys(
	old *policies.Policy, keys []string, open []*Change, closer func([]*Change) []*Change,
) (rest []*Change) {
	if len(open) == 0 {
		return nil
	}
	v := p.work(func(in *pipeline.Inputs) { in.Policy = in.Policy.With(old, keys...) })
	var mine []*Change
	for _, c := range open {
		if p.restores(v, c) {
			mine = append(mine, c)
		} else {
			rest = append(rest, c)
		}
	}
	cause := thePolicy + ": " + keys[0]
	if len(keys) > 1 {
		if closer != nil && len(mine) > 0 {
			mine = closer(mine)
		}
		keys = p.needed(old, keys, mine)
		cause = thePolicy + ": " + wording.List(keys)
		if len(keys) > 1 {
			cause += " together"
		}
	}
	for _, c := range mine {
		c.Cause = cause
	}
	return rest
}

// manyKeys are not tried to be done without, one by one: it would take as many workings.
const manyKeys = 16

// needed takes out of keys that give changes back together those without which
// they are given back all the same.
func (p *prover) needed(old *policies.Policy, keys []string, changes []*Change) []string {
	if len(changes) == 0 || len(keys) > manyKeys {
		return keys
	}
	for i := 0; i < len(keys) && len(keys) > 1; {
		fewer := slices.Delete(slices.Clone(keys), i, i+1)
		v := p.work(func(in *pipeline.Inputs) { in.Policy = in.Policy.With(old, fewer...) })
		if slices.ContainsFunc(changes, func(c *Change) bool { return !p.restores(v, c) }) {
			i++
		} else {
			keys = fewer
		}
	}
	return keys
}

// together puts everything back that can be, and takes out of it, one by one,
// what is not needed for the first change that this explains.
func (p *prover) together(open []*Change) (string, variant, bool) {
	backs := func(list []input) (out []func(*pipeline.Inputs)) {
		for _, in := range list {
			out = append(out, in.back)
		}
		return out
	}
	all := p.work(backs(p.inputs)...)
	k := slices.IndexFunc(open, func(c *Change) bool { return p.restores(all, c) })
	if k < 0 {
		return "", variant{}, false
	}
	needed, best := slices.Clone(p.inputs), all
	for i := 0; i < len(needed) && len(needed) > 2; {
		fewer := slices.Delete(slices.Clone(needed), i, i+1)
		if v := p.work(backs(fewer)...); p.restores(v, open[k]) {
			needed, best = fewer, v
		} else {
			i++
		}
	}
	var names []string
	for _, in := range needed {
		names = append(names, in.name)
	}
	return "combination: " + wording.List(names), best, true
}

// elimination names what is left when everything else is as it was. Rules of lint find and change nothing else.
func (p *prover) elimination(kind Kind) string {
	var left []string
	if p.was.Engine != pipeline.EngineVersion {
		left = append(left, theEngine+" "+p.was.Engine+" → "+pipeline.EngineVersion)
	}
	if p.weightsGone() {
		left = append(left, theWeights)
	}
	if p.text == nil && p.was.ScoreSum != p.sum {
		left = append(left, theText+" (not kept as passed, so it cannot be put back)")
	}
	if p.witnessesChanged() {
		left = append(left, theWitnesses)
	}
	if p.draftChanged() {
		left = append(left, theDraft)
	}
	if p.rulesChanged() && (kind == FindingNew || kind == FindingGone || kind == FindingLetStand) {
		left = append(left, theRules)
	}
	if len(left) == 0 {
		return theEngine + " (nothing else differs, and its version is the same)"
	}
	return wording.List(left)
}

// expires reports whether the day bears on a decision.
func expires(d decision.Decision) bool { return d.Until != "" }

// witnessesChanged reports whether a witness reads otherwise than when the
// piece was passed. Witnesses are not kept, and cannot be put back.
func (p *prover) witnessesChanged() bool {
	return !slices.Equal(p.was.Witnesses, p.now.WitnessSums())
}

// draftChanged reports whether the file of the editor's draft reads otherwise than when the piece was passed, or is
// another, or none. It is not kept, and cannot be put back; a draft that is typed in the text changes with the text.
func (p *prover) draftChanged() bool {
	if d := p.now.Piece.Draft; d != nil && d.Score == "" && p.was.Draft == p.was.ScoreSum {
		return false
	}
	return p.was.Draft != p.now.DraftSum()
}

// rulesChanged reports whether the rules of lint are others. States of older programs do not say which they were.
func (p *prover) rulesChanged() bool { return p.was.Rules != "" && p.was.Rules != pipeline.RulesSum() }

// SameInputs reports whether a piece, opened and not yet worked on, stands on exactly what it was passed on: then it
// comes out as it was passed. It goes by content alone, whatever files are called and wherever they lie.
func SameInputs(now *pipeline.PieceRun, was *passed.State) bool {
	expiring := was.When != now.Today && slices.ContainsFunc(now.Decisions, expires)
	return source.Sum(now.Data) == was.ScoreSum &&
		slices.Equal(was.Witnesses, now.WitnessSums()) && was.Draft == now.DraftSum() &&
		maps.Equal(was.Settings, now.Piece.Settings()) && (was.Heads == nil || maps.Equal(was.Heads, now.Heads)) &&
		maps.Equal(was.Policy, now.Policy.Values()) &&
		sameDecisions(was.Decisions, now.Decisions) && !expiring &&
		was.Weights == now.Weights.Sum && was.Engine == pipeline.EngineVersion && was.Rules == pipeline.RulesSum()
}
