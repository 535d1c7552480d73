package robustness

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/keying"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/pipeline/4_stages/11_suggest"
)

// answering answers passages otherwise than by taking each as it stands: with other fingers, on the page or on a sheet, and in
// lines that name the place instead of the passage.
type answering struct {
	run    *pipeline.PieceRun
	finder *decision.Finder
	rng    *rand.Rand
	keys   *keying.Keying
}

func answeringOf(w *pipeline.PieceRun, f *decision.Finder, rng *rand.Rand) *answering {
	k := &keying.Keying{Score: w.Score, Playing: w.Playing, By: "AB", When: "2026-01-01", Fingers: make([][]int, len(w.Score.Notes))}
	for i := range w.Score.Notes {
		if n := &w.Suggestion.Notes[i]; n.Finger > 0 {
			k.Fingers[i] = []int{int(n.Finger)}
			if n.Substitution > 0 {
				k.Fingers[i] = append(k.Fingers[i], int(n.Substitution))
			}
			if slices.Contains(suggest.RowLengths(&w.Score.Notes[i]), len(n.Row)) {
				k.Fingers[i] = n.Row
			}
		}
	}
	passages := review.All(w.ReviewInput())
	for i := range passages {
		p := &passages[i]
		if p.ReturnOf > 0 || p.Redistribution >= 0 {
			continue
		}
		k.Passages = append(k.Passages, keying.SheetPassage{
			Number: p.Number, Notes: p.Notes, Taken: review.Taken(w.Result, p), ForReturns: p.ForReturns,
		})
	}
	return &answering{run: w, finder: f, rng: rng, keys: k}
}

// taken takes a passage as it is suggested, and lets stand what lint finds then where that is an error.
func (a *answering) taken(q *review.Passage) (out []decision.Decision) {
	if d, ok := review.Take(a.run.Result, a.finder, q, "AB", "2026-01-01"); ok {
		out = append(out, d)
	}
	if review.WantsReason(q) {
		out = append(out, review.StetIfTaken(a.finder, q, "AB", "2026-01-01", "judged")...)
	}
	return out
}

// otherFinger chooses a note of a passage and another finger for it, the next best where there is one; none in every second
// passage.
func (a *answering) otherFinger(q *review.Passage) (note, finger int, ok bool) {
	asked := review.Taken(a.run.Result, q)
	if q.Redistribution >= 0 || len(asked) == 0 || a.rng.IntN(2) == 0 {
		return 0, 0, false
	}
	note = asked[a.rng.IntN(len(asked))]
	e := a.run.Result.ByNumber().Of(note)
	for _, other := range e.Alternatives {
		if other.Finger != e.Finger {
			return note, other.Finger, true
		}
	}
	return note, e.Finger%5 + 1, true
}

// onPage answers with another finger at one note, as the page writes it.
func (a *answering) onPage(q *review.Passage) []decision.Decision {
	note, finger, ok := a.otherFinger(q)
	if !ok {
		return a.taken(q)
	}
	return review.Amend(a.run.Result, a.finder, q, map[int][]int{note: {finger}}, "AB", "2026-01-01")
}

// onSheet answers in lines that name the passage: its digits are taken, then one is given another finger by its beat.
func (a *answering) onSheet(q *review.Passage) []decision.Decision {
	note, finger, ok := a.otherFinger(q)
	if !ok {
		return a.taken(q)
	}
	out := a.lines(fmt.Sprintf("#%d ok", q.Number))
	return append(out, a.atBeat(note, finger)...)
}

// byMeasures takes what is suggested in the measures of a passage.
func (a *answering) byMeasures(q *review.Passage) []decision.Decision {
	if len(review.Taken(a.run.Result, q)) == 0 || q.Redistribution >= 0 || review.WantsReason(q) {
		return a.taken(q)
	}
	place := a.run.Score.Measures[q.First].Number
	if q.Last > q.First {
		place += "-" + a.run.Score.Measures[q.Last].Number
	}
	if out := a.lines(place + " " + strings.ToLower(q.Hand.String()) + " ok"); out != nil {
		return out
	}
	return a.taken(q) // two measures bear one number
}

// byBeats takes what is suggested in the measures of a passage, and gives another finger in a line of its own.
func (a *answering) byBeats(q *review.Passage) []decision.Decision {
	note, finger, ok := a.otherFinger(q)
	out := a.byMeasures(q)
	if !ok {
		return out
	}
	return append(out, a.atBeat(note, finger)...)
}

// declining leaves notes with the hand that has them and chords as they are written, and takes the rest.
func (a *answering) declining(q *review.Passage) []decision.Decision {
	if d, ok := review.Decline(a.run.Result, a.finder, q, "AB", "2026-01-01"); ok {
		return []decision.Decision{d}
	}
	return append(a.taken(q), answersToRolls(a.run, a.finder, q, decision.Stet)...)
}

// answersToRolls has the chords of a passage that are offered to be rolled be rolled, or declines them.
func answersToRolls(w *pipeline.PieceRun, f *decision.Finder, q *review.Passage, verb decision.Verb) (out []decision.Decision) {
	for _, k := range q.Rolls {
		d := review.Roll(&w.Result.Rolls[k], f, w.Result.Rolls[k].Direction, "AB", "2026-01-01")
		if verb == decision.Stet {
			d.Verb, d.Direction, d.Reason = decision.Stet, "", ""
		}
		out = append(out, d)
	}
	return out
}

// atBeat gives a note another finger by its place; the other notes of its stroke have theirs.
func (a *answering) atBeat(note, finger int) []decision.Decision {
	n, stroke := &a.run.Score.Notes[note], a.run.Playing.Stroke(note)
	if stroke == nil {
		return nil
	}
	var digits []string
	for _, other := range slices.Sorted(slices.Values(stroke.Notes)) {
		fingers := a.keys.Fingers[other]
		if other == note {
			fingers = []int{finger}
		}
		digits = append(digits, decision.Digits(fingers))
	}
	if len(digits) > 1 { // a chord is keyed from its lowest key: the order of its notes is not that of its keys everywhere
		return nil
	}
	return a.lines(fmt.Sprintf("%s %s %s %s", a.run.Score.Measures[n.Measure].Number, strings.ToLower(a.run.Playing.Hand(note).String()),
		a.run.Score.BeatAt(n.Measure, n.Onset).Key(), digits[0]))
}

// lines keys a line in; what is refused gives nothing.
func (a *answering) lines(line string) []decision.Decision {
	out, err := keying.Line(a.keys, a.finder, line)
	if err != nil {
		return nil
	}
	return out
}
