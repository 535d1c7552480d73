package effort

import (
	"fmt"

	"fingerproof/rules/hand"
)

// Class says what kind of music two neighbouring strokes belong to.
type Class uint8

// The classes of a transition.
const (
	SingleLine Class = iota // one key struck on either side
	OuterVoice              // the outer voices of chords, or a chord and a single key
	InnerVoice              // any other pair of keys
	classes
)

// pairNames in the order of pairIndex.
var pairNames = [10]string{"1-2", "1-3", "1-4", "1-5", "2-3", "2-4", "2-5", "3-4", "3-5", "4-5"}

// pairIndex of two different fingers 1–5.
func pairIndex(a, b int) int {
	if a > b {
		a, b = b, a
	}
	return [5]int{0, 0, 4, 7, 9}[a] + b - a - 1
}

// Term is the number of one criterion's term in a table of weights.
type Term uint16

// Terms by place. Groups of ten go by finger pair, groups of five by finger. Values are in thousandths of the unit
// said here; a weight is in milli-nats per unit.
const (
	fingerSingle      Term = iota * 5 // a finger on a single key
	fingerChord                       // a finger in a chord
	fingerLeft                        // a finger of the left hand
	risingAhead                       // a finger, per octave the next four keys lie above
	fallingAhead                      // … below
	risingBehind                      // a finger, per octave the last four keys lie above
	fallingBehind                     // … below
	fingerBlackSingle                 // a finger on a single black key
	fingerBlackChord                  // a finger on a black key in a chord
	unaryEnd
)

const (
	linkOrder Term = unaryEnd + iota*10 // fingers in order on another key
	linkPass                            // fingers crossed: thumb under, finger over
	linkSmall                           // per 50 mm below the relaxed span
	linkLarge                           // per 50 mm above it
	chordOrder
	chordSmall
	chordLarge
	pairsEnd
)

// Terms of a transition that stand once for each class.
const (
	sameFinger         Term = iota // one finger on two keys
	sameFingerFar                  // … per 50 mm
	sameFingerSlide                // … from a black key to the white one beside it
	sameKeyOther                   // another finger on the same key
	sameKeySame                    // the same finger on the same key
	passThumbBlack                 // a pass with the thumb on black
	passLevel                      // a pass between keys of one colour
	passGood                       // thumb on white, the finger on black
	passFar                        // a pass, per 50 mm of distance
	beyondComfort                  // per 50 mm beyond a comfortable span
	beyondPractical                // per 50 mm beyond a practical span
	thumbBlackByWhite              // thumb on black next to a white key
	fifthBlackByWhite              // fifth on black next to a white key
	displacement                   // of the hand's position, per 50 mm
	displacementCapped             // the same, but no more than 100 mm counted
	handOrder                      // in this class, fingers in order (bias)
	handPass                       // in this class, fingers crossed (bias)
	linkTerms
)

// Terms of three strokes in a row, once for a single line and once for other lines.
const (
	sameFingerTwoApart  Term = iota // the same finger on the first and third key, which differ
	sameFingerTwoNear               // … of at most 60 mm apart
	otherFingerReturn               // another finger on the same key
	halfChange                      // the first and third key leave the hand's position
	fullChange                      // … over the thumb, in one direction
	changeSize                      // … per 50 mm
	threeFourFive                   // 3, 4 and 5 in a row
	turnAfterPass                   // back again right after a pass
	positionThere                   // displacement of the position from first to third, per 50 mm
	crossedThere                    // first and third crossed without the thumb
	sameFingerBothSides             // the same finger three times on different keys
	orderOneWay                     // three keys one way and the fingers with them
	tripleTerms
)

const (
	linkStart    = pairsEnd
	chordStart   = linkStart + Term(classes)*linkTerms
	tripleStart  = chordStart + chordTerms
	patternScale = tripleStart + 2*tripleTerms // reward for the handbook's digit inside a long scale
	patternChord = patternScale + 1            // … inside a long arpeggio
	memoryGiven  = patternScale + 2            // reward for the digit given at an exact return nearby
	// Terms is how many there are.
	Terms = memoryGiven + 1
)

// Terms within a chord.
const (
	chordBeyondComfort Term = iota
	chordBeyondPractical
	chordThumbBlack  // thumb on black beside a white key
	chordFifthBlack  // fifth on black beside a white key
	chordHeld        // one of the two is only held: bias of order
	chordNeighbours  // neighbouring fingers
	chordAdjacentGap // keys next to each other in the chord, fingers left out between them
	chordTerms
)

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

// link prices finger f on key a followed by finger g on key b.
func (p *Pricer) link(class Class, a, b, f, g int, out emit) {
	base := linkStart + Term(class)*linkTerms
	d := hand.Distance(a, b)
	if d == 0 {
		if f == g {
			out(base+sameKeySame, 1000)
		} else {
			out(base+sameKeyOther, 1000)
		}
		return
	}
	far := max(d, -d)
	if f == g {
		out(base+sameFinger, 1000)
		out(base+sameFingerFar, per50(min(far, 16450)))
		if hand.Black(a) && !hand.Black(b) && far < 2400 {
			out(base+sameFingerSlide, 1000)
		}
	} else {
		// span: distance from the lower finger to the higher one; negative where they are crossed.
		span, low, high := d, a, b
		if f > g {
			span, low, high = -d, b, a // low is the key under the lower finger
		}
		lower := min(f, g)
		if span < 0 {
			out(base+handPass, 1000)
			if class == SingleLine {
				out(linkPass+Term(pairIndex(f, g)), 1000)
			}
			out(base+passFar, per50(far))
			if lower == 1 {
				switch {
				case hand.Black(low) && !hand.Black(high):
					out(base+passThumbBlack, 1000)
				case hand.Black(low) == hand.Black(high):
					out(base+passLevel, 1000)
				default:
					out(base+passGood, 1000)
				}
			}
		} else {
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
			if lower == 1 && hand.Black(low) && !hand.Black(high) {
				out(base+thumbBlackByWhite, 1000)
			}
			if max(f, g) == 5 && hand.Black(high) && !hand.Black(low) {
				out(base+fifthBlackByWhite, 1000)
			}
		}
	}
	moved := d - (restFingers[g]-restFingers[f])*p.profile.Span/21000
	moved = max(moved, -moved)
	out(base+displacement, per50(min(moved, 32900)))
	out(base+displacementCapped, per50(min(moved, 10000)))
}

// leap prices finger f on key a, which the hand leaves, followed by finger g on key b.
func (p *Pricer) leap(class Class, a, b, f, g int, out emit) {
	base := linkStart + Term(class)*linkTerms
	moved := hand.Distance(a, b) - (restFingers[g]-restFingers[f])*p.profile.Span/21000
	moved = max(moved, -moved)
	out(base+displacement, per50(min(moved, 50000)))
	out(base+displacementCapped, per50(min(moved, 10000)))
}

// chord prices fingers f and g on keys a < b of one grip.
func (p *Pricer) chord(held, adjacent bool, a, b, f, g int, out emit) {
	if f >= g { // the oddities are priced by the lattice
		return
	}
	d := hand.Distance(a, b)
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
	if f == 1 && hand.Black(a) && !hand.Black(b) {
		out(chordStart+chordThumbBlack, 1000)
	}
	if g == 5 && hand.Black(b) && !hand.Black(a) {
		out(chordStart+chordFifthBlack, 1000)
	}
	if held {
		out(chordStart+chordHeld, 1000)
	}
	if adjacent {
		if g == f+1 {
			out(chordStart+chordNeighbours, 1000)
		} else {
			out(chordStart+chordAdjacentGap, 1000*(g-f-1))
		}
	}
}

// row prices three strokes in a row of one line.
func (p *Pricer) row(single bool, a, b, c, f, g, h int, out emit) {
	base := tripleStart
	if !single {
		base += tripleTerms
	}
	d := hand.Distance(a, c)
	far := max(d, -d)
	if f == h && d != 0 {
		out(base+sameFingerTwoApart, 1000)
		if far <= 6000 {
			out(base+sameFingerTwoNear, 1000)
		}
		if g == f && a != b && b != c {
			out(base+sameFingerBothSides, 1000)
		}
	}
	if f != h && d == 0 {
		out(base+otherFingerReturn, 1000)
	}
	up := b > a
	if f != h && d != 0 {
		span := d
		if f > h {
			span = -d
		}
		limit := p.profile.Comfortable(f, h)
		under := hand.Length(-3000)
		if min(f, h) > 1 {
			under = 900
		}
		over := max(span-limit, under-span, 0)
		if over > 0 {
			between := (b > a) == (c > b) && a != b && b != c
			if g == 1 && between && (span > p.profile.Practical(f, h) || span < 2*under) {
				out(base+fullChange, 1000)
			} else {
				out(base+halfChange, 1000)
			}
			out(base+changeSize, per50(min(over, 16450)))
		}
		if span < 0 && min(f, h) > 1 {
			out(base+crossedThere, 1000)
		}
	}
	if f != g && g != h && f != h && f >= 3 && g >= 3 && h >= 3 {
		out(base+threeFourFive, 1000)
	}
	if a != b && b != c && (c > b) != up {
		// a pass and straight back
		if (g > f) != up && g != f && (h > g) == (c > b) && h != f {
			out(base+turnAfterPass, 1000)
		}
	}
	if a != b && b != c && (c > b) == up && (g > f) == up && (h > g) == up && f != g && g != h {
		out(base+orderOneWay, 1000)
	}
	moved := d - (restFingers[h]-restFingers[f])*p.profile.Span/21000
	moved = max(moved, -moved)
	out(base+positionThere, per50(min(moved, 16450)))
}

// Name of a term as the tables write it.
func (t Term) Name() string { return termNames[t] }

// Criterion the term is counted under in results.
func (t Term) Criterion() string { return termCriteria[t] }

var termNames, termCriteria = nameTerms()

func nameTerms() (names, criteria [Terms]string) {
	set := func(t Term, criterion, name string, args ...any) {
		names[t], criteria[t] = fmt.Sprintf(name, args...), criterion
	}
	five := []struct {
		t               Term
		criterion, name string
	}{
		{fingerSingle, "pattern", "single key"}, {fingerChord, "pattern", "chord"}, {fingerLeft, "pattern", "left hand"},
		{risingAhead, "position", "keys ahead above"}, {fallingAhead, "position", "keys ahead below"},
		{risingBehind, "position", "keys behind above"}, {fallingBehind, "position", "keys behind below"},
		{fingerBlackSingle, "keys", "black key"}, {fingerBlackChord, "keys", "black key in a chord"},
	}
	for _, g := range five {
		for f := range 5 {
			set(g.t+Term(f), g.criterion, "%s, finger %d", g.name, f+1)
		}
	}
	ten := []struct {
		t               Term
		criterion, name string
	}{
		{linkOrder, "stretch", "in order"}, {linkPass, "passing", "crossed"}, {linkSmall, "stretch", "cramped"}, {linkLarge, "stretch", "open"},
		{chordOrder, "stretch", "chord"}, {chordSmall, "stretch", "chord cramped"}, {chordLarge, "stretch", "chord open"},
	}
	for _, g := range ten {
		for i, pair := range pairNames {
			set(g.t+Term(i), g.criterion, "%s, %s", g.name, pair)
		}
	}
	links := []struct{ criterion, name string }{
		{"repetition", "same finger, another key"}, {"repetition", "same finger, distance"}, {"repetition", "same finger, slide to white"},
		{"repetition", "same key, another finger"}, {"repetition", "same key, same finger"},
		{"passing", "pass, thumb on black"}, {"passing", "pass, one level"}, {"passing", "pass, thumb on white by black"}, {"passing", "pass, distance"},
		{"stretch", "beyond comfort"}, {"stretch", "beyond limit"}, {"keys", "thumb on black by white"}, {"keys", "fifth on black by white"},
		{"position", "hand moved"}, {"position", "hand moved, near"}, {"stretch", "fingers in order"}, {"passing", "fingers crossed"},
	}
	for c, class := range []string{"line", "outer voice", "inner voice"} {
		for i, l := range links {
			set(linkStart+Term(c)*linkTerms+Term(i), l.criterion, "%s: %s", class, l.name)
		}
	}
	for i, n := range []struct{ criterion, name string }{
		{"stretch", "beyond comfort"}, {"stretch", "beyond limit"}, {"keys", "thumb on black by white"}, {"keys", "fifth on black by white"},
		{"stretch", "one key held"}, {"stretch", "neighbouring fingers"}, {"stretch", "fingers left out"},
	} {
		set(chordStart+Term(i), n.criterion, "chord: %s", n.name)
	}
	rows := []struct{ criterion, name string }{
		{"repetition", "same finger two apart"}, {"repetition", "same finger two apart, near"}, {"repetition", "another finger on return"},
		{"position", "half change"}, {"position", "full change"}, {"position", "size of change"}, {"pattern", "3, 4 and 5 in a row"},
		{"passing", "turn after a pass"}, {"position", "hand moved over two"}, {"passing", "crossed over two"},
		{"repetition", "same finger three times"}, {"pattern", "fingers go with the keys"},
	}
	for c, class := range []string{"line", "chords"} {
		for i, r := range rows {
			set(tripleStart+Term(c)*tripleTerms+Term(i), r.criterion, "three in a %s: %s", class, r.name)
		}
	}
	set(patternScale, "pattern", "handbook digit in a long scale")
	set(patternChord, "pattern", "handbook digit in a long arpeggio")
	set(memoryGiven, "parallel", "digit given at a return")
	return names, criteria
}

// Criteria in the order in which results list them.
var Criteria = []string{"stretch", "position", "passing", "keys", "repetition", "pattern", "parallel", "habit", "line", "tempo", "reach", "limit", "change"}
