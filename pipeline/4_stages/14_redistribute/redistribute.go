// Package redistribute is the stage that offers notes to the other hand, where
// one hand is in trouble and where the music gains by it (chances.go). It looks for trouble in the fingering as it stands
// (a grip beyond the hand, a leap that time does not allow, a key that has to
// be let go, two rhythms in one hand, two hands on one key), and there tries,
// with both hands searched anew, what the other hand could take. It keeps only
// what pays, and only where neither hand is worse off than before.
package redistribute

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"
)

// The reasons, as the policy names them below `redistribute.`.
const (
	Reach     = "reach"     // a grip out of reach
	Speed     = "speed"     // a leap beyond the hand at the marked tempo
	Line      = "line"      // a line or bass that must connect and cannot
	Rhythm    = "rhythm"    // two rhythms against each other in one hand
	Held      = "held"      // a held note that would be lost
	Collision = "collision" // hands interlocked, or both on one key
	Crossing  = "crossing"  // a voice of its own over the hand's chords
	Clarity   = "clarity"   // a lower voice that the free hand makes clear
	Evenness  = "evenness"  // a sweep that goes on under the free hand
	Turns     = "turns"     // a figure that the hand leaps to and back from, which the free hand takes in turn
)

// troubled lists the reasons that are a trouble of one hand.
var troubled = []string{Reach, Speed, Line, Rhythm, Held, Collision}

// ForTheMusic lists the reasons that are no trouble of a hand but a chance for
// the music (chances.go). Each has a threshold of its own in the policy.
var ForTheMusic = []string{Crossing, Clarity, Evenness, Turns}

// WithThreshold lists the reasons that have a threshold of their own.
var WithThreshold = slices.Concat([]string{Line}, ForTheMusic)

// Reasons lists them all in the order in which they are looked into.
var Reasons = slices.Concat(troubled, ForTheMusic)

// thresholdOf is what a redistribution for a reason has to gain.
func (r *Rules) thresholdOf(reason string) int {
	if own, ok := r.Thresholds[reason]; ok {
		return own
	}
	return r.Threshold
}

// Rules are what the policy says.
type Rules struct {
	On        map[string]bool // by reason
	Threshold int             // milli-nats that have to be gained
	// Thresholds are those of the reasons that have their own (WithThreshold).
	Thresholds map[string]int
	PerPage    int // how many a page, 0 for any number
}

// Said is what the fingering of its hand says of a note.
type Said struct {
	Finger     fingering.Finger
	OutOfReach engine.Reason
	Pedal      bool // the key has to be let go early
	Given      bool // a digit stands there that is not of our own offering: the note stays in its hand
}

// Material is everything the stage looks at.
type Material struct {
	Score   *score.Score
	Playing *playing.Playing
	Said    []Said // what the fingering of each hand by itself says of each note, parallel to Score.Notes
	// Line gives the notes of one hand of a player as the engine is asked about them; ids from len(Score.Notes) on
	// are strokes that signs add.
	Line        func(player int, h score.Hand) []fingering.Note
	MarkedTempo bool // the tempo is marked, not inferred
	Profile     hand.Profile
	Weights     *effort.Weights
	Aims        effort.Aims
	Returns     []parallel.Return
	Rules       Rules
	// OneHand says that the piece is for one hand: nothing is offered.
	OneHand bool
	// Declined lists sets of notes, sorted, that editors leave with their hand: neither they nor fewer of them are offered.
	Declined [][]int
	// DeclinedAlike are those of them that hold for like places, too.
	DeclinedAlike [][]int
	// Decided are the redistributions that were taken, and AlsoDeclined those declined of which the reason is known: they
	// have their place on a page as if they were still offered, so that no answer brings another question.
	Decided, AlsoDeclined []fingering.Redistribution
}

// Found is what the stage has to say.
type Found struct {
	Redistributions []fingering.Redistribution // in order of their first note
	// Windows counts the places in trouble by reason, Resolved those that a redistribution ends.
	Windows, Resolved map[string]int
	// Chances counts the places looked at for the music's sake, by reason.
	Chances map[string]int
}

// Find looks for redistributions. The result depends on the input alone, and
// that of a passage on what stands around it alone.
func Find(in Material) Found {
	out := Found{Windows: map[string]int{}, Resolved: map[string]int{}, Chances: map[string]int{}}
	if in.OneHand {
		return out
	}
	var f finder
	f.in = in
	for _, p := range players(in) {
		f.load(p)
		f.declinedToo()
		var mine []fingering.Redistribution
		for _, t := range f.troubles() {
			out.Windows[t.reason]++
			if !in.Rules.On[t.reason] {
				continue
			}
			r, ok := f.best(t)
			if t.reason == Collision { // either hand may give way
				t.hand = 1
				if o, also := f.best(t); also && (!ok || o.Gain > r.Gain) {
					r, ok = o, true
				}
			}
			if ok {
				out.Resolved[t.reason]++
				mine = append(mine, r)
			}
		}
		mine = append(mine, f.take(&out, mine)...)
		out.Redistributions = append(out.Redistributions, f.alikeToo(f.consistent(f.returns(mine)))...)
	}
	out.Redistributions = capped(in, apart(out.Redistributions))
	names := map[int]string{} // by what offers go as, the first
	for i := range out.Redistributions {
		r := &out.Redistributions[i]
		r.ID = idOf(in.Score, r)
		if first, again := names[r.As]; again {
			r.Like = first
		} else {
			names[r.As] = r.ID
		}
	}
	return out
}

// players lists the players of which both hands play.
func players(in Material) []int {
	var out []int
	for i := range in.Playing.Lines {
		if l := &in.Playing.Lines[i]; l.Hand == score.Right && in.Playing.Line(l.Player, score.Left) != nil {
			out = append(out, l.Player)
		}
	}
	return out
}

// apart drops what takes a note that a better one takes. Of troubles, those that change the same fingers around
// them are one place, and the better is kept; what is for the music's sake stands for itself.
func apart(all []fingering.Redistribution) []fingering.Redistribution {
	most := mostOf(all)
	slices.SortStableFunc(all, func(a, b fingering.Redistribution) int { // what is one question stays together
		return cmp.Or(most(b)-most(a), a.As-b.As, a.Notes[0]-b.Notes[0])
	})
	taken, around := map[int]fingering.Redistribution{}, map[int]fingering.Redistribution{} // by note, by which
	conflicts := func(r fingering.Redistribution) bool {
		trouble := !slices.Contains(ForTheMusic, r.Reason)
		met := func(by map[int]fingering.Redistribution, n int) bool {
			o, ok := by[n]
			return ok && (r.As == 0 || o.As != r.As) // one question is no two places
		}
		return slices.ContainsFunc(r.Notes, func(n int) bool { return met(taken, n) || trouble && met(around, n) }) ||
			slices.ContainsFunc(r.Around, func(n int) bool { return trouble && (met(taken, n) || met(around, n)) })
	}
	var out []fingering.Redistribution
	for _, r := range all {
		if conflicts(r) {
			continue
		}
		for _, n := range r.Notes {
			taken[n] = r
		}
		if !slices.Contains(ForTheMusic, r.Reason) {
			for _, n := range r.Around {
				around[n] = r
			}
		}
		out = append(out, r)
	}
	slices.SortStableFunc(out, func(a, b fingering.Redistribution) int { return a.Notes[0] - b.Notes[0] })
	return out
}

// mostOf is what an offer gains, of those that are one question the most that one of them does.
func mostOf(all []fingering.Redistribution) func(r fingering.Redistribution) int {
	most := map[int]int{}
	for i := range all {
		most[all[i].As] = max(most[all[i].As], all[i].Gain)
	}
	return func(r fingering.Redistribution) int {
		if r.As == 0 {
			return r.Gain
		}
		return most[r.As]
	}
}

// idOf names a redistribution by its place and its keys, so that it keeps its
// name when other things change.
func idOf(s *score.Score, r *fingering.Redistribution) string {
	n := &s.Notes[r.Notes[0]]
	return fmt.Sprintf("r%s-%s-%s-%d-%s%d", s.Measures[n.Measure].Number, n.Onset, r.To, n.Midi, r.Reason,
		len(r.Notes))
}
