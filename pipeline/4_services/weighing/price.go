package weighing

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// How supple the hands are of which a passage is weighed, in thousandths of the common measure: working figures of ours.
const (
	supple = 1150
	stiff  = 850
)

// elsewhere is what it costs memory, in milli-nats, that a note is taken otherwise than where its passage stands elsewhere.
const elsewhere = 300

// line is one hand of a player with both fingerings laid down, note by note.
type line struct {
	in     *Input
	player int
	hand   score.Hand
	notes  [2][]fingering.Note // the editor's, the one for the many; each note with its one finger
	at     map[int]int         // id of a note → its place in notes
	hands  []Hand
	// cost is by hand, at full tempo and in practice behind each other; filled when first asked for. Behind the hands that
	// are weighed stands the largest, which says what no hand can take.
	cost []priced
	like map[int][]int
}

// priced is what each note costs in both fingerings, by place in the line.
type priced struct{ of [2][]noteCost }

type noteCost struct {
	Aims
	habit, limit, reach int
	easy                [comforts]int // comfort by its criteria
}

// largest is a hand beyond which nothing is a matter of size: it is impossible, or read wrongly.
var largest = hand.Profile{Name: "largest", Span: hand.MM(250), Supple: supple}

func newLine(in *Input, player int, h score.Hand, notes []fingering.Note) *line {
	l := &line{in: in, player: player, hand: h, at: map[int]int{}, hands: in.hands(), like: map[int][]int{}}
	for f, s := range []*suggest.Suggestion{in.Suggestion, in.Free} {
		l.notes[f] = slices.Clone(notes)
		for k := range l.notes[f] {
			n := &l.notes[f][k]
			n.Remembered, n.Worth = 0, 0
			if f == 1 {
				n.Then = 0
				if n.ID < len(s.Notes) {
					n.Then = s.Notes[n.ID].Substitution
				}
			}
			if n.Tied {
				continue
			}
			finger := cmp.Or(s.Added[n.ID].Finger, in.Suggestion.Added[n.ID].Finger)
			if n.ID < len(s.Notes) {
				finger = s.Notes[n.ID].Finger
			}
			n.Allowed = fingering.Only(finger)
		}
	}
	for k := range notes {
		l.at[notes[k].ID] = k
	}
	for _, r := range in.Suggest.Returns {
		for k := range min(len(r.First), len(r.Later)) {
			a, b := r.First[k], r.Later[k]
			if in.Suggest.Apart == nil || !in.Suggest.Apart[a] && !in.Suggest.Apart[b] {
				l.like[a], l.like[b] = append(l.like[a], b), append(l.like[b], a)
			}
		}
	}
	l.cost = make([]priced, 2*len(l.hands)+2)
	return l
}

// hands lists those that are weighed: the policy's mix, or its own hand where it has none; then all sizes, where they are
// asked for.
func (in *Input) hands() (out []Hand) {
	named := []hand.Profile{hand.OctaveHand, hand.NinthHand, hand.TenthHand}
	for _, p := range named {
		if share := in.Suggest.Policy.HandShare(p.Name); share > 0 {
			out = append(out, Hand{Name: p.Name, Share: share, Profile: p})
		}
	}
	if len(out) == 0 {
		out = append(out, Hand{Name: in.Suggest.Profile.Name, Share: 100, Profile: in.Suggest.Profile})
	}
	if !in.AllHands {
		return out
	}
	for _, p := range named {
		for _, s := range []struct {
			word string
			of   int
		}{{"supple", supple}, {"stiff", stiff}} {
			q := p
			q.Supple = q.Supple * s.of / 1000
			out = append(out, Hand{Name: p.Name, Supple: s.word, Profile: q})
		}
	}
	return out
}

// of gives what the notes cost a hand, at full tempo or in practice.
func (l *line) of(h int, practice bool) *priced {
	k := 2 * h
	if practice {
		k++
	}
	profile := largest
	if h < len(l.hands) {
		profile = l.hands[h].Profile
	}
	p := &l.cost[k]
	if p.of[0] == nil {
		*p = l.priced(profile, practice)
	}
	return p
}

// priced gives what the notes cost one hand.
func (l *line) priced(profile hand.Profile, practice bool) (p priced) {
	aims := suggest.AimsOf(l.in.Suggest.Policy)
	aims.Mix = [3]int{}   // each hand by itself
	aims.NoLearned = true // it says what is printed, of every hand the same, not what it costs a hand
	percent := int64(l.in.Suggest.Policy.PracticePercent())
	var w engine.Worker
	for f := range l.notes {
		notes := l.notes[f]
		if practice && percent > 0 {
			notes = slices.Clone(notes)
			for i := range notes {
				notes[i].Micros = notes[i].Micros * 100 / percent
			}
		}
		r := w.Finger(fingering.HandOf(l.hand), profile, l.in.Suggest.Weights, notes,
			engine.Options{Decode: engine.Cheapest, Explain: true, Aims: aims})
		p.of[f] = make([]noteCost, len(notes))
		for i := range r.Notes {
			p.of[f][i] = costOf(&r.Notes[i])
		}
	}
	return p
}

// costOf sums what a note costs by aim.
func costOf(n *engine.Fingered) (c noteCost) {
	c.reach = n.Reach
	for _, e := range n.Effort {
		switch aimOf[e.Criterion] {
		case comfort:
			c.Comfort += e.Cost
			c.easy[slices.IndexFunc(ofComfort[:], func(o criterion) bool { return o.name == e.Criterion })] += e.Cost
		case joined:
			c.Line += e.Cost
		case memory:
			c.Memory += e.Cost
		case tempo:
			c.Tempo += e.Cost
		case reach:
			c.Reach += e.Cost
		case limit:
			c.limit += e.Cost
			c.Comfort += e.Cost
		default:
			c.habit += e.Cost
		}
	}
	return c
}

// The aims by which effort is weighed.
const (
	habit = iota
	comfort
	joined
	memory
	tempo
	reach
	limit
)

// ofComfort are the criteria of comfort, in an editor's words.
var ofComfort = [comforts]criterion{
	{"stretch", "the stretch"}, {"position", "moving the hand"}, {"passing", "the crossing"},
	{"keys", "the thumb or fifth finger on a black key"}, {"repetition", "the repeated finger"},
	{"change", "the change of finger on a held key"},
}

type criterion struct{ name, words string }

const comforts = 6

// aimOf gives the aim of each criterion.
var aimOf = func() map[string]int {
	out := map[string]int{}
	for _, c := range effort.Criteria {
		switch c {
		case "pattern", "parallel":
			out[c] = memory
		case "line":
			out[c] = joined
		case "tempo":
			out[c] = tempo
		case "reach":
			out[c] = reach
		case "habit", "learned":
			out[c] = habit
		case "limit":
			out[c] = limit
		default: // stretch, position, passing, keys, repetition, change
			out[c] = comfort
		}
	}
	return out
}()

// window lists the places in the line whose prices a passage bears on: its strokes and the two behind it, up to the stroke
// at which the next passage begins.
func (l *line) window(p *Passage, until int) (out []int) {
	strokes := l.in.Suggest.Playing.Line(l.player, l.hand).Strokes
	first, last := l.in.Suggest.Playing.Stroke(p.Notes[0]).Index, l.in.Suggest.Playing.Stroke(p.Notes[len(p.Notes)-1]).Index
	for k := first; k <= min(last+rejoin, until-1, len(strokes)-1); k++ {
		for _, n := range strokes[k].Notes {
			if at, ok := l.at[n]; ok {
				out = append(out, at)
			}
		}
	}
	from, to := l.notes[0][l.at[p.Notes[0]]].Onset, l.notes[0][l.at[p.Notes[len(p.Notes)-1]]].Onset
	for k := range l.notes[0] { // strokes that signs add to notes of the passage
		n := &l.notes[0][k]
		if n.ID >= len(l.in.Suggestion.Notes) && n.Onset.Compare(from) >= 0 && n.Onset.Compare(to) <= 0 {
			out = append(out, k)
		}
	}
	return out
}

// weigh prices a passage for every hand.
func (l *line) weigh(p *Passage, until int) {
	window := l.window(p, until)
	returns := l.returns(p)
	p.Returns = returns
	all, more := 0, 0
	for h := range l.hands {
		w := For{Hand: l.hands[h]}
		for _, practice := range []bool{false, true} {
			c, sum := l.of(h, practice), Aims{Memory: returns}
			for _, k := range window {
				sum.add(c.of[0][k].Aims, 1)
				sum.add(c.of[1][k].Aims, -1)
			}
			if practice {
				w.Practice = sum
			} else {
				w.Full = sum
			}
		}
		p.For = append(p.For, w)
		if w.Share == 0 {
			continue
		}
		all += w.Share
		p.Full.add(w.Full, w.Share)
		p.Practice.add(w.Practice, w.Share)
		if w.Full.Sum() >= l.in.Limits.Cost {
			more += w.Share
		}
	}
	p.Full, p.Practice, p.MoreFor = p.Full.over(all), p.Practice.over(all), 100*more/all
	c := l.of(0, false)
	for f := range 2 {
		p.Reach[f] = 10000
		for _, k := range window {
			p.Reach[f] = min(p.Reach[f], c.of[f][k].reach)
		}
	}
	for _, k := range window {
		p.Habit += c.of[0][k].habit - c.of[1][k].habit
	}
	p.Share = [2]int{10000, 10000}
	for k, n := range p.Notes {
		if p.Differs(k) && p.Own[k] > 0 && p.Many[k] > 0 {
			shares := &l.in.Free.Notes[n].Shares
			p.Share[0], p.Share[1] = min(p.Share[0], shares[p.Own[k]-1]), min(p.Share[1], shares[p.Many[k]-1])
		}
	}
	for _, k := range window {
		p.Beyond = p.Beyond || c.of[0][k].limit > c.of[1][k].limit
	}
	c = l.of(len(l.hands), false)
	for _, k := range window {
		p.Impossible = p.Impossible || c.of[0][k].limit > c.of[1][k].limit
	}
	p.Needs = [2]Need{l.need(p, 0), l.need(p, 1)}
	if p.Needs[0].Size > p.Needs[1].Size && !l.borneOut(p, window) {
		p.Needs[0] = p.Needs[1]
	}
	p.Slur = l.slur(p)
	p.LineIn, p.Dearest = l.lineByMeasure(window), l.dearest(p, window)
}

// lineByMeasure gives the effort in the line by measure, mean over the mix.
func (l *line) lineByMeasure(window []int) (out []InMeasure) {
	s, all := l.in.Suggest.Score, 0
	for h := range l.hands {
		all += l.hands[h].Share
	}
	for at, k := range window {
		n := l.notes[0][k].ID
		if n >= len(s.Notes) {
			continue
		}
		if next := l.notes[0][window[min(at+1, len(window)-1)]].ID; next < len(s.Notes) && s.Notes[next].Measure != s.Notes[n].Measure {
			continue // what joins two measures belongs to neither
		}
		sum := 0
		for h := range l.hands {
			if l.hands[h].Share > 0 {
				c := l.of(h, false)
				sum += (c.of[0][k].Line - c.of[1][k].Line) * l.hands[h].Share
			}
		}
		number := s.Measures[s.Notes[n].Measure].Number
		if len(out) == 0 || out[len(out)-1].Measure != number {
			out = append(out, InMeasure{Measure: number})
		}
		out[len(out)-1].Effort += sum
	}
	for i := range out {
		out[i].Effort /= all
	}
	return out
}

// dearest finds the criterion that makes at least half of the comfort that the passage costs the first hand of the mix
// more, and the note at which it does so most.
func (l *line) dearest(p *Passage, window []int) (d Dearest) {
	c, sum, all := l.of(0, false), [comforts]int{}, 0
	for _, k := range window {
		for i := range comforts {
			sum[i] += c.of[0][k].easy[i] - c.of[1][k].easy[i]
		}
		all += c.of[0][k].Comfort - c.of[1][k].Comfort
	}
	most := 0
	for i := range comforts {
		if sum[i] > sum[most] {
			most = i
		}
	}
	worst, at := 0, -1
	for _, k := range window {
		if cost := c.of[0][k].easy[most] - c.of[1][k].easy[most]; cost > worst {
			worst, at = cost, k
		}
	}
	if at < 0 || 2*sum[most] < all {
		return Dearest{}
	}
	n := l.notes[0][at].ID
	if n >= len(l.in.Suggest.Score.Notes) || !l.in.theirs(n) || !slices.Contains(p.Notes, n) {
		return Dearest{} // a digit that the program goes on with is not the editor's to answer for
	}
	if !l.shows(ofComfort[most].name, at) {
		return Dearest{}
	}
	return Dearest{ofComfort[most].words, l.in.Suggest.Score.Notes[n].Pitch.String()}
}

// shows says that a player sees in the editor's digits at a note what a criterion holds against them, so that it can be
// named.
func (l *line) shows(criterion string, at int) bool {
	h := fingering.HandOf(l.hand)
	key, finger := l.notes[0][at].Key, l.finger(0, at)
	switch criterion {
	case "keys":
		return hand.Black(key) && (finger == 1 || finger == 5)
	case "repetition":
		return l.againAtOnce(at)
	case "change":
		return l.notes[0][at].Then != 0
	case "passing":
		return slices.ContainsFunc(l.neighbours(at), func(k int) bool {
			up, f := h.Mirror(key)-h.Mirror(l.notes[0][k].Key), l.finger(0, k)
			return f > 0 && (up > 0 && f > finger || up < 0 && f < finger)
		})
	case "stretch":
		return slices.ContainsFunc(l.neighbours(at), func(k int) bool {
			low, high, f, g := h.Mirror(l.notes[0][k].Key), h.Mirror(key), l.finger(0, k), finger
			if low > high {
				low, high, f, g = high, low, g, f
			}
			return f > 0 && f < g && hand.Distance(low, high) > l.in.Suggest.Profile.Comfortable(f, g)
		})
	}
	return false // moving the hand shows in no digit by itself
}

// neighbours lists the notes that are struck with a note or just before it.
func (l *line) neighbours(at int) (out []int) {
	notes := l.notes[0]
	before := -1
	for k := at - 1; k >= 0; k-- {
		switch {
		case notes[k].Tied:
		case fingering.Before(&notes[k], &notes[at]) == 0:
			out = append(out, k)
		case before < 0 || fingering.Before(&notes[k], &notes[before]) == 0:
			before = k
			out = append(out, k)
		default:
			return out
		}
	}
	return out
}

// againAtOnce says that the editor takes the stroke just before a note with the same finger, on another key.
func (l *line) againAtOnce(at int) bool {
	return slices.ContainsFunc(l.neighbours(at), func(k int) bool {
		return fingering.Before(&l.notes[0][k], &l.notes[0][at]) != 0 && l.finger(0, k) == l.finger(0, at) &&
			l.notes[0][k].Key != l.notes[0][at].Key
	})
}

// returns is what the passage costs memory more than the one for the many, where it stands elsewhere too: a digit of the
// composer's there is held against both; a digit of the editor's counts where it is the one for the many, since what they
// do alike everywhere, the other could be as well.
func (l *line) returns(p *Passage) (sum int) {
	for k, n := range p.Notes {
		for _, other := range l.like[n] {
			if slices.Contains(p.Notes, other) || l.in.Suggest.Playing.Hand(other) != l.hand {
				continue
			}
			there := &l.in.Suggestion.Notes[other]
			switch finger := int(there.Finger); {
			case l.in.theirs(other):
				if finger != p.Own[k] && finger == p.Many[k] {
					sum += elsewhere
				}
			case there.Given > 0:
				if finger != p.Own[k] {
					sum += elsewhere
				}
				if finger != p.Many[k] {
					sum -= elsewhere
				}
				if finger == p.Own[k] && finger != p.Many[k] && p.Like == "" {
					p.Like = l.in.Suggest.Score.Measures[l.in.Suggest.Score.Notes[other].Measure].Number
				}
			}
		}
	}
	return sum
}

// slur says whether a slur joins notes of the passage, or leads into it.
func (l *line) slur(p *Passage) (out Slur) {
	strokes := l.in.Suggest.Playing.Line(l.player, l.hand).Strokes
	first, last := l.in.Suggest.Playing.Stroke(p.Notes[0]).Index, l.in.Suggest.Playing.Stroke(p.Notes[len(p.Notes)-1]).Index
	for k := max(first-1, 0); k <= last; k++ {
		for _, n := range strokes[k].Notes {
			at, ok := l.at[n]
			if !ok || !l.notes[0][at].Slurred {
				continue
			}
			if !l.notes[0][at].Pedalled {
				return Slurred
			}
			out = PedalSlurred
		}
	}
	return out
}
