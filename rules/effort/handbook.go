package effort

import "fingerproof/rules/fingering"

// scaleRow is the handbook's fingering of a scale over two octaves upwards, one digit a note.
type scaleRow struct{ right, left string }

// majorRows by the pitch class of the tonic (FACTS §4.1).
var majorRows = [12]scaleRow{
	0:  {"123123412312345", "543213214321321"},
	1:  {"231234123123412", "321432132143213"},
	2:  {"123123412312345", "543213214321321"},
	3:  {"312341231234123", "321432132143213"},
	4:  {"123123412312345", "543213214321321"},
	5:  {"123412312341234", "543213214321321"},
	6:  {"234123123412312", "432132143213214"},
	7:  {"123123412312345", "543213214321321"},
	8:  {"341231234123123", "321432132143213"},
	9:  {"123123412312345", "543213214321321"},
	10: {"412312341231234", "321432132143213"},
	11: {"123123412312345", "432143213214321"},
}

// minorRows by the pitch class of the tonic: harmonic minor (FACTS §4.1).
var minorRows = [12]scaleRow{
	0:  {"123123412312345", "543213214321321"},
	1:  {"341231234123123", "321432132143213"},
	2:  {"123123412312345", "543213214321321"},
	3:  {"312341231234123", "214321321432132"},
	4:  {"123123412312345", "543213214321321"},
	5:  {"123412312341234", "543213214321321"},
	6:  {"341231234123123", "432132143213214"},
	7:  {"123123412312345", "543213214321321"},
	8:  {"341231234123123", "321432132143213"},
	9:  {"123123412312345", "543213214321321"},
	10: {"412312341231234", "213214321321432"},
	11: {"123123412312345", "432143213214321"},
}

// Kinds of scale, by the steps above the tonic.
var scaleSteps = [4][7]int{
	{0, 2, 4, 5, 7, 9, 11}, // major
	{0, 2, 3, 5, 7, 8, 11}, // harmonic minor
	{0, 2, 3, 5, 7, 8, 10}, // natural minor
	{0, 2, 3, 5, 7, 9, 11}, // melodic minor, upwards
}

// scaleDigit is the handbook's digit on a degree 0–6 inside a scale.
func scaleDigit(kind, tonic, degree int, h fingering.Hand) fingering.Finger {
	row := majorRows[tonic]
	if kind > 0 {
		row = minorRows[tonic]
	}
	if kind == 3 { // FACTS §4.1: melodic minor, where different
		switch tonic {
		case 6, 1:
			row.right = "231234123123412"
		}
	}
	if kind == 2 && tonic == 8 {
		row.left = "321321432132143"
	}
	digits := row.right
	if h == fingering.Left {
		digits = row.left
	}
	return fingering.Finger(digits[7+degree] - '0')
}

// arpeggioRow is the handbook's fingering of a broken chord inside, by member: root, third, fifth and seventh.
type arpeggioRow struct{ right, left string }

var (
	whiteTriad  = arpeggioRow{"123", "142"}
	whiteTriad3 = arpeggioRow{"123", "132"}
	blackTriad  = arpeggioRow{"412", "214"}
)

// triadRow gives the row of a root-position triad (FACTS §4.2).
func triadRow(minor bool, root int) arpeggioRow {
	if !minor {
		switch root {
		case 0, 5, 7:
			return whiteTriad
		case 2, 9, 4, 11, 6:
			return whiteTriad3
		case 1, 8, 3:
			return blackTriad
		}
		return arpeggioRow{"412", "321"}
	}
	switch root {
	case 6, 1, 8:
		return blackTriad
	case 10:
		return arpeggioRow{"231", "321"}
	}
	return whiteTriad
}

// chordSteps are the broken chords looked for: major and minor triad, dominant and diminished seventh.
var chordSteps = [4][]int{{0, 4, 7}, {0, 3, 7}, {0, 4, 7, 10}, {0, 3, 6, 9}}

// chordDigit is the handbook's digit on a member inside a broken chord in root position.
func chordDigit(kind, root, member int, h fingering.Hand) fingering.Finger {
	var row arpeggioRow
	if kind < 2 {
		row = triadRow(kind == 1, root)
	} else {
		row = seventhRow(chordSteps[kind], root)
	}
	digits := row.right
	if h == fingering.Left {
		digits = row.left
	}
	return fingering.Finger(digits[member] - '0')
}

// seventhRow lays a seventh chord out by the printed rule (FACTS §4.3): from white 1 2 3 4 and 5 4 3 2 with the thumb
// on every root; from black the right thumb on the first white key after the start, the left on the farthest white
// key.
func seventhRow(steps []int, root int) arpeggioRow {
	isBlack := func(member int) bool { return (0b010101001010>>uint((root+steps[member])%12))&1 == 1 }
	lay := func(thumb int) string {
		var d [4]byte
		for i := range 4 {
			d[(thumb+i)%4] = byte('1' + i)
		}
		return string(d[:])
	}
	layDown := func(thumb int) string {
		var d [4]byte
		for i := range 4 {
			d[(thumb+4-i)%4] = byte('1' + i)
		}
		return string(d[:])
	}
	row := arpeggioRow{lay(0), layDown(0)}
	if isBlack(0) {
		for i := 1; i < 4; i++ {
			if !isBlack(i) {
				row.right = lay(i)
				break
			}
		}
		for i := 3; i > 0; i-- {
			if !isBlack(i) {
				row.left = layDown(i)
				break
			}
		}
	}
	return row
}
