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
	plain   lattice.Workspace // without the network
	memory  []int32           // per grip: the price of not doing as remembered
	slower  []int32           // one event's grips: what they cost more at the tempo of practice
	kept    kept
}

// kept is the line asked for last, with its prices and what the last search of it came to.
type kept struct {
	hand   fingering.Hand
	notes  []fingering.Note
	at     places
	priced *lattice.Priced
	model  *effort.Model // nil where the prices stand no more
	open   []int64       // shares where nothing is remembered, see open; nil where not asked for
	share  []int64       // shares as last searched; nil where not asked for
}

// Forget lets go of the line asked for last. The memory of the tables stays, to be used again.
func (w *Worker) Forget() { w.kept = kept{notes: w.kept.notes[:0]} }

// Size is about how much memory the worker holds, in bytes.
func (w *Worker) Size() int { return w.search.Size() + w.slow.Size() + w.plain.Size() }

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
	model := w.price(h, profile, notes)
	l := w.kept.priced.Lattice()
	if l.Events() == 0 {
		return out
	}
	a := answer{lattice: l, confidence: &weights.Confidence}
	w.memory = resized(w.memory, l.Total())
	clear(w.memory)
	remembers := model.Remembers()
	a.open = w.withoutMemory(remembers, options)
	model.Remembered(w.memory)
	priced := w.with(w.memory)
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
			share = w.shares()
		}
		gain := gains(l, share, cheapest, model.Runs())
		keepChosen(l, w.kept.at, notes, gain)
		a.path = priced.MostAgreement(gain, model)
	} else {
		a.path = cheapest
	}
	out.Total, out.SetFree = milli(priced.Cost(a.path)), milli(setFree(l))
	r := newReport(&out, w.kept.at, notes, &a)
	r.fingers()
	r.silentChanges(model)
	if options.Choices {
		marginals := forward.Backward()
		if a.open.margins == nil {
			a.open.margins, a.open.optimum = marginals.Of, optimum
		}
		r.choices(marginals, whyOf(&a, model, options.Why))
	}
	out.MoreForHands = w.moreForHands(&a, model, options.OtherHands)
	out.Collapses = w.practice(priced, model, cheapest, a.path, options.PracticePercent)
	if options.Explain {
		r.explain(model)
	}
	return out
}

// price prices a line, unless it was the last one priced, and gives a model that remembers what its notes say.
func (w *Worker) price(h fingering.Hand, profile hand.Profile, notes []fingering.Note) *effort.Model {
	k := &w.kept
	if k.model != nil && k.hand == h && slices.EqualFunc(k.notes, notes, sameButMemory) {
		k.remember(notes)
		return k.model.Remembering()
	}
	line := fingering.NewLine(h, notes, profile.Fits)
	l := lattice.New(line, profile)
	model := w.pricer.Model(line, l)
	w.kept = kept{
		hand: h, notes: append(k.notes[:0], notes...), at: placesOf(notes), model: model,
		priced: w.search.Price(l, model.WithoutReturns()),
	}
	return model
}

// places gives for the id of a note its place in the input.
type places struct {
	least int
	near  []int32     // by how much an id is more than the least; nil where ids lie too far apart
	far   map[int]int // then
}

// mostApart is how many ids may lie between the least and the greatest for each note.
const mostApart = 64

func placesOf(notes []fingering.Note) (p places) {
	least, most := notes[0].ID, notes[0].ID
	for i := range notes {
		least, most = min(least, notes[i].ID), max(most, notes[i].ID)
	}
	if p.least = least; most-least < mostApart*len(notes) && most-least >= 0 {
		p.near = make([]int32, most-least+1)
		for i := range notes {
			p.near[notes[i].ID-least] = int32(i)
		}
		return p
	}
	p.far = make(map[int]int, len(notes))
	for i := range notes {
		p.far[notes[i].ID] = i
	}
	return p
}

func (p places) of(id int) int {
	if p.near != nil {
		return int(p.near[id-p.least])
	}
	return p.far[id]
}

// remember puts what is remembered at notes into the line.
func (k *kept) remember(notes []fingering.Note) {
	line := k.priced.Lattice().Line
	for s := range line.Strikes {
		strike := &line.Strikes[s]
		strike.Remembered, strike.Worth = 0, 0
		for _, id := range strike.IDs { // of two notes on one key the first counts, as when the line is made
			if n := &notes[k.at.of(id)]; strike.Remembered == 0 {
				strike.Remembered, strike.Worth = n.Remembered, n.Worth
			}
		}
	}
}

// with prices the line kept with what is remembered, grip by grip.
func (w *Worker) with(memory []int32) *lattice.Priced {
	w.kept.priced = w.kept.priced.With(memory)
	return w.kept.priced
}

// shares gives the probability of each finger on each strike, as the line kept is priced now. They stand up to the next
// search.
func (w *Worker) shares() []int64 {
	l, posterior := w.kept.priced.Lattice(), w.kept.priced.Posterior()
	if w.kept.share == nil {
		w.kept.share = make([]int64, len(l.Line.Strikes)*fingering.Fingers)
	}
	for e := range l.Events() {
		if posterior.Moved(e) {
			fingerShares(l, e, posterior, w.kept.share)
		}
	}
	return w.kept.share
}

// sameButMemory says that two notes differ at most in what is remembered at them, and in what was chosen before.
func sameButMemory(a, b fingering.Note) bool {
	a.Remembered, a.Worth, a.Chosen = b.Remembered, b.Worth, b.Chosen
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

// withoutMemory runs the passes on the prices without what is remembered; w.memory is all 0.
func (w *Worker) withoutMemory(remembers bool, options Options) (out open) {
	if options.Decode == MostAgreement {
		if w.kept.open == nil {
			w.with(w.memory)
			w.kept.open = slices.Clone(w.shares())
		}
		out.share = w.kept.open
	}
	if remembers && options.Choices {
		forward := w.with(w.memory).Forward()
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
