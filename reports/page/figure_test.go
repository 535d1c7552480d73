package page_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/pipeline"
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

// Where several strokes of a figure were changed it is found again though another key comes behind it there, or none.
func TestAFigureAtItsEndIsAmendedThoughAnotherKeyComesBehind(t *testing.T) {
	music := `<measure number="1"><attributes><divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>`
	for key := range strings.FieldsSeq("G4 B4 E5 B4 E5 B4 G4 A4 F4 C5 G4 B4 E5 B4 E5 B4") {
		music += scoretest.Note(key, 1, 1, 1, "")
	}
	music += `<backup><duration>16</duration></backup>` + scoretest.Note("C3", 16, 5, 2, "") + `</measure>`
	w := wayOf(t, "ends", []byte(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name>`+
		`</score-part></part-list><part id="P1">`+music+`</part></score-partwise>`))
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(w, "ends"))
	at := strings.Fields(text(t, ctx, `(() => { const d = `+theData+`;
		for (const [number, p] of Object.entries(d.passages)) if (p.hand === "R" && !p.handover) return [number, ...p.notes].join(" ");
		return ""; })()`))
	require.Len(t, at, 17)
	card := `document.getElementById("p` + at[0] + `")`
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click(); `+card+`.scrollIntoView();`, nil)))
	for _, k := range []int{4, 6} { // the second and third B4 of the first figure
		require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector('.finger[data-note="`+at[k]+`"]').click()`, nil)))
		press(t, ctx, "5")
	}
	press(t, ctx, "m")
	require.Contains(t, text(t, ctx, said), "The figure stands again in this passage")
	require.Contains(t, text(t, ctx, said), "at 1 place")
}

// A like place in which the text has another digit than the one chosen gets none of them, and that is said.
func TestADigitOfTheTextKeepsAFigureFromALikePlace(t *testing.T) {
	w := demoRun(t, "op7-nocturne")
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(w, "before"))
	// A passage, a note of it, and the one that stands in its place elsewhere with the same digit.
	const pairs = `(() => { const d = ` + theData + `, out = [];
		for (const [number, p] of Object.entries(d.passages)) for (const f of p.figures || []) for (const q of f.places) if (!q.not && q.open) f.n.forEach((from, k) => {
			const to = q.n[k], a = d.notes[from], b = d.notes[to];
			if (a && b && !a.g && !b.g && !b.s && a.w === b.w && a.w.length === 1 && !a.l && q.n.filter((n) => d.notes[n]).length > 2) out.push([number, from, to, a.f, q.m].join(" "));
		});
		return out.join("|"); })()`
	for one := range strings.SplitSeq(text(t, ctx, pairs), "|") {
		at := strings.Fields(one)
		require.Len(t, at, 5)
		to, _ := strconv.Atoi(at[2])
		lines := strings.SplitAfter(string(w.Data), "\n")
		begin := w.Score.Notes[to].Line - 1
		rest := strings.Join(lines[begin:], "")
		note, behind, found := strings.Cut(rest, "</note>")
		if !found || strings.Contains(note, "<notations") || strings.Count(note, "<note") != 1 {
			continue
		}
		in := pipeline.InputsOf(w)
		in.Data = []byte(strings.Join(lines[:begin], "") + note + "<notations><technical><fingering>" + at[3] + "</fingering></technical></notations></note>" + behind)
		digit, err := pipeline.Again(w, in)
		require.NoError(t, err)
		openPage(t, ctx, page.Of(digit, "after"))
		card := text(t, ctx, `(() => { const d = `+theData+`; for (const [number, p] of Object.entries(d.passages)) if (p.notes.includes(`+at[1]+`) && (p.figures || []).some((f) => f.places.some((q) => !q.not && q.open && q.n.includes(`+at[2]+`)))) return number; return ""; })()`)
		if card == "" {
			continue
		}
		other := "4"
		if at[3] == other {
			other = "3"
		}
		card = `document.getElementById("p` + card + `")`
		require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click(); `+card+`.scrollIntoView(); `+card+`.querySelector('.finger[data-note="`+at[1]+`"]').click()`, nil)))
		press(t, ctx, other)
		require.Contains(t, text(t, ctx, card+`.textContent`), "the text has "+at[3]+" on ")
		require.Contains(t, text(t, ctx, card+`.textContent`), "there: these digits cannot go there")
		if text(t, ctx, card+`.querySelector(".too").checked`) != "true" {
			require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".too").click()`, nil)))
		}
		press(t, ctx, "a")
		require.Contains(t, text(t, ctx, said), "; not m. ")
		return
	}
	t.Fatal("the demo has no figure that could be tried")
}
