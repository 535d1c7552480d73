package engine

import (
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// Worker does what Finger does and keeps its tables from call to call. Where the same line is asked for again, and nothing
// differs but what is remembered, it keeps its prices, too. One goroutine at a time may use it.
type Worker struct {
	pricer  *effort.Pricer
	weights *effort.Weights
	profile hand.Profile
	aims    effort.Aims
	search  lattice.Workspace
	slow    lattice.Workspace // at the tempo of practice
	memory  []int32           // per grip: the price of not doing as remembered
	slower  []int32           // one event's grips: what they cost more at the tempo of practice
	kept    kept
}

// kept is the line asked for last, as it is priced where nothing is remembered.
type kept struct {
	hand   fingering.Hand
	notes  []fingering.Note // nothing is remembered
	priced *lattice.Priced  // nil where the prices stand no more
	share  []int64          // by these prices, see open; nil where not asked for
}

// Forget lets go of the line asked for last. The memory of the tables stays, to be used again.
func (w *Worker) Forget() { w.kept = kept{notes: w.kept.notes[:0]} }

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
	out := Result{Notes: make([]Fingered, len(notes))}
	if len(notes) == 0 {
		return out
	}
	base, model := w.price(h, profile, notes)
	l := base.Lattice()
	if l.Events() == 0 {
		return out
	}
	w.memory = resized(w.memory, l.Total())
	clear(w.memory)
	remembers := model.Remembered(w.memory)
	a := answer{lattice: l, confidence: &weights.Confidence}
	a.open = w.withoutMemory(base, remembers, options)
	priced := base
	if remembers {
		priced = base.Plus(w.memory, 1)
	}
	// In a handbook run the cheapest path counts; elsewhere it is needed for choices and for practice.
	var forward *lattice.Forward
	var cheapest []int
	var optimum int64
	if options.Decode != MostAgreement || options.Choices || options.PracticePercent > 0 || len(model.Runs()) > 0 {
		forward = priced.Forward()
		cheapest, optimum = forward.Cheapest()
	}
	if options.Decode == MostAgreement {
		share := a.open.share
		if remembers {
			share = fingerShares(l, priced.Posterior())
		}
		a.path = priced.MostAgreement(gains(l, share, cheapest, model.Runs()), model)
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
	out.Collapses = w.practice(priced, model, cheapest, a.path, options.PracticePercent)
	if options.Explain {
		r.explain(model)
	}
	if remembers && w.kept.priced != nil {
		w.kept.priced = priced.Plus(w.memory, -1)
	}
	return out
}

// price prices a line as if nothing were remembered in it, unless it was the last one priced, and gives a model that
// remembers.
func (w *Worker) price(
	h fingering.Hand, profile hand.Profile, notes []fingering.Note,
) (*lattice.Priced, *effort.Model) {
	line := fingering.NewLine(h, notes, profile.Fits)
	if w.kept.priced != nil && w.kept.hand == h && slices.EqualFunc(w.kept.notes, notes, sameButMemory) {
		l := w.kept.priced.Lattice()
		for s := range line.Strikes {
			l.Line.Strikes[s].Remembered, l.Line.Strikes[s].Worth = line.Strikes[s].Remembered, line.Strikes[s].Worth
		}
		return w.kept.priced, w.pricer.Model(l.Line, l)
	}
	l := lattice.New(line, profile)
	model := w.pricer.Model(line, l)
	w.kept = kept{
		hand: h, notes: append(w.kept.notes[:0], notes...), priced: w.search.Price(l, model.WithoutReturns()),
	}
	return w.kept.priced, model
}

// sameButMemory says that two notes differ at most in what is remembered at them.
func sameButMemory(a, b fingering.Note) bool {
	a.Remembered, a.Worth = b.Remembered, b.Worth
	return a == b
}

// prepare makes the pricer, unless the last call had the same one.
func (w *Worker) prepare(profile hand.Profile, weights *effort.Weights, aims effort.Aims) {
	if w.pricer == nil || w.weights != weights || w.profile != profile || w.aims != aims {
		w.pricer = effort.NewPricerFor(weights, profile, aims)
		w.Forget()
		w.weights, w.profile, w.aims = weights, profile, aims
	}
}

// withoutMemory runs the passes on the prices without what is remembered.
func (w *Worker) withoutMemory(base *lattice.Priced, remembers bool, options Options) (out open) {
	if options.Decode == MostAgreement {
		if w.kept.share == nil {
			w.kept.share = fingerShares(base.Lattice(), base.Posterior())
		}
		out.share = w.kept.share
	}
	if remembers && options.Choices {
		forward := base.Forward()
		_, out.optimum = forward.Cheapest()
		out.margins = forward.Backward().Of
	}
	return out
}

// resized is a slice of n values, in the memory of s where that is large enough.
func resized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
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
