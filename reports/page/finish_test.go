package page_test

import (
	"context"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/shared/browsertest"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/policies"
	"fingerproof/reports/engrave"
	"fingerproof/reports/page"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// openPage opens the page of a run in a window of a laptop's size, with nothing decided in the browser.
func openPage(t *testing.T, ctx context.Context, m *page.Material) {
	t.Helper()
	html, err := page.Piece(m)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "page.html")
	require.NoError(t, os.WriteFile(file, html, 0o644))
	require.NoError(t, chromedp.Run(
		ctx, emulation.SetDeviceMetricsOverride(1366, 768, 1, false),
		chromedp.Navigate((&url.URL{Scheme: "file", Path: file}).String()),
		browsertest.Forget(),
	))
}

// decideAndRun works a piece out again with the decisions that a page saved.
func decideAndRun(t *testing.T, w *pipeline.PieceRun, file string) *pipeline.PieceRun {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	decisions, _, err := decision.Parse("decisions/"+filepath.Base(file), data)
	require.NoError(t, err, string(data))
	in := pipeline.InputsOf(w)
	in.Decisions = decisions
	again, err := pipeline.Again(w, in)
	require.NoError(t, err)
	return again
}

func number(t *testing.T, ctx context.Context, expression string) int {
	t.Helper()
	n, err := strconv.Atoi(text(t, ctx, expression))
	require.NoError(t, err)
	return n
}

const (
	undone  = `document.querySelectorAll(".passage:not(.done)").length`
	said    = `document.getElementById("said").textContent`
	theData = `JSON.parse(document.getElementById("data").textContent)`
)

// An editor who looks at the eight worst passages one by one, and takes what is firm and the rest together after a
// look, finishes a piece of more than fifty passages in thirty keys: what was saved leaves nothing open, and no error
// that was not there before.
func TestAPieceOfManyPassagesTakesThirtyKeys(t *testing.T) {
	ctx := openBrowser(t)
	folder := shared.Folder(t, filepath.Join("data", "fingered"))
	data, err := os.ReadFile(filepath.Join(folder, "chopin__067-1-sam-004.mxl"))
	require.NoError(t, err)
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: "mazurka", Score: "mazurka.mxl", Scoring: corpus.TwoHands}, Data: data,
		Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
	}
	require.NoError(t, pipeline.RunPiece(w))
	require.NotEmpty(t, w.Open)
	openPage(t, ctx, page.Of(w, "thirty keys"))
	passages := number(t, ctx, `document.querySelectorAll(".passage").length`)
	require.Greater(t, passages, 40)
	keys := 0
	strike := func(list ...string) {
		keys += len(list)
		press(t, ctx, list...)
	}

	firm := number(t, ctx, `document.querySelectorAll('.passage[data-kind="firm"]').length`)
	strike("f")
	require.LessOrEqual(t, number(t, ctx, undone), passages-firm)
	strike("u")
	require.Equal(t, passages, number(t, ctx, undone), "one key takes back what one key took")
	strike("f")
	for range 8 {
		strike("t")
	}
	require.LessOrEqual(t, number(t, ctx, undone), passages-firm-8)
	strike("T")
	require.Equal(t, "true", text(t, ctx, `document.getElementById("bulk").open`))
	require.Equal(
		t, number(t, ctx, undone), number(t, ctx, `document.querySelectorAll("#bulk-list h3").length`),
		"what is taken is shown first",
	)
	require.Equal(t, text(t, ctx, `document.activeElement.id`), "bulk-take")
	keys++
	require.NoError(t, chromedp.Run(ctx, chromedp.KeyEvent("\r")))
	// What lint finds once digits are taken asks for a word of its own: a wide span in one passage here.
	for range number(t, ctx, undone) {
		strike("N", "s", "o", "k", "\r")
	}
	require.Zero(t, number(t, ctx, undone))

	keys += len("AB") + 1 // initials, and w
	again := decideAndRun(t, w, save(t, ctx, "AB"))
	t.Logf("%d passages: %d keys", passages, keys)
	require.LessOrEqual(t, keys, 30)
	require.Empty(t, again.Open)
	require.Equal(t, w.Result.Summary.Severities.Error, again.Result.Summary.Severities.Error)
	openPage(t, ctx, page.Of(again, "thirty keys"))
	require.Zero(t, number(t, ctx, `document.querySelectorAll('.passage:not([data-kind="finding"])').length`),
		"nothing that was decided is asked again")
}

// One figure, one decision: taken with its like places, a passage's digits go there, and not where the editor says
// here only.
func TestADecisionGoesToTheLikePlacesOfAFigure(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op7-nocturne")
	openPage(t, ctx, page.Of(w, "figures"))
	const withPlaces = `[...document.querySelectorAll(".passage")].find((c) => c.querySelector(".too"))`
	const standThere = `(() => { const c = ` + withPlaces + `;
		c.querySelector(".row").click(); c.scrollIntoView(); })()`
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(standThere, nil)))
	figure := text(t, ctx, withPlaces+`.dataset.number`)
	places := text(
		t, ctx, `JSON.stringify(`+theData+`.passages[`+figure+`].figures.flatMap((f) => f.places.filter((p) => !p.not && p.open).map((p) => p.m)))`,
	)
	require.NotEqual(t, "[]", places)
	if text(t, ctx, withPlaces+`.querySelector(".too").checked`) != "true" {
		press(t, ctx, "r")
	}
	press(t, ctx, "t")
	require.Contains(t, text(t, ctx, said), "its like places", "it goes there too, whether its digits move there or stand there already")
	file := save(t, ctx, "AB")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Contains(t, string(data), "as in m. ")
	again := decideAndRun(t, w, file)
	for _, m := range strings.Split(strings.Trim(places, "[]"), ",") {
		measure, err := strconv.Atoi(m)
		require.NoError(t, err)
		decided := 0
		for i := range again.Score.Notes {
			if again.Score.Notes[i].Measure == measure && again.Bound[i].By == "AB" {
				decided++
			}
		}
		require.Positive(t, decided, "measure %d", measure)
	}

	require.NoError(t, chromedp.Run(ctx, browsertest.Forget()))
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(standThere, nil)))
	if text(t, ctx, withPlaces+`.querySelector(".too").checked`) == "true" {
		press(t, ctx, "r")
	}
	press(t, ctx, "t")
	data, err = os.ReadFile(save(t, ctx, "AB"))
	require.NoError(t, err)
	require.NotContains(t, string(data), "as in m. ", "here only")
}

// A change of finger on the held key that is suggested in a figure goes to its like places whole.
func TestAChangeOnTheHeldKeyGoesToTheLikePlaces(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op7-nocturne")
	openPage(t, ctx, page.Of(w, "figures"))
	const card = `[...document.querySelectorAll(".passage")].find((c) => c.querySelector(".too"))`
	from := number(t, ctx, `(() => {
		const d = `+theData+`, figure = d.passages[`+card+`.dataset.number].figures.find((f) => f.places.some((p) => !p.not && p.open));
		const place = figure.places.find((p) => !p.not && p.open);
		return figure.n.find((n, k) => { const to = d.notes[place.n[k]]; return d.notes[n].w && !to.s && !to.g; });
	})()`)
	written := ""
	for i := range w.Result.Notes {
		if n := &w.Result.Notes[i]; n.N == from {
			n.Substitution = []int{n.Finger%4 + 1}
			written = decision.Digits(append([]int{n.Finger}, n.Substitution...))
		}
	}
	require.Len(t, written, 3)
	openPage(t, ctx, page.Of(w, "figures"))
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(
		`(() => { const c = `+card+`; c.querySelector(".row").click(); c.scrollIntoView(); })()`, nil,
	)))
	if text(t, ctx, card+`.querySelector(".too").checked`) != "true" {
		press(t, ctx, "r")
	}
	press(t, ctx, "t")
	data, err := os.ReadFile(save(t, ctx, "AB"))
	require.NoError(t, err)
	_, carried, found := strings.Cut(string(data), "as in m. ")
	require.True(t, found)
	require.Contains(t, carried, "="+written)
}

// Two decisions that finger one note differently are named on both cards while deciding.
func TestContradictionsAreShownWhileDeciding(t *testing.T) {
	ctx := openBrowser(t)
	for _, id := range []string{"op7-nocturne", "op12-3-impromptu", "op3-1-scales", "op12-1-barcarolle"} {
		openPage(t, ctx, page.Of(demoRun(t, id), "contradictions"))
		// A choice of one passage that gives another finger to a note of another passage.
		reaching := text(t, ctx, `(() => {
			const d = `+theData+`;
			for (const [number, p] of Object.entries(d.passages)) for (const n of p.notes) for (const c of d.choices[n] || [])
				for (const [m, f] of c.p) {
					const other = Object.entries(d.passages).find(([k, q]) => k !== number && !q.handover && q.notes.includes(m));
					if (other && document.getElementById("p" + number) && document.getElementById("p" + other[0]) && f !== d.notes[m].f && !d.notes[m].g && !p.handover)
						return [number, n, c.f, other[0]].join(" ");
				}
			return "";
		})()`)
		if reaching == "" {
			continue
		}
		at := strings.Fields(reaching)
		first, other := `document.getElementById("p`+at[0]+`")`, `document.getElementById("p`+at[3]+`")`
		require.NoError(t, chromedp.Run(
			ctx, chromedp.Evaluate(first+`.querySelector(".row").click();
				`+first+`.querySelector('.finger[data-note="`+at[1]+`"]').click();
				`+first+`.querySelector('.choices [data-finger="`+at[2]+`"]').click();
				`+first+`.querySelector('[data-verb="amend"]').click();`, nil),
			chromedp.Evaluate(other+`.querySelector(".row").click()`, nil),
		))
		require.Contains(t, text(t, ctx, other+`.querySelector(".clash").textContent`), "passage "+at[0],
			"before it is decided")
		require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(other+`.querySelector('[data-verb="take"]').click()`, nil)))
		require.Contains(t, text(t, ctx, first+`.querySelector(".clash").textContent`), "decided last, holds")
		require.Contains(t, text(t, ctx, `document.getElementById("count").textContent`), "finger some notes in two ways")
		return
	}
	t.Fatal("no choice of the demo collection reaches into another passage")
}

// The filter shows passages by kind and by measure, and what is shown is what is taken.
func TestThoseShownAreTaken(t *testing.T) {
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(demoRun(t, "op7-nocturne"), "shown"))
	const shownNow = `[...document.querySelectorAll(".passage:not([hidden])")]`
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`(() => {
		document.getElementById("show-kind").value = "firm";
		document.getElementById("show-to").value = "8";
		document.getElementById("show-to").dispatchEvent(new Event("input"));
	})()`, nil)))
	fitting := number(t, ctx, `[...document.querySelectorAll(".passage")].filter((c) => c.dataset.kind === "firm" && Number(c.dataset.first) <= `+theData+`.places.indexOf("8")).length`)
	require.Positive(t, fitting)
	require.Equal(t, "true", text(t, ctx, shownNow+`.filter((c) => !c.classList.contains("here")).every((c) => c.dataset.kind === "firm")`))
	before := number(t, ctx, undone)
	press(t, ctx, "T")
	require.Equal(t, fitting, number(t, ctx, `document.querySelectorAll("#bulk-list h3").length`))
	require.NoError(t, chromedp.Run(ctx, chromedp.KeyEvent("\r")))
	require.Equal(t, before-fitting, number(t, ctx, undone))
	press(t, ctx, "u")
	require.Equal(t, before, number(t, ctx, undone))
}

// In the whole score a digit that is clicked opens its passage, which is judged there; the drawing is taken from the
// page of an earlier run where nothing has changed, and made anew where something has.
func TestTheWholeScoreIsJudgedInAndKept(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op9-3-romance")
	press_, err := engrave.Open(context.Background(), engrave.Options{
		Package:  engrave.FindPackage("../engrave"),
		CacheDir: filepath.Join(os.TempDir(), "fingerproof-engraver-test"),
	})
	if err != nil {
		t.Skip(err)
	}
	defer press_.Close(context.Background())
	worker, err := press_.Worker(context.Background())
	require.NoError(t, err)
	m := page.Of(w, "score")
	require.NoError(t, m.DrawScore(context.Background(), worker, w, nil))
	require.Empty(t, m.Score.Note)
	html, err := page.Piece(m)
	require.NoError(t, err)
	openPage(t, ctx, m)
	press(t, ctx, "v")
	require.Equal(t, "score", text(t, ctx, `document.documentElement.dataset.view`))
	require.Equal(t, strconv.Itoa(len(w.Score.Measures)), text(t, ctx, `document.querySelectorAll("#pages [data-m]").length`))
	// Every digit that prints is drawn (a change on the held key is one sign).
	require.Equal(t, "true", text(t, ctx, `document.querySelectorAll("#pages .fing").length >= `+strconv.Itoa(w.Result.Summary.Printed)))
	last := text(t, ctx, `(() => {
		const d = `+theData+`, signs = [...document.querySelectorAll("#pages .fing.asked")];
		const sign = signs[signs.length - 1];
		sign.dispatchEvent(new MouseEvent("click", { bubbles: true }));
		return d.at[sign.dataset.startid.slice(2)];
	})()`)
	require.Equal(t, last, text(t, ctx, `document.querySelector(".passage.here").dataset.number`))
	require.Equal(t, "true", text(t, ctx, `getComputedStyle(document.querySelector(".passage.here")).position === "fixed"`))
	// What is chosen beside the score stands in it.
	changed := text(t, ctx, `(() => {
		const key = [...document.querySelectorAll(".passage.here .finger:not(:disabled):not(.given)")].find((k) => document.querySelector('#pages .fing.asked[data-startid="#n' + k.dataset.note + '"]'));
		key.click();
		const other = [...document.querySelectorAll(".passage.here .choices [data-finger]")].find((b) => b.getAttribute("aria-pressed") === "false");
		other.click();
		return key.dataset.note + " " + other.dataset.finger;
	})()`)
	sign := `document.querySelector('#pages .fing[data-startid="#n` + strings.Fields(changed)[0] + `"]')`
	require.Equal(t, strings.Fields(changed)[1], text(t, ctx, sign+`.querySelector("tspan").textContent`))
	require.Equal(t, "true", text(t, ctx, sign+`.classList.contains("altered")`))
	before := number(t, ctx, undone)
	press(t, ctx, "t")
	require.Less(t, number(t, ctx, undone), before)
	require.NotZero(t, number(t, ctx, `document.querySelectorAll("#pages .judged-bar").length`))
	if text(t, ctx, `document.querySelectorAll(".group:not(.done)").length > 0`) == "true" {
		press(t, ctx, "g")
		require.Equal(t, "passages", text(t, ctx, `document.documentElement.dataset.view`), "its list and field are there")
	}

	kept := page.Of(w, "score")
	require.NoError(t, kept.DrawScore(context.Background(), nil, w, html), "nothing is drawn: there is no engraver")
	require.Equal(t, m.Score.Systems, kept.Score.Systems)
	harmed := []byte(strings.Replace(string(html), `data-m="1"`, `data-m="2"`, 1))
	fresh := page.Of(w, "score")
	require.Panics(t, func() { _ = fresh.DrawScore(context.Background(), nil, w, harmed) }, "a harmed drawing is not taken")
}
