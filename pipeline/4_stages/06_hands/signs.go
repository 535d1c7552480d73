package hands

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
)

// A hand sign stands at a moment and beside a staff, and the reader of the page sees which notes it means: those
// struck at that moment. Where a voice of its own begins or stands apart there, it means that voice (a bass or a
// tune that one hand takes over a chord); where its own staff strikes nothing, the staff that does (the sign stands
// in the space between them); and where the notes beside it cannot be the hand's, while those of the other staff
// are, it confirms these; so it does where these lie beyond the other hand, which is what the sign is there to say
// (common practice).

// SignedNotes is what a hand sign of the text names.
type SignedNotes struct {
	Sign  score.Direction
	Notes []int // in the order of the file, up to where the sign no longer holds
	// Other says that the hand named is not that of the notes' own staff.
	Other bool
}

// Signed lists the signs of the text in order, with the notes that each names. The error is that of AssignHands.
func Signed(s *score.Score, scoring Scoring) ([]SignedNotes, error) {
	players, err := playersOf(s, scoring)
	if err != nil {
		return nil, err
	}
	list, _ := signedIn(s, homeHand(s, players))
	return list, nil
}

// homeHand gives the hand that a note's staff stands for.
func homeHand(s *score.Score, players map[int]player) func(*score.Note) score.Hand {
	return func(n *score.Note) score.Hand {
		_, hand := players[n.Part].of(&s.Parts[n.Part], n)
		return hand
	}
}

// signedHands gives, by note, the hand that a sign in force names.
func signedHands(s *score.Score, home func(*score.Note) score.Hand) map[int]score.Hand {
	_, out := signedIn(s, home)
	return out
}

func signedIn(s *score.Score, home func(*score.Note) score.Hand) (all []SignedNotes, out map[int]score.Hand) {
	list := signsInOrder(s)
	out = map[int]score.Hand{}
	if len(list) == 0 {
		return nil, out
	}
	p := newSignedPage(s, home)
	for k := range list {
		d := &list[k]
		one := SignedNotes{Sign: *d, Notes: p.split(d)}
		for _, i := range one.Notes {
			out[i] = d.Hand
		}
		if len(one.Notes) == 0 {
			for _, v := range p.named(d, out) {
				one.Notes = append(one.Notes, p.bind(d, v, list[k+1:], out)...)
				one.Notes = append(one.Notes, p.goOn(d, v, list[k+1:], out)...)
			}
		}
		slices.Sort(one.Notes)
		for _, i := range one.Notes {
			one.Other = one.Other || home(&s.Notes[i]) != d.Hand
		}
		all = append(all, one)
	}
	for i := range s.Notes { // a key held on stays with the hand that struck it
		if h, ok := out[i]; ok {
			for t := s.Notes[i].TiedTo; t >= 0 && out[t] == score.NoHand; t = s.Notes[t].TiedTo {
				out[t] = h
			}
		}
	}
	return all, out
}

// signsInOrder lists the signs of the text by measure and moment.
func signsInOrder(s *score.Score) (out []score.Direction) {
	for _, d := range s.Directions {
		if d.Kind == score.HandSign && !s.Offered(&d) {
			d.Staff = max(d.Staff, 1)
			out = append(out, d)
		}
	}
	slices.SortStableFunc(out, func(a, b score.Direction) int {
		return cmp.Or(cmp.Compare(a.Part, b.Part), cmp.Compare(a.Measure, b.Measure), a.Onset.Cmp(b.Onset),
			cmp.Compare(a.Staff, b.Staff))
	})
	return out
}

// signedPage looks notes up by part and measure.
type signedPage struct {
	s     *score.Score
	home  func(*score.Note) score.Hand
	notes map[[2]int][]int // by part and measure: pitched notes that are neither cue nor hidden
}

func newSignedPage(s *score.Score, home func(*score.Note) score.Hand) *signedPage {
	p := &signedPage{s: s, home: home, notes: map[[2]int][]int{}}
	for i := range s.Notes {
		n := &s.Notes[i]
		if at := [2]int{n.Part, n.Measure}; n.Kind == score.Pitched && !n.Cue && !n.Hidden {
			p.notes[at] = append(p.notes[at], i)
		}
	}
	return p
}

// signedVoice is a voice as far as it stands on one staff.
type signedVoice struct {
	staff int
	voice string
}

func (p *signedPage) voiceOf(i int) signedVoice {
	return signedVoice{p.s.Notes[i].Staff, p.s.Notes[i].Voice}
}

// struck lists what is struck at the moment of a sign on a staff, or on any other staff (staff 0 less).
func (p *signedPage) struck(d *score.Direction, own bool) (out []int) {
	for _, i := range p.notes[[2]int{d.Part, d.Measure}] {
		n := &p.s.Notes[i]
		if n.Onset.Equal(d.Onset) && n.TiedFrom < 0 && (n.Staff == d.Staff) == own &&
			(d.Voice == "" || d.Voice == n.Voice) {
			out = append(out, i)
		}
	}
	return out
}

// named lists the voices that a sign names, in the order of the file.
func (p *signedPage) named(d *score.Direction, so map[int]score.Hand) []signedVoice {
	here, there := p.struck(d, true), p.struck(d, false)
	if d.Voice == "" && p.crossed(d) { // a voice of the hand has come over to this staff: it is meant and no other
		return p.crossedVoices(d)
	}
	if d.Voice == "" && len(here) > 0 && !p.areHome(here, d.Hand) {
		if over := p.overTheOther(d, here); len(over) > 0 {
			return over
		}
	}
	if len(here) == 0 {
		if d.Voice == "" && p.areHome(there, d.Hand) { // the sign stands between the staves, over a rest of its own
			return p.voices(there)
		}
		if v, ok := p.overFromOwn(d, there); ok {
			return v
		}
		return p.staffVoices(d)
	}
	if p.areHome(here, d.Hand) || d.Voice != "" {
		return p.voices(here)
	}
	return p.likeliest(d, here, there, so)
}

// overFromOwn finds the voice of the other staff that a hand goes over to, from its own staff where it strikes nothing: of
// several that are struck at a sign between the staves the one that does not go on with the keys struck right before (the
// other hand repeats its chord under an octave of this one's, common practice).
func (p *signedPage) overFromOwn(d *score.Direction, there []int) (best []signedVoice, ok bool) {
	between := d.Above && d.Staff == 2 || d.Below && d.Staff == 1
	if d.Voice != "" || !between {
		return nil, false
	}
	var over []int
	for _, i := range there {
		if p.home(&p.s.Notes[i]) != d.Hand && p.s.Notes[i].Grace == 0 {
			over = append(over, i)
		}
	}
	voices := p.voices(over)
	if len(voices) != 2 {
		return nil, false
	}
	before := p.struckBefore(d, over[0])
	for k, v := range voices {
		keys, others := p.keysOf(over, v), p.keysOf(over, voices[1-k])
		if len(before) > 0 && slices.Equal(others, before) && !slices.Equal(keys, before) {
			return []signedVoice{v}, true
		}
	}
	return nil, false
}

// keysOf lists the keys of a voice among some notes.
func (p *signedPage) keysOf(notes []int, v signedVoice) (keys []int) {
	for _, i := range notes {
		if p.voiceOf(i) == v {
			keys = append(keys, p.s.Notes[i].Midi)
		}
	}
	slices.Sort(keys)
	return keys
}

// struckBefore lists the keys that were struck last before a sign in its measure, on the staff of a note.
func (p *signedPage) struckBefore(d *score.Direction, note int) (keys []int) {
	var last score.Fraction
	for _, i := range p.notes[[2]int{d.Part, d.Measure}] {
		n := &p.s.Notes[i]
		if n.Staff != p.s.Notes[note].Staff || n.TiedFrom >= 0 || n.Grace > 0 || !n.Onset.Less(d.Onset) {
			continue
		}
		if len(keys) == 0 || last.Less(n.Onset) {
			keys, last = nil, n.Onset
		}
		if n.Onset.Equal(last) {
			keys = append(keys, n.Midi)
		}
	}
	slices.Sort(keys)
	return keys
}

// crossed says that a voice of the hand that a sign names has come over to the sign's staff in its measure.
func (p *signedPage) crossed(d *score.Direction) bool { return len(p.crossedVoices(d)) > 0 }

func (p *signedPage) crossedVoices(d *score.Direction) (out []signedVoice) {
	for _, i := range p.notes[[2]int{d.Part, d.Measure}] {
		n := &p.s.Notes[i]
		if n.Staff == d.Staff && n.HomeStaff != n.Staff && p.home(n) == d.Hand &&
			!slices.Contains(out, p.voiceOf(i)) {
			out = append(out, p.voiceOf(i))
		}
	}
	return out
}

// overTheOther lists the voices of the hand that a sign names where they sound at its moment on the other staff and
// that hand lies, as written, wholly beyond what the other hand strikes beside the sign: the page shows the crossing
// as the hand's own staff, and the sign says it where the keys lie.
func (p *signedPage) overTheOther(d *score.Direction, here []int) []signedVoice {
	var over []int
	low, high := 128, -1
	for _, i := range p.notes[[2]int{d.Part, d.Measure}] {
		n := &p.s.Notes[i]
		if n.Staff != d.Staff && p.home(n) == d.Hand && n.Onset.Cmp(d.Onset) <= 0 &&
			d.Onset.Less(n.Onset.Add(n.Duration)) {
			over = append(over, i)
			low, high = min(low, n.Midi), max(high, n.Midi)
		}
	}
	for _, i := range here {
		if key := p.s.Notes[i].Midi; d.Hand == score.Left && key >= low || d.Hand == score.Right && key <= high {
			return nil
		}
	}
	return p.voices(over)
}

// areHome says that notes, some, live with a hand.
func (p *signedPage) areHome(notes []int, h score.Hand) bool {
	return len(notes) > 0 && !slices.ContainsFunc(notes, func(i int) bool { return p.home(&p.s.Notes[i]) != h })
}

func (p *signedPage) voices(notes []int) (out []signedVoice) {
	for _, i := range notes {
		if v := p.voiceOf(i); !slices.Contains(out, v) {
			out = append(out, v)
		}
	}
	return out
}

// staffVoices lists the voices of the sign's staff that strike later in its measure.
func (p *signedPage) staffVoices(d *score.Direction) (out []signedVoice) {
	for _, i := range p.notes[[2]int{d.Part, d.Measure}] {
		n := &p.s.Notes[i]
		if n.Staff == d.Staff && d.Onset.Less(n.Onset) && (d.Voice == "" || d.Voice == n.Voice) &&
			!slices.Contains(out, p.voiceOf(i)) {
			out = append(out, p.voiceOf(i))
		}
	}
	return out
}

// likeliest chooses among the voices struck beside a sign, one or all, and, as what it confirms, those of the other
// staff: first by what both hands then have to strike, then what begins at the sign, then the voice that lies
// towards the hand's own side.
func (p *signedPage) likeliest(d *score.Direction, here, there []int, so map[int]score.Hand) (best []signedVoice) {
	voices := p.voices(here)
	least := 1 << 30
	try := func(o []signedVoice, cost int) {
		if cost += p.unplayable(d, here, there, o, so); cost < least {
			best, least = o, cost
		}
	}
	if len(voices) == 1 {
		try(voices, 1)
	}
	for _, v := range voices {
		switch {
		case len(voices) == 1:
		case p.begins(d, v):
			try([]signedVoice{v}, 0)
		default:
			try([]signedVoice{v}, 2)
		}
	}
	if len(voices) > 1 {
		try(voices, 4)
	}
	if p.areHome(there, d.Hand) {
		try(p.voices(there), 3)
	}
	return best
}

// begins says that a voice begins at a sign within the measure: it has nothing there before, or rests right before.
func (p *signedPage) begins(d *score.Direction, v signedVoice) bool {
	if d.Onset.Cmp(score.Fraction{}) == 0 {
		return false
	}
	for _, i := range p.notes[[2]int{d.Part, d.Measure}] {
		if n := &p.s.Notes[i]; p.voiceOf(i) == v && n.Onset.Less(d.Onset) && !n.Onset.Add(n.Duration).Less(d.Onset) {
			return false
		}
	}
	return true
}

// What makes a stroke unlikely: semitones beyond a tenth and keys beyond five, in fours; all that is struck in one
// hand, though two staves share it; and the left hand over the right.
const (
	signSpan    = 16
	signKeys    = 5
	eachBeyond  = 4
	eachKeyMore = 16
	allInOne    = 12
	overRight   = 1
	underLeft   = 2 // … and more where it is the right hand that goes under
)

// strokeOf is what one hand strikes.
type strokeOf struct{ low, high, keys int }

func (g *strokeOf) put(key int) {
	if g.keys == 0 {
		g.low, g.high = key, key
	}
	g.low, g.high, g.keys = min(g.low, key), max(g.high, key), g.keys+1
}

func (g *strokeOf) tooMuch() int {
	return eachBeyond*max(g.high-g.low-signSpan, 0) + eachKeyMore*max(g.keys-signKeys, 0)
}

// unplayable counts what speaks against the hands at the moment of a sign, were the voices named its hand's. Of a
// rolled chord one hand may strike a lower and a higher part in turn.
func (p *signedPage) unplayable(
	d *score.Direction, here, there []int, named []signedVoice, so map[int]score.Hand,
) int {
	rolled := false
	for _, i := range slices.Concat(here, there) {
		rolled = rolled || p.s.Rolling(i).Rolls()
	}
	var right, left, apart strokeOf
	for _, i := range slices.Concat(here, there) {
		n := &p.s.Notes[i]
		if n.Grace > 0 {
			continue
		}
		hand := p.home(n)
		if was, ok := so[i]; ok {
			hand = was
		}
		moved := false
		if slices.Contains(named, p.voiceOf(i)) {
			moved, hand = hand != d.Hand, d.Hand
		}
		switch {
		case moved && rolled:
			apart.put(n.Midi)
		case hand == score.Left:
			left.put(n.Midi)
		default:
			right.put(n.Midi)
		}
	}
	cost := right.tooMuch() + left.tooMuch() + apart.tooMuch()
	gone := &right
	if d.Hand == score.Right {
		gone = &left
	}
	if len(there) > 0 && gone.keys == 0 {
		cost += allInOne
	}
	if left.keys > 0 && right.keys > 0 && left.high > right.low {
		cost += overRight
		if d.Hand == score.Right {
			cost += underLeft
		}
	}
	if apart.keys > 0 && gone.keys > 0 && (d.Hand == score.Left) != (apart.low > gone.high) {
		cost += overRight // of a rolled chord the hand that crosses takes the outer part
	}
	return cost
}

// bind gives a voice to the hand of a sign, from there to the next sign of its staff or its voice, and at most to
// the end of the measure, but for what signs_goon.go says: printed music leaves the return to the reader's sense. Where the voice goes back to the
// keys struck right before the sign, hands alternate, and those are the other hand's again; and where the voice has
// rested and the hand then has keys of its own staff, it has gone back to them.
func (p *signedPage) bind(
	d *score.Direction, v signedVoice, later []score.Direction, out map[int]score.Hand,
) (bound []int) {
	var until, end score.Fraction
	for k := range later {
		l := &later[k]
		if l.Part == d.Part && l.Measure == d.Measure && d.Onset.Less(l.Onset) &&
			(l.Staff == v.staff || l.Staff == d.Staff) &&
			(l.Voice == "" || l.Voice == v.voice) {
			until = l.Onset
			break
		}
	}
	strokes := map[score.Fraction][]int{}
	var last score.Fraction
	before := false
	for _, i := range p.notes[[2]int{d.Part, d.Measure}] {
		n := &p.s.Notes[i]
		if p.voiceOf(i) != v {
			continue
		}
		if n.Grace == 0 {
			strokes[n.Onset] = append(strokes[n.Onset], n.Midi)
			if n.Onset.Less(d.Onset) && (!before || last.Less(n.Onset)) {
				last, before = n.Onset, true
			}
		}
	}
	for _, keys := range strokes {
		slices.Sort(keys)
	}
	for _, i := range p.notes[[2]int{d.Part, d.Measure}] {
		n := &p.s.Notes[i]
		if p.voiceOf(i) != v || n.Onset.Less(d.Onset) || d.Onset.Less(until) && !n.Onset.Less(until) {
			continue
		}
		if before && p.home(n) != d.Hand && slices.Equal(strokes[n.Onset], strokes[last]) {
			continue
		}
		if n.TiedFrom >= 0 && !slices.Contains(bound, n.TiedFrom) { // a key held into the sign
			continue
		}
		if len(bound) > 0 && end.Less(n.Onset) && p.home(n) != d.Hand && p.plays(d, n.Onset, v) {
			break
		}
		if to := n.Onset.Add(n.Duration); end.Less(to) {
			end = to
		}
		out[i] = d.Hand
		bound = append(bound, i)
	}
	return bound
}

// plays says that the hand of a sign has keys of its own staff at a moment, another voice than the one named.
func (p *signedPage) plays(d *score.Direction, at score.Fraction, v signedVoice) bool {
	return slices.ContainsFunc(p.notes[[2]int{d.Part, d.Measure}], func(i int) bool {
		n := &p.s.Notes[i]
		return p.home(n) == d.Hand && p.voiceOf(i) != v && p.soundsAt(i, at)
	})
}
