package engrave

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

// The bracket of an ending, with its number, rises over the digits below it; the next one at its height goes along, and one that
// meets nothing stays (trial 15b-13).
func TestTheBracketOfAnEndingRisesOverDigits(t *testing.T) {
	bracket := func(x, y int) string {
		return fmt.Sprintf(`<g class="ending systemMilestone"><g class="voltaBracket"><text x="%d" y="%d" font-size="0px"><tspan><tspan font-size="405px">1</tspan></tspan></text>`+
			`<path d="M%d %d L%d %d" stroke-width="13"/><path d="M%d %d L%d %d" stroke-width="13"/></g></g>`,
			x+70, y+330, x, y, x+1400, y, x, y, x, y+330)
	}
	line := func(inner string, y int) (out []int) {
		d := drawing(t, inner)
		d.FindElement(".//g[@data-startid='#n1']/text").CreateAttr("y", fmt.Sprint(y))
		clearDigits(d, nil)
		digit := d.FindElement(".//g[@data-startid='#n1']/text")
		size := 300.0
		at := box{number(digit, "x") - 66, number(digit, "y") - size*digitHeight, number(digit, "x") + 66, number(digit, "y")}
		for _, g := range d.FindElements(".//g[@class='voltaBracket']") {
			p := numbersIn(g.SelectElement("path"), "d")
			require.False(t, at.meets(box{p[0], p[1] - 6, p[2], p[3] + 6}), "over its line")
			text := g.SelectElement("text")
			require.InDelta(t, p[1]+330, number(text, "y"), 1, "the number goes along")
			require.False(t, at.meets(box{number(text, "x"), number(text, "y") - 280, number(text, "x") + 200, number(text, "y")}), "over its number")
			out = append(out, int(p[1]))
		}
		return out
	}
	x := int(number(drawing(t, "").FindElement(".//g[@data-startid='#n1']/text"), "x"))
	at := line(bracket(x-150, 500)+bracket(x+1500, 500), 700)
	require.Len(t, at, 2)
	require.Less(t, at[0], 500, "raised")
	require.Equal(t, at[0], at[1], "both")
	require.Equal(t, []int{500}, line(bracket(x+900, 500), 700), "nothing in the way")
}
