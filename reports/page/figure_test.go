package page_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// A digit that is changed goes to its figure wherever that stands again in the passage: the places are named first.
func TestAFigureIsAmendedAtAllItsPlacesInThePassage(t *testing.T) {
	var music strings.Builder
	for m := 1; m <= 2; m++ {
		attributes := ""
		if m == 1 {
			attributes = `<attributes><divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>`
		}
		fmt.Fprintf(&music, `<measure number="%d">%s`, m, attributes)
		for range 4 {
			for _, key := range []string{"G4", "B4", "E5", "B4"} {
				music.WriteString(scoretest.Note(key, 1, 1, 1, ""))
			}
		}
		music.WriteString(`<backup><duration>16</duration></backup>` + scoretest.Note("C3", 16, 5, 2, "") + `</measure>`)
	}
	w := wayOf(t, "figures", []byte(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name>`+
		`</score-part></part-list><part id="P1">`+music.String()+`</part></score-partwise>`))
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(w, "figures"))
	// The passage of the right hand, and its second E5.
	at := strings.Fields(text(t, ctx, `(() => { const d = `+theData+`;
		for (const [number, p] of Object.entries(d.passages)) if (p.hand === "R" && !p.handover) { const high = p.notes.filter((n) => d.notes[n].p === "E5"); if (high.length > 2) return [number, high[1], d.notes[high[1]].f, high.length].join(" "); }
		return ""; })()`))
	require.Len(t, at, 4, "a passage with the figure more than twice")
	card := `document.getElementById("p` + at[0] + `")`
	other := "4"
	if at[2] == "4" {
		other = "5"
	}
	shown := `[...` + card + `.querySelectorAll(".finger")].filter((k) => ` + theData + `.notes[k.dataset.note].p === "E5").map((k) => k.querySelector("b").textContent).join("")`
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click(); `+card+`.scrollIntoView();`, nil)))
	press(t, ctx, "m")
	require.Contains(t, text(t, ctx, said), "Change a finger first")
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector('.finger[data-note="`+at[1]+`"]').click()`, nil)))
	press(t, ctx, other)
	before := text(t, ctx, shown)
	require.NotEqual(t, strings.Repeat(other, len(before)), before)
	press(t, ctx, "m")
	require.Contains(t, text(t, ctx, said), "The figure stands again in this passage")
	require.Contains(t, text(t, ctx, said), "→ "+other)
	require.Equal(t, before, text(t, ctx, shown), "named before it is done")
	press(t, ctx, "m")
	require.Contains(t, text(t, ctx, said), "a keeps the passage")
	after := text(t, ctx, shown)
	require.GreaterOrEqual(t, strings.Count(after, other), len(after)-2, "all but those at the ends, which lack a neighbour: %s", after)
	press(t, ctx, "a")
	next := decideAndRun(t, w, save(t, ctx, "AB"))
	decided := 0
	for i := range next.Result.Notes {
		if n := &next.Result.Notes[i]; n.Pitch == "E5" && fmt.Sprint(n.Finger) == other {
			decided++
		}
	}
	require.GreaterOrEqual(t, decided, strings.Count(after, other))
}
