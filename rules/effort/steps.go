package effort

import "fingerproof/rules/hand"

// restFingers is where the fingers of a hand at rest lie, in hundredths of a millimetre from the thumb, for a span of
// 210 mm: about the five-finger position, the thumb a little out (the engine's own working figure).
var restFingers = [6]hand.Length{1: 0, 2: 3300, 3: 5600, 4: 7900, 5: 10300}

type emit func(t Term, thousandths int)

func per50(l hand.Length) int { return int(l) * 1000 / 5000 }

// smallBelow is the span below which a pair lies cramped: the fingers beside each other on neighbouring white keys.
func smallBelow(a, b int) hand.Length {
	if a > b {
		a, b = b, a
	}
	return 2350 * hand.Length(b-a)
}

// largeAbove is the span above which a pair has to open.
func largeAbove(a, b int) hand.Length {
	if a > b {
		a, b = b, a
	}
	w := 2350*hand.Length(b-a) + 200
	if a == 1 {
		w += 2350
	}
	return w
}

// played is a key with the finger that plays it.
type played struct{ key, finger int }

// link prices one key followed by another in one line.
func (p *Pricer) link(class Class, from, to played, out emit) {
	base := linkStart + Term(class)*linkTerms
	switch {
	case from.key == to.key && from.finger == to.finger:
		out(base+sameKeySame, 1000)
		return
	case from.key == to.key:
		out(base+sameKeyOther, 1000)
		return
	case from.finger == to.finger:
		sameFingerMoves(base, from.key, to.key, out)
	default:
		p.fingersInTurn(class, from, to, out)
	}
	moved := p.moved(from, to)
	out(base+displacement, per50(min(moved, 32900)))
	out(base+displacementCapped, per50(min(moved, 10000)))
}

// sameFingerMoves prices one finger on two keys.
func sameFingerMoves(base Term, from, to int, out emit) {
	far := hand.Distance(from, to)
	far = max(far, -far)
	out(base+sameFinger, 1000)
	out(base+sameFingerFar, per50(min(far, 16450)))
	if hand.Black(from) && !hand.Black(to) && far < 2400 {
		out(base+sameFingerSlide, 1000)
	}
}

// fingersInTurn prices two fingers on two keys, in order or crossed.
func (p *Pricer) fingersInTurn(class Class, from, to played, out emit) {
	lower, higher := from, to
	if from.finger > to.finger {
		lower, higher = to, from
	}
	// From the lower finger to the higher one; negative where they are crossed.
	if span := hand.Distance(lower.key, higher.key); span < 0 {
		passing(class, lower, higher, -span, out)
	} else {
		p.inOrder(class, lower, higher, span, out)
	}
}

// passing prices two crossed fingers, far apart by so much.
func passing(class Class, lower, higher played, far hand.Length, out emit) {
	base := linkStart + Term(class)*linkTerms
	out(base+handPass, 1000)
	if class == SingleLine {
		out(linkPass+Term(pairIndex(lower.finger, higher.finger)), 1000)
	}
	out(base+passFar, per50(far))
	if lower.finger != 1 {
		return
	}
	switch {
	case hand.Black(lower.key) && !hand.Black(higher.key):
		out(base+passThumbBlack, 1000)
	case hand.Black(lower.key) == hand.Black(higher.key):
		out(base+passLevel, 1000)
	default:
		out(base+passGood, 1000)
	}
}

// inOrder prices two fingers that lie in order, far apart by so much.
func (p *Pricer) inOrder(class Class, lower, higher played, span hand.Length, out emit) {
	base := linkStart + Term(class)*linkTerms
	f, g := lower.finger, higher.finger
	out(base+handOrder, 1000)
	if class == SingleLine {
		pair := Term(pairIndex(f, g))
		out(linkOrder+pair, 1000)
		if x := smallBelow(f, g) - span; x > 0 {
			out(linkSmall+pair, per50(x))
		}
		if x := span - largeAbove(f, g); x > 0 {
			out(linkLarge+pair, per50(min(x, 16450)))
		}
	}
	if x := p.beyondComfortable(f, g, span); x > 0 {
		out(base+beyondComfort, per50(min(x, 16450)))
	}
	if x := p.beyondPractical(f, g, span); x > 0 {
		out(base+beyondPractical, per50(min(x, 16450)))
	}
	if f == 1 && hand.Black(lower.key) && !hand.Black(higher.key) {
		out(base+thumbBlackByWhite, 1000)
	}
	if g == 5 && hand.Black(higher.key) && !hand.Black(lower.key) {
		out(base+fifthBlackByWhite, 1000)
	}
}

// moved is how far the hand moves, as its fingers lie at rest, to have them on one key and then on another.
func (p *Pricer) moved(from, to played) hand.Length {
	rest := (restFingers[to.finger] - restFingers[from.finger]) * p.profile.Span / 21000
	moved := hand.Distance(from.key, to.key) - rest
	return max(moved, -moved)
}

// leap prices a key that the hand leaves, followed by another one.
func (p *Pricer) leap(class Class, from, to played, out emit) {
	base := linkStart + Term(class)*linkTerms
	moved := p.moved(from, to)
	out(base+displacement, per50(min(moved, 50000)))
	out(base+displacementCapped, per50(min(moved, 10000)))
}

// chordPair says how two keys stand in one chord.
type chordPair struct {
	held     bool // one of them is held, the other struck
	adjacent bool // no key of the chord lies between them
}

// chord prices two keys of one grip.
func (p *Pricer) chord(how chordPair, low, high played, out emit) {
	f, g := low.finger, high.finger
	if f >= g { // the oddities are priced by the lattice
		return
	}
	d := hand.Distance(low.key, high.key)
	pair := Term(pairIndex(f, g))
	out(chordOrder+pair, 1000)
	if x := smallBelow(f, g) - d; x > 0 {
		out(chordSmall+pair, per50(x))
	}
	if x := d - largeAbove(f, g); x > 0 {
		out(chordLarge+pair, per50(min(x, 16450)))
	}
	if x := p.beyondComfortable(f, g, d); x > 0 {
		out(chordStart+chordBeyondComfort, per50(min(x, 16450)))
	}
	if x := p.beyondPractical(f, g, d); x > 0 {
		out(chordStart+chordBeyondPractical, per50(min(x, 16450)))
	}
	if f == 1 && hand.Black(low.key) && !hand.Black(high.key) {
		out(chordStart+chordThumbBlack, 1000)
	}
	if g == 5 && hand.Black(high.key) && !hand.Black(low.key) {
		out(chordStart+chordFifthBlack, 1000)
	}
	if how.held {
		out(chordStart+chordHeld, 1000)
	}
	switch {
	case how.adjacent && g == f+1:
		out(chordStart+chordNeighbours, 1000)
	case how.adjacent:
		out(chordStart+chordAdjacentGap, 1000*(g-f-1))
	}
}

// row prices three strokes in a row of one line.
func (p *Pricer) row(single bool, first, second, third played, out emit) {
	change := p.around(single, first, third, out)
	p.between(single, change, first, second, third, out)
}

// rowStart is the first term of rows, of single notes or of others.
func rowStart(single bool) Term {
	if single {
		return tripleStart
	}
	return tripleStart + tripleTerms
}

// positionChange is how far the hand leaves its position between the first and the third of three strokes.
type positionChange struct {
	some bool
	far  bool // so far that it changes in full where the thumb passes between them
}

// around prices what of a row is between its first and its third stroke, whatever the second one is played with.
func (p *Pricer) around(single bool, first, third played, out emit) (change positionChange) {
	base := rowStart(single)
	a, c, f, h := first.key, third.key, first.finger, third.finger
	switch {
	case f == h && a != c:
		far := hand.Distance(a, c)
		out(base+sameFingerTwoApart, 1000)
		if max(far, -far) <= 6000 {
			out(base+sameFingerTwoNear, 1000)
		}
	case f != h && a == c:
		out(base+otherFingerReturn, 1000)
	case f != h:
		change = p.positionChange(base, first, third, out)
	}
	out(base+positionThere, per50(min(p.moved(first, third), 16450)))
	return change
}

// positionChange prices two fingers on the first and the third of three keys, where the hand may leave its position.
func (p *Pricer) positionChange(base Term, first, third played, out emit) (change positionChange) {
	f, h := first.finger, third.finger
	span := hand.Distance(first.key, third.key)
	if f > h {
		span = -span
	}
	under := hand.Length(-3000)
	if min(f, h) > 1 {
		under = 900
	}
	if over := max(span-p.profile.Comfortable(f, h), under-span, 0); over > 0 {
		change = positionChange{true, span > p.profile.Practical(f, h) || span < 2*under}
		out(base+changeSize, per50(min(over, 16450)))
	}
	if span < 0 && min(f, h) > 1 {
		out(base+crossedThere, 1000)
	}
	return change
}

// between prices what of a row the second stroke has a part in.
func (p *Pricer) between(single bool, change positionChange, first, second, third played, out emit) {
	base := rowStart(single)
	a, b, c := first.key, second.key, third.key
	f, g, h := first.finger, second.finger, third.finger
	onTheWay := (b > a) == (c > b) && a != b && b != c
	switch {
	case f == h && a != c && g == f && a != b && b != c:
		out(base+sameFingerBothSides, 1000)
	case change.some && change.far && g == 1 && onTheWay:
		out(base+fullChange, 1000)
	case change.some:
		out(base+halfChange, 1000)
	}
	if f != g && g != h && f != h && f >= 3 && g >= 3 && h >= 3 {
		out(base+threeFourFive, 1000)
	}
	if a != b && b != c {
		up, on := b > a, c > b
		if on != up && (g > f) != up && g != f && (h > g) == on && h != f { // a pass and straight back
			out(base+turnAfterPass, 1000)
		}
		if on == up && (g > f) == up && (h > g) == up && f != g && g != h {
			out(base+orderOneWay, 1000)
		}
	}
}
