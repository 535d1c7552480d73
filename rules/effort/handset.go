package effort

// HandSet is the table written by hand, before anything was fitted: an oracle for the fitted ones. Figures are our own
// judgement of what is awkward at the keyboard, in milli-nats.
func HandSet() *Weights {
	w := &Weights{Name: "hand-set"}
	put := func(t Term, v ...int32) {
		for i, x := range v {
			w.Terms[int(t)+i] = x
		}
	}
	put(fingerSingle, 0, 0, 0, 250, 250)
	put(fingerBlackSingle, 900, 0, 0, 0, 600)
	put(fingerBlackChord, 500, 0, 0, 0, 300)
	put(linkPass, 700, 600, 900, 5000, 3500, 4000, 4000, 3500, 4000, 3500)
	put(linkSmall, 1000, 800, 800, 700, 2000, 2000, 1500, 2000, 2000, 2000)
	put(linkLarge, 700, 600, 600, 600, 2500, 2000, 1500, 3000, 2000, 2500)
	put(chordSmall, 2000, 2000, 1500, 1500, 2500, 2500, 2000, 2500, 2500, 2500)
	put(chordLarge, 1200, 1000, 900, 600, 2500, 2000, 1500, 3000, 2000, 2500)
	put(risingAhead, -600, -200, 200, 500, 1000)
	put(fallingAhead, 1000, 400, 0, -300, -700)
	put(risingBehind, -500, -200, 100, 400, 800)
	put(fallingBehind, 800, 300, 0, -200, -500)
	for c := range classes {
		at := linkStart + Term(c)*linkTerms
		scale := []int32{10, 6, 3}[c]
		put(at+sameFinger, 350*scale)
		put(at+sameFingerFar, 60*scale)
		put(at+sameFingerSlide, -120*scale)
		put(at+sameKeyOther, 90*scale)
		put(at+passThumbBlack, 150*scale)
		put(at+passLevel, 30*scale)
		put(at+passGood, -30*scale)
		put(at+passFar, 80*scale)
		put(at+beyondComfort, 60*scale)
		put(at+beyondPractical, 200*scale)
		put(at+thumbBlackByWhite, 60*scale)
		put(at+fifthBlackByWhite, 50*scale)
		put(at+displacementCapped, 25*scale)
		if Class(c) != SingleLine {
			put(at+handPass, 200*scale)
		}
	}
	put(chordStart+chordBeyondComfort, 800)
	put(chordStart+chordBeyondPractical, 4000)
	put(chordStart+chordThumbBlack, 400)
	put(chordStart+chordFifthBlack, 200)
	for c := range Term(2) {
		at := tripleStart + c*tripleTerms
		put(at+sameFingerTwoApart, 900)
		put(at+sameFingerTwoNear, 300)
		put(at+otherFingerReturn, 800)
		put(at+halfChange, 400)
		put(at+fullChange, 300)
		put(at+changeSize, 200)
		put(at+threeFourFive, 100)
		put(at+turnAfterPass, 600)
		put(at+crossedThere, 600)
	}
	put(patternScale, -2500)
	put(patternChord, -2500)
	put(memoryGiven, -1500)
	return w
}
