package engrave

import (
	"fmt"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// drawing is a picture in the engraver's form: two notes of a chord with digits above it, and more.
func drawing(t *testing.T, more string) *etree.Element {
	t.Helper()
	note := func(id string, x, y int) string {
		return fmt.Sprintf(`<g class="note" data-id="%s"><g class="notehead"><use href="#glyph-E0A4" transform="translate(%d, %d) scale(0.72, 0.72)"/></g></g>`, id, x, y)
	}
	digit := func(id, text string, x, y int) string {
		return fmt.Sprintf(`<g class="fing" data-startid="#%s"><text x="%d" y="%d" text-anchor="middle" font-size="0px"><tspan><tspan font-size="300px">%s</tspan></tspan></text></g>`, id, x, y, text)
	}
	document := etree.NewDocument()
	require.NoError(t, document.ReadFromString(`<svg>`+
		`<g class="staff"><path d="M0 1000 L9000 1000"/><path d="M0 1720 L9000 1720"/></g>`+
		note("n0", 900, 1400)+note("n1", 900, 1700)+digit("n0", "3", 1000, 600)+digit("n1", "1", 1000, 900)+more+`</svg>`))
	return document.Root()
}

func heightOf(t *testing.T, drawing *etree.Element, id string) int {
	t.Helper()
	sign := drawing.FindElement(".//g[@data-startid='#" + id + "']/text")
	require.NotNil(t, sign)
	return int(number(sign, "y"))
}

// Digits over which something lies move outwards until they are clear of it, those beyond them keep their distance, and what
// lies clear stays where the engraver put it.
func TestDigitsAreDrawnClearOfStemsAndSlurs(t *testing.T) {
	for name, c := range map[string]struct {
		more  string
		moved bool
	}{
		"nothing":              {"", false},
		"a stem elsewhere":     {`<g class="stem"><path d="M2000 1400 L2000 700" stroke-width="18"/></g>`, false},
		"a stem through it":    {`<g class="stem"><path d="M1010 1400 L1010 700" stroke-width="18"/></g>`, true},
		"a slur over it":       {`<g class="slur"><path d="M800,850 C900,800 1100,800 1200,850 C1100,820 900,820 800,850"/></g>`, true},
		"a beam across it":     {`<g class="beam"><polygon points="500,800 1500,760 1500,860 500,900"/></g>`, true},
		"a flag hanging there": {`<g class="flag"><use href="#glyph-E240" transform="translate(950, 700) scale(0.72, 0.72)"/></g>`, true},
	} {
		d := drawing(t, c.more)
		clearDigits(d, nil)
		inner, outer := heightOf(t, d, "n1"), heightOf(t, d, "n0")
		if !c.moved {
			require.Equal(t, []int{900, 600}, []int{inner, outer}, name)
			continue
		}
		require.Less(t, inner, 900, name)
		require.GreaterOrEqual(t, inner-outer, 300, name)
		_, obstacles := obstaclesOf(d, nil)
		at := box{1000 - 66, float64(inner) - 198, 1000 + 66, float64(inner)}
		for _, o := range obstacles {
			require.False(t, at.meets(o), name)
		}
	}
}

// What lies between two digits of a chord tears them not: both go beyond it.
func TestTheDigitsOfAChordStayTogether(t *testing.T) {
	d := drawing(t, `<g class="beam"><polygon points="500,430 1500,430 1500,620 500,620"/></g>`)
	clearDigits(d, nil)
	inner, outer := heightOf(t, d, "n1"), heightOf(t, d, "n0")
	require.Equal(t, 300, inner-outer)
	require.LessOrEqual(t, inner, 430)
}

// The digits of a chord stand as its notes do.
func TestTheDigitsOfAChordStandAsItsNotes(t *testing.T) {
	d := drawing(t, "")
	for id, y := range map[string]string{"n0": "900", "n1": "600"} {
		d.FindElement(".//g[@data-startid='#"+id+"']/text").CreateAttr("y", y)
	}
	clearDigits(d, nil)
	require.Equal(t, []int{600, 900}, []int{heightOf(t, d, "n0"), heightOf(t, d, "n1")})
}

// A digit moves into no other staff, and a tempo mark makes room for digits.
func TestADigitStaysWithItsStaffAndTempoGivesWay(t *testing.T) {
	d := drawing(t, `<g class="staff"><path d="M0 200 L9000 200"/><path d="M0 500 L9000 500"/></g>`+
		`<g class="stem"><path d="M1010 1400 L1010 100" stroke-width="18"/></g>`)
	clearDigits(d, nil)
	require.Equal(t, 900, heightOf(t, d, "n1"))
	d = drawing(t, `<g class="tempo"><text x="900" y="560" font-size="0px"><tspan><tspan font-size="400px">= 105</tspan></tspan></text></g>`)
	above, _ := clearDigits(d, nil)
	tempo := number(d.FindElement(".//g[@class='tempo']/text"), "y")
	require.Less(t, tempo+80, float64(heightOf(t, d, "n0"))-198)
	require.InDelta(t, 0, above, 100)
	require.GreaterOrEqual(t, heightOf(t, d, "n0"), 600, "no farther from its note")
}

// The digits of a chord whose notes are a second apart stand in one column, in the order of the notes.
func TestTheDigitsOfASecondStandInOneColumn(t *testing.T) {
	document := etree.NewDocument()
	note := func(id string, x, y int) string {
		return fmt.Sprintf(`<g data-id="%s" class="note"><g class="notehead"><use href="#glyph-E0A4" transform="translate(%d, %d) scale(0.72, 0.72)"/></g></g>`, id, x, y)
	}
	digit := func(id, text string, x, y int) string {
		return fmt.Sprintf(`<g class="fing" data-startid="#%s"><text x="%d" y="%d" text-anchor="middle" font-size="0px"><tspan><tspan font-size="300px">%s</tspan></tspan></text></g>`, id, x, y, text)
	}
	require.NoError(t, document.ReadFromString(`<svg><g class="chord">`+note("low", 900, 1700)+note("mid", 1115, 1610)+note("top", 900, 1400)+
		`</g>`+digit("low", "1", 1000, 900)+digit("mid", "2", 1215, 900)+digit("top", "5", 1000, 600)+`</svg>`))
	clearDigits(document.Root(), nil)
	var at [3]int
	for i, id := range []string{"low", "mid", "top"} {
		sign := document.Root().FindElement(".//g[@data-startid='#" + id + "']/text")
		require.Equal(t, 1000.0, number(sign, "x"), id)
		at[i] = int(number(sign, "y"))
	}
	require.Greater(t, at[0], at[1]+200)
	require.Greater(t, at[1], at[2]+200)
}

// Pedal signs of a system go down together where one of them would lie over a digit.
func TestPedalSignsAreDrawnClearOfDigits(t *testing.T) {
	pedals := func(y int) (out []float64) {
		sign := `<use href="#glyph-E6%s" transform="translate(%d, %d) scale(0.72, 0.72)"/>`
		d := drawing(t, `<g class="pedal">`+fmt.Sprintf(sign, "50", 700, y)+`</g><g class="pedal">`+fmt.Sprintf(sign, "55", 5000, y)+`</g>`+
			`<g class="fing" data-startid="#n1"><text x="900" y="2300" text-anchor="middle" font-size="0px"><tspan><tspan font-size="300px">5</tspan></tspan></text></g>`)
		clearDigits(d, nil)
		for _, use := range d.FindElements(".//g[@class='pedal']/use") {
			_, at, ok := placeOf(use)
			require.True(t, ok)
			out = append(out, at)
		}
		return out
	}
	for _, y := range pedals(2350) {
		require.Greater(t, y, 2500.0)
	}
	require.Equal(t, []float64{3000, 3000}, pedals(3000), "nothing lies there")
}

// Words and dynamics that stand between a digit and its note, or over the digit, give way: the digit goes to its note, they
// stand beyond it or, where a staff is in the way, beside it.
func TestWordsGiveWayToDigits(t *testing.T) {
	words := `<g class="dir"><text x="900" y="%d" font-size="0px"><tspan><tspan font-size="400px">dolce</tspan></tspan></text></g>`
	for name, c := range map[string]struct {
		more  string
		inner int // where the inner digit stands, the other 300 beyond
	}{
		"between":           {fmt.Sprintf(words, 900), 550},
		"over it":           {fmt.Sprintf(words, 560), 900},
		"another staff":     {fmt.Sprintf(words, 900) + `<g class="staff"><path d="M0 -800 L9000 -800"/><path d="M0 -80 L9000 -80"/></g>`, 550},
		"dynamics, between": {`<g class="dynam"><use href="#glyph-E520" transform="translate(950, 880) scale(0.72, 0.72)"/></g>`, 550},
	} {
		d := drawing(t, c.more)
		for id, y := range map[string]int{"n1": c.inner, "n0": c.inner - 300} {
			d.FindElement(".//g[@data-startid='#"+id+"']/text").CreateAttr("y", fmt.Sprint(y))
		}
		clearDigits(d, nil)
		signs := signsOf(d, nil)
		require.Len(t, signs, 1)
		at, digits := signs[0].reach(), []box{}
		for _, id := range []string{"n0", "n1"} {
			y := float64(heightOf(t, d, id))
			digits = append(digits, box{1000 - 66, y - 198, 1000 + 66, y})
		}
		require.False(t, signs[0].meets(0, 0, digits), name)
		require.False(t, at.left < 1066 && 934 < at.right && at.top > digits[0].bottom, "%s: still between: %v %v", name, at, digits)
		require.GreaterOrEqual(t, heightOf(t, d, "n1"), c.inner, name)
		for _, wall := range stavesOf(d) {
			require.False(t, at.meets(wall), name)
		}
	}
}

// An editor's sign stands at its chord, words beyond it.
func TestAnEditorsSignStandsAtItsChord(t *testing.T) {
	text := `<g class="dir"><text x="900" y="%d" font-size="0px"><tspan><tspan font-size="400px">%s</tspan></tspan></text></g>`
	d := drawing(t, fmt.Sprintf(text, -300, "[arp.]")+fmt.Sprintf(text, 100, "Andante"))
	clearDigits(d, nil)
	signs := signsOf(d, nil)
	require.Greater(t, signs[0].reach().top, signs[1].reach().top)
	require.False(t, signs[0].meets(0, 0, signs[1].boxes))
}
