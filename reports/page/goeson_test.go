package page_test

import (
	"fmt"
	"slices"
	"testing"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

const stoodOn = `document.querySelector(".passage.here").dataset.number`

// Past what lint finds as a note the page goes on, as after every other key, and a warning keeps it; both stay open.
func TestThePageGoesOnPastANote(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op7-nocturne")
	for _, severity := range []string{"note", "warning"} {
		m := page.Of(w, "goes on")
		number := -1
		for i := range m.Passages {
			p := &m.Passages[i]
			if p.Redistribution < 0 && !p.Firm && !p.Bare && p.ReturnOf == 0 && len(p.Findings)+len(p.IfTaken) == 0 && len(p.Doubts) > 0 {
				p.IfTaken = []review.FoundIfTaken{{Rule: "made-up", Severity: severity, Message: "said", Notes: p.Doubts[:1]}}
				number = p.Number
				break
			}
		}
		require.Positive(t, number)
		openPage(t, ctx, m)
		card := fmt.Sprintf(`document.getElementById("p%d")`, number)
		require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click()`, nil)))
		press(t, ctx, "t")
		require.Contains(t, text(t, ctx, card+`.querySelector(".state").textContent`), "digits taken; open: 1 finding")
		require.Equal(t, severity == "warning", text(t, ctx, stoodOn) == fmt.Sprint(number), severity)
		require.Contains(t, text(t, ctx, said), "Still open")
	}
}

// A digit of the text is given another beside it by two keys and never by one, and the row shows both as they will print.
func TestADigitOfTheTextAsksForASecondKey(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op9-3-romance")
	m := page.Of(w, "second key")
	openPage(t, ctx, m)
	note := number(t, ctx, `Number(Object.keys(`+theData+`.notes).find((n) => { const d = `+theData+`.notes[n], b = document.querySelector('.finger.given.stands[data-note="' + n + '"]'); return b && d.x && d.f !== 5 && !d.l; }) ?? -1)`)
	require.GreaterOrEqual(t, note, 0)
	key := fmt.Sprintf(`document.querySelector('.finger[data-note="%d"]')`, note)
	digit := text(t, ctx, key+`.querySelector("b").textContent`)
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(key+`.closest(".passage").querySelector(".row").click(); `+key+`.click()`, nil)))
	given := `document.getElementById("count").textContent.includes("given anew")`
	press(t, ctx, "5")
	require.Equal(t, "false", text(t, ctx, given), "one key changes nothing")
	require.Contains(t, text(t, ctx, said), "5 once more")
	press(t, ctx, "4", "5") // another key is another question
	require.Equal(t, "false", text(t, ctx, given))
	press(t, ctx, "5")
	require.Equal(t, "true", text(t, ctx, given))
	around := m.BesideText.Around
	require.Equal(t, digit+" "+around[0]+"5"+around[1], text(t, ctx, key+`.querySelector("b").textContent`))
	press(t, ctx, "u")
	require.Equal(t, digit, text(t, ctx, key+`.querySelector("b").textContent`))
}

// An editor who comes back to a piece reads on top what is open in it, and what of that is new.
func TestThePageSaysOnTopWhatAPieceIsBackFor(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op7-nocturne")
	openPage(t, ctx, page.Of(w, "back"))
	require.Equal(t, "false", text(t, ctx, `document.getElementById("back") !== null`), "nothing is decided yet")
	press(t, ctx, "f")
	again := decideAndRun(t, w, save(t, ctx, "AB"))
	require.NotEmpty(t, again.Open)
	openPage(t, ctx, page.Of(again, "back"))
	require.Contains(t, text(t, ctx, `document.getElementById("back").textContent`), fmt.Sprintf("%d digits that will print", len(again.Open)))
}

// A reason that was written by its own key is the one for which s then lets stand: asked for once more, it went with the next keys
// to another passage (trial). And a key that leads past an open passage names both.
func TestAReasonIsAskedOnce(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op7-nocturne")
	m := page.Of(w, "reason")
	k := slices.IndexFunc(m.Passages, func(p review.Passage) bool {
		return p.Redistribution < 0 && p.ReturnOf == 0 && len(p.Rolls) == 0 && len(p.Notes) > 3
	})
	require.GreaterOrEqual(t, k, 0)
	p, number := &m.Passages[k], m.Passages[k].Number
	p.Firm, p.Open, p.Doubts, p.IfTaken, p.Rest, p.Bare, p.Findings = false, nil, nil, nil, nil, true, []int{len(w.Result.Findings)}
	n := w.Result.ByNumber().Of(p.Notes[0])
	w.Result.Findings = append(w.Result.Findings, state.Finding{
		Rule: "wide-span", Severity: "note", Message: "a span is wide", Notes: []int{n.N}, Measure: n.Measure,
		MeasureIndex: n.MeasureIndex, Hand: p.Hand, Fingerprint: "0000000000000001",
	})
	openPage(t, ctx, m)
	card := fmt.Sprintf(`document.getElementById("p%d")`, number)
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click()`, nil)))
	press(t, ctx, "y", "o", "k", "\r", "s")
	require.Equal(t, "false", text(t, ctx, `document.activeElement.matches(".reason")`), "asked once more")
	require.NotEqual(t, "open", text(t, ctx, card+`.querySelector(".state").textContent`))
	press(t, ctx, "u", "N")
	if at := text(t, ctx, stoodOn); at != fmt.Sprint(number) {
		require.Contains(t, text(t, ctx, said), fmt.Sprintf("Passage %d stays open; this is passage %s", number, at))
	}
}
