package review

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_stages/10_bind"
	"fingerproof/rules/lint/all"
	"fingerproof/rules/parallel"
)

// firmMeasures is how long a firm passage may be: it is taken as a whole, seldom looked through note by note.
const firmMeasures = 16

// Input is what the passages of a piece are found in.
type Input struct {
	Score   *score.Score
	Result  *state.Result
	Playing *playing.Playing
	Returns []parallel.Return // their notes whose music is the same all round (parallel.Same)
	Apart   []bool            // notes that are fingered for themselves where their passage returns; nil: none
	Open    []int             // notes whose printed digit nobody has decided, as indices into Score.Notes
	// IfTaken is what lint would find besides, were everything taken as suggested.
	IfTaken []FoundIfTaken
}

// FoundIfTaken is what lint would find of notes, were their suggestions taken.
type FoundIfTaken struct {
	Rule, Severity, Message string
	Notes                   []int
	// InText says that lint says it only of digits that stand in the text: the suggestion is put in doubt and the reason told, and
	// once somebody has decided it nothing is found.
	InText bool
}

// All lists everything that an editor has to judge in a piece: the passages, and behind them the firm ones.
func All(in Input) []Passage {
	returns := make([]parallel.Return, 0, len(in.Returns))
	// A chord that is rolled is struck key after key: what returned with it may do so no more, and is asked for itself.
	mayRoll := map[int]bool{}
	for i := range in.Result.Rolls {
		for _, n := range in.Result.Rolls[i].Notes {
			mayRoll[n] = !in.Result.Rolls[i].Decided
		}
	}
	for _, r := range in.Returns {
		together := parallel.Return{Kind: r.Kind, Shift: r.Shift}
		rolls := slices.ContainsFunc(slices.Concat(r.First, r.Later), func(n int) bool { return mayRoll[n] })
		for k := range min(len(r.First), len(r.Later)) {
			if rolls {
				break
			}
			if in.carries(r.First[k], r.Later[k]) {
				keep(&together, &r, k)
			}
		}
		returns = append(returns, together)
	}
	passages := passagesOf(in.Result, in.Playing, returns, in.IfTaken)
	return withFindings(AddFirm(passages, in.Result, in.Playing, in.sure(returns), in.Open), in.Result, in.IfTaken)
}

// withFindings lays what lint would find beside the passages with which its notes are taken though nothing puts them in
// doubt, as the second note of a key that two voices strike: its finger is the other's. Such a passage is not firm. What
// speaks of digits of the text alone, as of a grip of them with keys that are held, lies beside the first passage of
// their measure that is taken.
func withFindings(passages []Passage, r *state.Result, ifTaken []FoundIfTaken) []Passage {
	at := r.ByNumber()
	for _, f := range ifTaken {
		has := func(notes []int) bool {
			return slices.ContainsFunc(f.Notes, func(n int) bool { return slices.Contains(notes, n) })
		}
		if f.InText {
			continue // told where its notes are in doubt; it asks for no answer of its own
		}
		lies, beside := false, -1
		for i := range passages {
			q := &passages[i]
			if q.Redistribution >= 0 || q.ReturnOf > 0 {
				continue
			}
			switch {
			case has(q.Doubts): // it lies there already
				lies = true
			case has(q.Open):
				q.IfTaken, q.Firm, lies = append(q.IfTaken, f), false, true
			case beside < 0 && len(q.Doubts)+len(q.Open) > 0 && near(at.Of(f.Notes[0]), q):
				beside = i
			}
		}
		if !lies && beside >= 0 {
			q := &passages[beside]
			q.IfTaken, q.Firm = append(q.IfTaken, f), false
		}
	}
	return passages
}

// near says that a note stands in the measures of a passage of its hand.
func near(n *state.Note, q *Passage) bool {
	return n != nil && n.Hand == q.Hand && (q.Part == "" || n.Part == q.Part) && q.First <= n.MeasureIndex && n.MeasureIndex <= q.Last
}

// carries says that a digit decided at one of two notes holds for the other, as stage 10_bind has it.
func (in Input) carries(first, later int) bool {
	return (in.Apart == nil || !in.Apart[first] && !in.Apart[later]) && bind.Carries(in.Playing, first, later)
}

// keep lets a return have a pair of notes of another.
func keep(to, from *parallel.Return, k int) {
	to.First, to.Later = append(to.First, from.First[k]), append(to.Later, from.Later[k])
	if k < len(from.Given) {
		to.Given = append(to.Given, from.Given[k])
	}
}

// sure leaves in returns the pairs of notes that are there in either case, whether what is offered to the other hand is
// taken or not: the lines of the hands are others afterwards, and so is what comes back in them.
func (in Input) sure(returns []parallel.Return) []parallel.Return {
	offered, after := map[int]bool{}, playing.Hands{Parts: in.Playing.Parts()}
	for n := range in.Score.Notes {
		after.Piano = append(after.Piano, in.Playing.Plays(n))
		after.Hand, after.Player = append(after.Hand, score.NoHand), append(after.Player, 0)
		if after.Piano[n] {
			after.Hand[n], after.Player[n] = in.Playing.Hand(n), in.Playing.Player(n)
		}
	}
	for i := range in.Result.Redistributions {
		d := &in.Result.Redistributions[i]
		if d.Decided {
			continue
		}
		for _, n := range d.Notes {
			offered[n.N], after.Hand[n.N] = true, d.To
		}
		for _, n := range Staying(in.Result, d) {
			offered[n.N] = true
		}
	}
	if len(offered) == 0 || len(returns) == 0 {
		return returns
	}
	pairs := map[[2]int]bool{}
	then := playing.New(in.Score, after)
	for _, r := range parallel.Same(in.Score, then, parallel.Find(in.Score, then)) {
		for k := range min(len(r.First), len(r.Later)) {
			pairs[[2]int{r.First[k], r.Later[k]}] = true
		}
	}
	out := slices.Clone(returns) // each in its place
	for i := range out {
		r := &out[i]
		kept := parallel.Return{Kind: r.Kind, Shift: r.Shift}
		for k := range min(len(r.First), len(r.Later)) {
			a, b := r.First[k], r.Later[k]
			if pairs[[2]int{a, b}] && !offered[a] && !offered[b] {
				keep(&kept, r, k)
			}
		}
		*r = kept
	}
	return out
}

// AddFirm adds to the passages of a piece those in which nothing is doubtful and digits are open all the
// same, so that nothing is left over when all are judged. They are numbered behind the others. open lists the notes
// whose printed digit nobody has decided, as indices into Score.Notes; returns are those on which decisions will be
// carried. While a printed digit is open, the others that nobody has decided belong to a passage, too: left to the
// search, they would be worked out anew beside what is decided, and could come up as new doubts.
func AddFirm(
	passages []Passage, r *state.Result, p *playing.Playing, returns []parallel.Return, open []int,
) []Passage {
	out := slices.Clone(passages)
	most := -1
	for i := range r.Notes {
		most = max(most, r.Notes[i].N)
	}
	for _, n := range open {
		most = max(most, n)
	}
	for i := range out {
		for _, n := range out[i].Notes {
			most = max(most, n)
		}
	}
	left, prints := make([]bool, most+1), make([]bool, most+1) // notes that no passage decides, those that print
	for _, n := range open {
		left[n], prints[n] = true, true
	}
	at := r.ByNumber()
	back := newReturning(returns)
	for i := range r.Notes {
		if n := &r.Notes[i]; len(open) > 0 && n.Confidence != nil && n.Finger > 0 && !n.Tied {
			left[n.N] = true
		}
	}
	for i := range out {
		q := &out[i]
		if q.Redistribution >= 0 || q.ReturnOf > 0 {
			continue
		}
		if q.Bare = len(open) > 0 && asksNoDigit(at, r, q); q.Bare {
			continue
		}
		rest := q.askOf(at, left, prints)
		if len(q.Doubts)+len(q.Open) == 0 && len(q.Findings) > 0 {
			q.Rest = rest
		}
	}
	for i := range out {
		if q := &out[i]; q.ReturnOf == 0 && !q.ForReturns && len(q.Doubts) > 0 {
			q.ForReturns = alikeEverywhere(whereReturned(at, r, q, back))
		}
	}
	byReturn := decidedByReturns(at, out, back)
	for n := range byReturn {
		left[n] = false
	}
	// A doubt that is not decided with the first place after all is asked where it stands: no passage without doubt holds it.
	for i := range out {
		q := &out[i]
		if q.ReturnOf > 0 && slices.ContainsFunc(q.Doubts, func(n int) bool { return !byReturn[n] }) {
			*q = withoutDecided(*q, byReturn)
			q.Doubts = slices.DeleteFunc(slices.Clone(q.Doubts), func(n int) bool { return byReturn[n] })
			q.ReturnOf, q.Kind, q.Weight = 0, 0, weightOf(at, q.Doubts)
			q.askOf(at, left, prints)
		}
	}
	foundWithFirst(out)
	for _, l := range linesOf(r, p) {
		busy := map[int]bool{} // measures of the line that are judged as a doubt
		for i := range out {
			if q := &out[i]; q.Redistribution < 0 && q.ReturnOf == 0 && !q.Firm && !q.Bare && q.Hand == l.hand &&
				q.Part == l.part {
				for m := q.First; m <= q.Last; m++ {
					busy[m] = true
				}
			}
		}
		for from, ahead := 0, l.notes; ; {
			for len(ahead) > 0 && ahead[0].MeasureIndex < from {
				ahead = ahead[1:]
			}
			span, found := firmSpan(ahead, left, busy, from)
			if !found {
				break
			}
			from = span[1] + 1
			f := withoutDecided(stretch(l, span[0], span[1]), byReturn)
			f.Firm = true
			for _, n := range f.Notes {
				if left[n] && prints[n] {
					f.Open = append(f.Open, n)
				}
			}
			f.Number = len(out) + 1
			if places := whereReturned(at, r, &f, back); alikeEverywhere(places) {
				f.ForReturns = true // one figure, one decision
				for _, place := range places {
					for _, pair := range place.notes {
						if there := pair[1]; there <= most && left[there] {
							left[there] = false
							byReturn[there] = true
						}
					}
				}
			}
			out = append(out, f)
		}
	}
	orders := make([]map[[2]int]orderOf, len(out))
	for i := range out {
		out[i].Goes, orders[i] = goesOf(at, &out[i], back, returns, prints)
	}
	yield(at, out, orders)
	return out
}

// askOf lets a passage ask the printed digits of its notes that no passage has asked, and gives those that do not print.
func (q *Passage) askOf(at state.ByNumber, left, prints []bool) (rest []int) {
	for _, n := range q.Notes {
		switch {
		case left[n] && prints[n]:
			q.Open = append(q.Open, n)
		case left[n] && !standsThere(at.Of(n)):
			rest = append(rest, n)
		}
		left[n] = false
	}
	return rest
}

// asksNoDigit says that a passage asks what its findings say and nothing else: none of them speaks of a digit that is
// suggested there and undecided. What is found of the text alone says nothing of its fingers.
func asksNoDigit(at state.ByNumber, r *state.Result, q *Passage) bool {
	if len(q.Findings) == 0 || len(q.Doubts)+len(q.Rolls)+len(q.IfTaken) > 0 || q.ForReturns {
		return false
	}
	return !slices.ContainsFunc(q.Findings, func(k int) bool {
		f := &r.Findings[k]
		if rule := all.Rule(f.Rule); rule != nil && rule.Text {
			return false
		}
		return slices.ContainsFunc(slices.Concat(f.Notes, f.At), func(n int) bool {
			e := at.Of(n)
			return e != nil && e.Confidence != nil && slices.Contains(q.Notes, n)
		})
	})
}

// firmSpan gives the first and last measure of the next run of measures, from a measure on, in which digits of a line
// are left, not broken by a measure that is judged as a doubt.
func firmSpan(ahead []*state.Note, left []bool, busy map[int]bool, from int) (span [2]int, found bool) {
	for _, n := range ahead {
		m := n.MeasureIndex
		if m < from {
			continue
		}
		if found && (m-span[0] >= firmMeasures || m > span[1] && busy[m]) {
			break
		}
		switch {
		case !left[n.N]:
		case !found:
			span, found = [2]int{m, m}, true
		default:
			span[1] = m
		}
	}
	return span, found
}

// decidedByReturns lists the notes whose digit is decided with the passage that they bring back, as the stage bind
// carries digits: from what is taken there to notes without a digit in the text.
func decidedByReturns(at state.ByNumber, passages []Passage, returns returning) map[int]bool {
	out := map[int]bool{}
	for i := range passages {
		q := &passages[i]
		if q.Redistribution >= 0 || !q.ForReturns {
			continue
		}
		for _, n := range q.Notes {
			if !taken(at.Of(n), q) {
				continue
			}
			for _, x := range returns[n] {
				there := at.Of(x.there)
				if there != nil && !standsThere(there) && x.holds(at, n, func(n int) bool { return slices.Contains(q.Notes, n) }) {
					out[x.there] = true
				}
			}
		}
	}
	return out
}

// withoutDecided leaves the notes out of a passage that are decided elsewhere.
func withoutDecided(p Passage, decided map[int]bool) Passage {
	var notes, strokes []int
	next := false
	for i, n := range p.Notes {
		next = next || slices.Contains(p.Strokes, i)
		if decided[n] {
			continue
		}
		if next {
			strokes, next = append(strokes, len(notes)), false
		}
		notes = append(notes, n)
	}
	p.Notes, p.Strokes = notes, strokes
	return p
}
