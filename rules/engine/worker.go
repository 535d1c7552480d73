package engine

import (
	"cmp"
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// Worker does what Finger does and keeps its tables from call to call. One goroutine at a time may use it.
type Worker struct {
	pricer  *effort.Pricer
	weights *effort.Weights
	profile hand.Profile
	aims    effort.Aims
	search  lattice.Workspace
	slow    lattice.Workspace // at the tempo of practice
	memory  []int32           // per grip: the price of not doing as remembered
}

// answer is what the passes found out, before it is told note by note.
type answer struct {
	lattice    *lattice.Lattice
	path       []int // delivered grip of each event
	open       open
	confidence effort.Calibration
}

// open is what an editor would print, as far as the music tells: what is remembered from other places is left out, for
// it was decided, not observed.
type open struct {
	share   []int64             // strike × finger: probability in 1/65536; nil where not asked for
	margins func(e int) []int64 // what the cheapest path through each grip of an event costs; nil where not asked for
	optimum int64               // what the cheapest path costs
}

// withoutMemory runs the passes on prices without what is remembered, where anything is. It leaves the prices as they
// were.
func (w *Worker) withoutMemory(priced **lattice.Priced, model *effort.Model, options Options) (out open) {
	l := (*priced).Lattice()
	w.memory = append(w.memory[:0], make([]int32, l.Total())...)
	if options.Decode != MostAgreement && !options.Choices || !model.Remembered(w.memory) {
		return out
	}
	p := (*priced).Plus(w.memory, -1)
	if options.Decode == MostAgreement {
		out.share = fingerShares(l, p.Posterior())
	}
	if options.Choices {
		forward := p.Forward()
		_, out.optimum = forward.Cheapest()
		out.margins = forward.Backward().Of
	}
	*priced = p.Plus(w.memory, 1)
	return out
}

// Finger works out one hand's fingering; see the function Finger.
func (w *Worker) Finger(h fingering.Hand, profile hand.Profile, weights *effort.Weights, notes []fingering.Note, options Options) Result {
	if w.pricer == nil || w.weights != weights || w.profile != profile || w.aims != options.Aims {
		w.pricer, w.weights, w.profile, w.aims = effort.NewPricerFor(weights, profile, options.Aims), weights, profile, options.Aims
	}
	line := fingering.NewLine(h, notes, profile.Fits)
	l := lattice.New(line, profile)
	model := w.pricer.Model(line, l)
	out := Result{Notes: make([]Note, len(notes))}
	if len(line.Events) == 0 { // there are no notes
		return out
	}
	a := answer{lattice: l, confidence: weights.Confidence}
	priced := w.search.Price(l, model)
	a.open = w.withoutMemory(&priced, model, options)
	forward := priced.Forward()
	cheapest, optimum := forward.Cheapest()
	if options.Decode == MostAgreement {
		posterior := priced.Posterior()
		share := fingerShares(l, posterior)
		a.path = posterior.MostAgreement(gains(l, share, cheapest, model.Runs()))
		if a.open.share == nil {
			a.open.share = share
		}
	} else {
		a.path = cheapest
	}
	out.Total, out.SetFree = milli(priced.Cost(a.path)), milli(setFree(l))
	tell(&out, notes, &a)
	tellChanges(&out, notes, &a, model)
	if options.Choices {
		marginals := forward.Backward()
		if a.open.margins == nil {
			a.open.margins, a.open.optimum = marginals.Of, optimum
		}
		tellChoices(&out, notes, &a, marginals, whyOf(&a, model, marginals, options.Why))
	}
	out.Collapses = w.practice(priced, cheapest, a.path, options.PracticePercent)
	if options.Explain {
		explain(&out, notes, &a, model)
	}
	return out
}

func setFree(l *lattice.Lattice) (sum int64) {
	for e := range l.Events() {
		sum += int64(l.Freed(e))
	}
	return sum
}

// fingerShares turns grip posteriors into the probability of each finger on each strike, in 1/65536.
func fingerShares(l *lattice.Lattice, posterior *lattice.Posterior) []int64 {
	share := make([]int64, len(l.Line.Strikes)*fingering.Fingers)
	for e := range l.Events() {
		for g, cost := range posterior.Of(e) {
			p := lattice.Probability(cost)
			for i, k := range l.Line.Events[e].Keys {
				if k.Struck {
					share[k.Strike*fingering.Fingers+int(l.Grips(e)[g].Fingers[i])-1] += p
				}
			}
		}
	}
	return share
}

// runsWeigh is what a grip of the cheapest way gains inside a handbook run, in sure fingers: there one even pattern is
// worth more than agreement note by note.
const runsWeigh = 4 * lattice.Agreement

// gains is how many of a grip's struck fingers are expected to agree; inside runs the cheapest way is kept to.
func gains(l *lattice.Lattice, share []int64, cheapest []int, runs [][2]int) []int64 {
	out := make([]int64, 0, len(share))
	inside := 0
	for e := range l.Events() {
		for inside < len(runs) && runs[inside][1] < e {
			inside++
		}
		for c, g := range l.Grips(e) {
			var sum int64
			if inside < len(runs) && e >= runs[inside][0] && c == cheapest[e] {
				sum = runsWeigh
			}
			for i, k := range l.Line.Events[e].Keys {
				if k.Struck {
					sum += share[k.Strike*fingering.Fingers+int(g.Fingers[i])-1]
				}
			}
			out = append(out, sum)
		}
	}
	return out
}

func (a *answer) grip(e int) fingering.Grip { return a.lattice.Grips(e)[a.path[e]] }

// fingerOf gives the finger that strikes s on a way, 0 where the strike has none.
func fingerOf(l *lattice.Lattice, path []int, s int) fingering.Finger {
	e := l.Line.Strikes[s].Event
	for i, k := range l.Line.Events[e].Keys {
		if k.Strike == s {
			return l.Grips(e)[path[e]].Fingers[i]
		}
	}
	return 0
}

// index maps the ids of notes to their places in the input.
func index(notes []fingering.Note) map[int]int {
	at := make(map[int]int, len(notes))
	for i, n := range notes {
		at[n.ID] = i
	}
	return at
}

func tell(out *Result, notes []fingering.Note, a *answer) {
	at := index(notes)
	l := a.lattice
	for i, n := range notes {
		out.Notes[i] = Note{ID: n.ID, Reach: 10000}
	}
	for s, strike := range l.Line.Strikes {
		f := fingerOf(l, a.path, s)
		for _, id := range strike.IDs {
			n := &out.Notes[at[id]]
			n.Finger = f
			n.Constrained = strike.Allowed&(strike.Allowed-1) == 0
			if f == 0 {
				n.OutOfReach = TooManyKeys
				continue
			}
			if a.open.share != nil {
				for i, p := range a.open.share[s*fingering.Fingers:][:fingering.Fingers] {
					n.Shares[i] = int(min(p*10000/lattice.Agreement, 10000))
				}
				n.Confidence = n.Shares[f-1]
				if !n.Constrained {
					n.Confidence = a.confidence.Of(n.Confidence)
				}
			}
			if strike.Contradiction {
				n.Contradiction = true
			}
		}
		for _, t := range strike.Ties {
			out.Notes[at[t.ID]].Finger, out.Notes[at[t.ID]].Tied = f, true
			if f == 0 {
				out.Notes[at[t.ID]].OutOfReach = TooManyKeys
			}
		}
	}
	for e := range l.Events() {
		tellGrip(out, at, a, e)
	}
}

// tellGrip reports what concerns the grip of one event: limits, reach, changes on held keys.
func tellGrip(out *Result, at map[int]int, a *answer, e int) {
	l := a.lattice
	ev, g := &l.Line.Events[e], a.grip(e)
	reach := 10000
	for i := range ev.Keys {
		for j := i + 1; j < len(ev.Keys); j++ {
			reach = min(reach, hand.Reach(int(g.Fingers[i]), int(g.Fingers[j]), hand.Distance(int(ev.Keys[i].Key), int(ev.Keys[j].Key))))
		}
	}
	pairs, _ := lattice.Excess(l.Profile, ev.Keys, g)
	for i, k := range ev.Keys {
		strike := &l.Line.Strikes[k.Strike]
		if k.Struck {
			for _, id := range strike.IDs {
				n := &out.Notes[at[id]]
				n.Reach = reach
				if pairs > 0 {
					n.OutOfReach = BeyondSpan
					if g.Odd&fingering.Contradictory != 0 || constrained(ev) {
						n.OutOfReach = BeyondGiven
					}
				}
				if g.Odd&fingering.Contradictory != 0 {
					n.Contradiction = true
				}
			}
			continue
		}
		was := held(l, a.path, e, k.Strike)
		if was != 0 && was != g.Fingers[i] {
			n := &out.Notes[at[strike.IDs[0]]]
			if n.Substitution == 0 { // of several changes on one key the first follows the digit
				n.Substitution = g.Fingers[i]
			}
			for _, t := range strike.Ties {
				if t.Onset.Compare(ev.Onset) >= 0 {
					out.Notes[at[t.ID]].Finger = g.Fingers[i]
				}
			}
		}
	}
	for _, s := range ev.Released {
		for _, id := range l.Line.Strikes[s].IDs {
			out.Notes[at[id]].Pedal = true
		}
	}
}

// tellChanges reports silent changes of finger that join the line.
func tellChanges(out *Result, notes []fingering.Note, a *answer, model *effort.Model) {
	at := index(notes)
	for e := 1; e < a.lattice.Events(); e++ {
		to := model.Change(e, a.grip(e-1), a.grip(e))
		if to == 0 {
			continue
		}
		if n := &out.Notes[at[a.lattice.Line.Strikes[model.ChangeStrike(e)].IDs[0]]]; n.Substitution == 0 {
			n.Substitution = to
		}
	}
}

func constrained(ev *fingering.Event) bool {
	for _, k := range ev.Keys {
		if k.Allowed != fingering.AnyFinger {
			return true
		}
	}
	return false
}

// held gives the finger on a strike in the event before e, 0 where it did not sound there.
func held(l *lattice.Lattice, path []int, e, strike int) fingering.Finger {
	for i, k := range l.Line.Events[e-1].Keys {
		if k.Strike == strike {
			return l.Grips(e - 1)[path[e-1]].Fingers[i]
		}
	}
	return 0
}

// milli turns a cost in 1/4096 nat into milli-nats, rounded down.
func milli(cost int64) int { return int(cost * 1000 / lattice.Nat) }

// tellChoices adds to each struck note what its other fingers cost more, and for the two best the passage that follows.
func tellChoices(out *Result, notes []fingering.Note, a *answer, m *lattice.Marginals, why func(strike, e, grip int) []Effort) {
	at := index(notes)
	l := a.lattice
	for e := range l.Events() {
		for i, k := range l.Line.Events[e].Keys {
			if !k.Struck {
				continue
			}
			type option struct {
				finger fingering.Finger
				cost   int64
				grip   int
			}
			var options []option
			for g, grip := range l.Grips(e) {
				f, cost := grip.Fingers[i], a.open.margins(e)[g]
				if f == a.grip(e).Fingers[i] {
					continue
				}
				j := slices.IndexFunc(options, func(o option) bool { return o.finger == f })
				switch {
				case j < 0:
					options = append(options, option{f, cost, g})
				case cost < options[j].cost:
					options[j] = option{f, cost, g}
				}
			}
			if a.open.share != nil {
				odds := func(f fingering.Finger) int64 {
					return lattice.LogOf(a.open.share[k.Strike*fingering.Fingers+int(f)-1])
				}
				most := int64(0)
				for f := fingering.Finger(1); f <= fingering.Fingers; f++ {
					most = max(most, odds(f))
				}
				for o := range options {
					options[o].cost = a.open.optimum + most - odds(options[o].finger)
				}
			}
			slices.SortFunc(options, func(x, y option) int { return cmp.Or(cmp.Compare(x.cost, y.cost), cmp.Compare(x.finger, y.finger)) })
			var choices []Choice
			for _, o := range options[:min(2, len(options))] {
				choices = append(choices, Choice{Finger: o.finger, Regret: max(milli(o.cost-a.open.optimum), 0), Passage: passage(a, m, e, o.grip), Why: why(k.Strike, e, o.grip)})
			}
			for _, id := range l.Line.Strikes[k.Strike].IDs {
				n := &out.Notes[at[id]]
				n.Choices = choices
				if len(choices) > 0 {
					n.CostsMore = choices[0].Regret
				}
			}
		}
	}
}

// passage lists the strikes around event e whose finger differs from the delivered one on the best way through the
// grip.
func passage(a *answer, m *lattice.Marginals, e, grip int) []Step {
	from, stretch := m.Departure(e, grip, a.path)
	return stepsOf(a.lattice, from, stretch, a.path)
}
