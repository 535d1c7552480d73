package review

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"
)

// LikePlace is a measure in which a measure of a passage stands again for the same hand, so that one decision can go
// to both.
type LikePlace struct {
	parallel.LikeMeasure
	Of   int // the measure of the passage that it is like, by index
	Open int // notes of it whose digit nobody has decided, whether it prints or not
	// Not says why no digits are offered there although the music is alike; "" where they are.
	Not string
}

// Figures finds in a piece the places that are like those of a passage.
type Figures struct {
	score   *score.Score
	playing *playing.Playing
	profile hand.Profile
	bound   []decide.Digit
	result  state.ByNumber
	open    map[int]bool
	found   *parallel.Like // made when it is first asked for
	// Own are the initials of an editor whose digits at like places are changed with those of a place where the same were
	// decided; "" changes nobody's.
	Own string
	// Only are the notes whose digits go to like places; nil: those of whole measures.
	Only map[int]bool
}

// NewFigures looks through a piece as it is worked out. open are the notes whose printed digit nobody has decided.
func NewFigures(
	s *score.Score, p *playing.Playing, profile hand.Profile, bound []decide.Digit, r *state.Result, open []int,
) *Figures {
	f := &Figures{
		score: s, playing: p, profile: profile, bound: bound, result: r.ByNumber(), open: map[int]bool{},
	}
	for _, n := range open {
		f.open[n] = true
	}
	return f
}

// like finds the measures of the piece that are alike.
func (f *Figures) like() *parallel.Like {
	if f.found == nil {
		f.found = parallel.NewLike(f.score, f.playing)
	}
	return f.found
}

// mostPlaces is how many places one passage is offered for: of a thousand measures that are all alike no page could
// hold every pair. What lies beyond stays open, and is offered for its neighbours.
const mostPlaces = 200

// Places lists where measures of a passage stand again outside it, in order of the passage's measures and of the
// music; nothing for a redistribution. Where a passage has doubts only their measures count. fingers gives the fingers
// that a note of the passage gets, the one that strikes and those changed to, none for as suggested; it may be nil.
// There are mostPlaces at most.
func (f *Figures) Places(q *Passage, fingers func(note int) []int) (out []LikePlace) {
	if q.Redistribution >= 0 {
		return nil
	}
	judged := q.Notes
	if len(q.Doubts) > 0 {
		judged = q.Doubts
	}
	met := map[int]bool{}
	for m := q.First; m <= q.Last; m++ {
		k := slices.IndexFunc(judged, func(n int) bool { return f.score.Notes[n].Measure == m })
		if k < 0 {
			continue
		}
		stroke := f.playing.Stroke(judged[k])
		if stroke == nil {
			continue
		}
		for _, like := range f.like().Measures(stroke.Line, m) {
			if met[like.Measure] || like.Measure >= q.First && like.Measure <= q.Last {
				continue
			}
			if len(out) == mostPlaces {
				return out
			}
			met[like.Measure] = true
			like = f.only(like)
			place := LikePlace{LikeMeasure: like, Of: m}
			for _, n := range like.To {
				if e := f.result.Of(n); f.open[n] || e != nil && e.Confidence != nil {
					place.Open++
				}
			}
			place.Not = f.refused(&like, fingers)
			out = append(out, place)
		}
	}
	return out
}

// only leaves in a like measure the notes whose digits go there.
func (f *Figures) only(like parallel.LikeMeasure) parallel.LikeMeasure {
	if f.Only == nil {
		return like
	}
	from, to := like.From, like.To
	like.From, like.To = nil, nil
	for k, n := range from {
		if f.Only[n] {
			like.From, like.To = append(like.From, n), append(like.To, to[k])
		}
	}
	return like
}

// Alike gives, by note, the notes that stand in its place where its measure stands again for the same hand; nothing for
// notes of which that is not so.
func (f *Figures) Alike(notes []int) map[int][]int {
	out, met := map[int][]int{}, map[[2]int]bool{}
	for _, n := range notes {
		stroke := f.playing.Stroke(n)
		if stroke == nil || met[[2]int{stroke.Line, f.score.Notes[n].Measure}] {
			continue
		}
		met[[2]int{stroke.Line, f.score.Notes[n].Measure}] = true
		all := f.like().Measures(stroke.Line, f.score.Notes[n].Measure)
		for _, like := range all[:min(len(all), mostPlaces)] {
			for k, from := range like.From {
				out[from] = append(out[from], like.To[k])
			}
		}
	}
	return out
}

// Fingers are those that a note of a passage gets: the one that strikes, then those changed to; none where nothing is
// suggested.
func (f *Figures) Fingers(n int, fingers func(int) []int) []int {
	if fingers != nil {
		if given := fingers(n); len(given) > 0 {
			return given
		}
	}
	if e := f.result.Of(n); e != nil && e.Finger > 0 {
		return append([]int{e.Finger}, e.Substitution...)
	}
	return nil
}

// otherThan says that digits that stand at a note are not those carried there: another finger strikes, or they lack
// the change on the held key, which would be lost.
func otherThan(stands, carried []int) bool {
	return stands[0] != carried[0] || len(carried) > 1 && !slices.Equal(stands, carried)
}

// refused says why the digits of a measure do not go to one that is like it; "" where they do.
func (f *Figures) refused(like *parallel.LikeMeasure, fingers func(int) []int) string {
	for k, to := range like.To {
		carried := f.Fingers(like.From[k], fingers)
		if len(carried) == 0 {
			return "no finger is suggested to carry over"
		}
		pitch := f.score.Notes[to].Pitch
		for _, ind := range f.score.Notes[to].Indications {
			if len(ind.Fingers) > 0 && !ind.Alternate && otherThan(ind.Fingers, carried) {
				return fmt.Sprintf("the text has %s on %s there", decision.Digits(ind.Fingers), pitch)
			}
		}
		if d := &f.bound[to]; d.Finger() > 0 && !d.Carried && otherThan(d.Fingers, carried) && !f.ownAlike(like.From[k], to) {
			if d.By == f.Own { // what was decided alike goes along, what was decided otherwise is left
				return fmt.Sprintf("you decided %s on %s there, otherwise than here before: key that place in by itself to change it",
					decision.Digits(d.Fingers), pitch)
			}
			return fmt.Sprintf("%s decided %s on %s there", d.By, decision.Digits(d.Fingers), pitch)
		}
		from := f.score.Notes[like.From[k]].Midi
		if e := f.result.Of(to); e != nil && slices.Equal(append([]int{e.Finger}, e.Substitution...), carried) {
			continue // it is fingered so already
		}
		for _, finger := range carried {
			if (finger == 1 || finger == 5) && hand.Black(f.score.Notes[to].Midi) && !hand.Black(from) {
				return fmt.Sprintf("finger %d would come on a black key, %s", finger, pitch)
			}
		}
	}
	return f.beyondHand(like, fingers)
}

// ownAlike says that an editor whose digits may be changed decided the same digit at two notes.
func (f *Figures) ownAlike(from, to int) bool {
	a, b := &f.bound[from], &f.bound[to]
	return f.Own != "" && a.By == f.Own && b.By == f.Own && slices.Equal(a.Fingers, b.Fingers)
}

// beyondHand says where a grip of a measure that is like another is wider than two fingers can hold, and was not there.
func (f *Figures) beyondHand(like *parallel.LikeMeasure, fingers func(int) []int) string {
	for k := 1; k < len(like.To); k++ {
		a, b := like.To[k-1], like.To[k]
		if f.playing.Stroke(a) != f.playing.Stroke(b) {
			continue
		}
		i, j := f.Fingers(like.From[k-1], fingers)[0], f.Fingers(like.From[k], fingers)[0] // as they are struck
		wide := func(x, y int) bool {
			return f.profile.Excess(i, j, hand.Distance(f.score.Notes[x].Midi, f.score.Notes[y].Midi)) > 0
		}
		if wide(a, b) && !wide(like.From[k-1], like.From[k]) {
			return fmt.Sprintf("%d and %d do not reach %s and %s", i, j, f.score.Notes[a].Pitch, f.score.Notes[b].Pitch)
		}
	}
	return ""
}

// Carry gives the decisions by which the digits of a passage go to a place that is like one of its measures: what is
// suggested there already is taken, the rest amended; none where nothing goes there. Digits that stand in the text
// there, or were decided, are left as they are.
func (f *Figures) Carry(
	finder *decision.Finder, place *LikePlace, fingers func(int) []int, by, when string,
) (out []decision.Decision) {
	if place.Not != "" {
		return nil
	}
	why := decision.CarriedFrom(f.score.Measures[place.Of].Number)
	amend := decision.Decision{Verb: decision.Amend, On: decision.Notes, By: by, When: when, Why: why}
	take := decision.Decision{Verb: decision.Take, On: decision.Notes, By: by, When: when, Why: why}
	for k, to := range place.To {
		carried := f.Fingers(place.From[k], fingers)
		if len(f.score.Notes[to].Indications) > 0 || f.bound[to].Verb != "" && !f.bound[to].Carried &&
			!(f.ownAlike(place.From[k], to) && otherThan(f.bound[to].Fingers, carried)) {
			continue
		}
		if slices.Equal(f.Fingers(to, nil), carried) {
			take.Notes = append(take.Notes, finder.Ref(to, carried))
		} else {
			amend.Notes = append(amend.Notes, finder.Ref(to, carried))
		}
	}
	for _, d := range []decision.Decision{amend, take} {
		if len(d.Notes) > 0 {
			out = append(out, d)
		}
	}
	return out
}
