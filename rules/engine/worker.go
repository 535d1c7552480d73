package engine

import (
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

// answer is what the passes found out, before it is given note by note.
type answer struct {
	lattice    *lattice.Lattice
	path       []int // delivered grip of each event
	open       open
	confidence *effort.Calibrations
}

// grip is the delivered grip of an event.
func (a *answer) grip(e int) fingering.Grip { return a.lattice.Grips(e)[a.path[e]] }

// open is what an editor would print, as far as the music says it: what is remembered from other places is left out,
// for it was decided, not observed.
type open struct {
	share   []int64             // strike × finger: probability in 1/65536; nil where not asked for
	margins func(e int) []int64 // what the cheapest path through each grip of an event costs; nil where not asked for
	optimum int64               // what the cheapest path costs
}

// Finger works out one hand's fingering; see the function Finger.
func (w *Worker) Finger(
	h fingering.Hand, profile hand.Profile, weights *effort.Weights, notes []fingering.Note, options Options,
) Result {
	w.prepare(profile, weights, options.Aims)
	line := fingering.NewLine(h, notes, profile.Fits)
	l := lattice.New(line, profile)
	model := w.pricer.Model(line, l)
	out := Result{Notes: make([]Fingered, len(notes))}
	if len(line.Events) == 0 { // there are no notes
		return out
	}
	a := answer{lattice: l, confidence: &weights.Confidence}
	priced := w.search.Price(l, model)
	a.open = w.withoutMemory(&priced, model, options)
	forward := priced.Forward()
	cheapest, optimum := forward.Cheapest()
	if options.Decode == MostAgreement {
		posterior := priced.Posterior()
		share := fingerShares(l, posterior)
		a.path = posterior.MostAgreement(gains(l, share, cheapest, model.Runs()), model)
		if a.open.share == nil {
			a.open.share = share
		}
	} else {
		a.path = cheapest
	}
	out.Total, out.SetFree = milli(priced.Cost(a.path)), milli(setFree(l))
	r := newReport(&out, notes, &a)
	r.fingers()
	r.silentChanges(model)
	if options.Choices {
		marginals := forward.Backward()
		if a.open.margins == nil {
			a.open.margins, a.open.optimum = marginals.Of, optimum
		}
		r.choices(marginals, whyOf(&a, model, marginals, options.Why))
	}
	out.Collapses = w.practice(priced, cheapest, a.path, options.PracticePercent)
	if options.Explain {
		r.explain(model)
	}
	return out
}

// prepare makes the pricer, unless the last call had the same one.
func (w *Worker) prepare(profile hand.Profile, weights *effort.Weights, aims effort.Aims) {
	if w.pricer == nil || w.weights != weights || w.profile != profile || w.aims != aims {
		w.pricer = effort.NewPricerFor(weights, profile, aims)
		w.weights, w.profile, w.aims = weights, profile, aims
	}
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

// setFree is what all paths cost alike for held keys that given digits set free.
func setFree(l *lattice.Lattice) (sum int64) {
	for e := range l.Events() {
		sum += int64(l.Freed(e))
	}
	return sum
}

// milli turns a cost in 1/4096 nat into milli-nats, rounded down.
func milli(cost int64) int { return int(cost * 1000 / lattice.Nat) }
