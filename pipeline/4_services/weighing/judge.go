package weighing

import (
	"fingerproof/policies"
	"fingerproof/rules/hand"
)

// Limits say from where on something counts, in milli-nats but where another unit is named.
type Limits struct {
	Cost   int         // what a passage costs a hand more, that it counts as the dearer one
	Gain   int         // what it gains in an aim, that it is a gain
	Beyond hand.Length // how far a stretch goes beyond the ease of the policy's hand, that it asks for a larger one
	// Seldom is how likely editors print it, in ten-thousandths, that few would; Rare that hardly any would.
	Seldom, Rare int
}

// Verdict is what an editor hears of a passage.
type Verdict int

// The verdicts.
const (
	Usual    Verdict = iota // nothing speaks against it
	Costs                   // it costs most hands of the mix more and gains nothing
	Larger                  // it asks for a larger hand than the policy's
	Unusual                 // few editors would print it, and it gains: players should give it a chance
	Reasoned                // as Costs or Larger, and the editor gave a reason
)

// Personal says that the passage suits its maker rather than most, as far as the figures go.
func (v Verdict) Personal() bool { return v == Costs || v == Larger }

// judge gives a passage its verdict and its sentences.
func judge(in *Input, p *Passage) {
	l := &in.Limits
	gains := p.gains(l)
	switch {
	case p.Impossible || !p.meant():
	case gains && (p.Habit >= -habitual || p.onlyAtTempo(l)) && p.Share[0] < l.Seldom && p.Share[0] < p.Share[1]:
		p.Verdict = Unusual
	case gains || p.Habit < -habitual:
	case p.Needs[0].Size > p.Needs[1].Size && p.Needs[0].Beyond-p.Needs[1].Beyond >= l.Beyond:
		p.Verdict = Larger
	case p.spares() && p.Share[0] < l.Seldom && p.Share[0] < p.Share[1]:
		p.Verdict = Unusual
	case p.spares() || p.Beyond || min(p.Full.Line, p.Full.Memory, p.Full.Tempo) < -trifle:
	case p.MoreFor > 50 && p.Share[0] < l.Rare && p.Full.Sum() >= l.Cost && p.Full.Sum()+p.Habit >= l.Cost:
		p.Verdict = Costs
	}
	if p.Verdict.Personal() && p.Why != "" {
		p.Verdict = Reasoned
	}
	p.Dear = p.Verdict == Usual && !p.Impossible && p.Why == "" && p.AtSign() < 0 && p.Meant() == p.Differing() &&
		(p.MoreFor > 50 && p.Full.Sum() >= l.Cost && p.Share[0] < l.Rare/2 || p.Reach[1]-p.Reach[0] >= moreReach)
	p.Slip = p.looksLikeASlip(l)
	p.Says = p.words(l)
}

// habitual is how much more usual, in milli-nats, a fingering is than the other, that it is made for many whatever it
// costs; trifle is what no aim gains or loses to speak of.
const (
	habitual = 300
	trifle   = 100
)

// meant says that a passage is the editor's own: one digit that differs is a detail, and where the program goes on by itself
// it may have gone otherwise than the editor does. Digits at a sign are not weighed one by
// one, so that nothing is held against them.
func (p *Passage) meant() bool {
	return p.AtSign() < 0 && p.Meant() >= 2 && p.Meant() == p.Differing()
}

// farMore is what a passage costs more, in milli-nats, that looks like a slip: no policy makes a slip of a fingering.
const farMore = 15000

// looksLikeASlip says that nobody is likely to have meant the digits: two were exchanged, or one stands a note off.
func (p *Passage) looksLikeASlip(l *Limits) bool {
	return !p.Impossible && p.Why == "" && p.AtSign() < 0 && !p.spares() && p.Meant() >= 2 && p.Meant() == p.Differing() &&
		p.MoreFor > 50 && p.Full.Sum() >= farMore && p.Share[0] < l.Rare/10
}

// spares says that clearly more pianists reach the widest grip of the editor's fingering than that of the other: that it is
// the one for many, whatever it costs those who reach both.
func (p *Passage) spares() bool { return p.Reach[0]-p.Reach[1] >= moreReach }

// moreReach is one pianist in ten.
const moreReach = 1000

// dear is how many times a gain has to be had in what it costs: a small gain at a high price is none.
const dear = 4

// gains says that a passage gains in the line, in memory or at the tempo, and that the gain is plain beside its cost.
func (p *Passage) gains(l *Limits) bool {
	for _, g := range []int{-p.Full.Line, -p.Full.Memory, p.atTempo()} {
		if g >= l.Gain && dear*g >= p.Full.Sum() {
			return true
		}
	}
	return false
}

// atTempo is what the passage gains by the tempo: what speed makes easier in it than in the other.
func (p *Passage) atTempo() int { return -p.Full.Tempo }

// onlyAtTempo says that the passage is the less easy one in practice and gains by speed.
func (p *Passage) onlyAtTempo(l *Limits) bool {
	return p.atTempo() >= l.Gain && p.Practice.Sum() > 0 && p.Practice.Sum()-p.Full.Sum() >= l.Gain
}

// LimitsOf gives the limits of a policy. All but the cost are figures of ours, chosen on half of the fingered scores
// (`workbench personal`).
func LimitsOf(p *policies.Policy) Limits {
	return Limits{Cost: p.LintPersonal(), Gain: 400, Beyond: hand.MM(2), Seldom: 2500, Rare: 1000}
}
