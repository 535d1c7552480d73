package page_test

import (
	"strings"
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Where a pitch of the text was corrected the page asks of that note alone, in its measure, and suggests the digit that its editor
// gave it, whatever it would have suggested: t takes it, as k does. Then nothing is lost, and nothing else was asked again.
func TestADigitIsTakenOverForACorrectedNote(t *testing.T) {
	note := scoretest.Note
	const open = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">`
	music := func(third string) string {
		var b strings.Builder
		for i, m := range []string{"C4 D4 E4 F4", "G4 A4 B4 C5", third, "C5 B4 A4 G4", "F4 E4 D4 C4", "E4 E4 F4 G4", "D4 D4 E4 E4"} {
			b.WriteString(`<measure number="` + string(rune('1'+i)) + `">`)
			if i == 0 {
				b.WriteString(`<attributes><divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>`)
			}
			for pitch := range strings.FieldsSeq(m) {
				b.WriteString(note(pitch, 4, 1, 1, ""))
			}
			b.WriteString(`</measure>`)
		}
		return open + b.String() + `</part></score-partwise>`
	}
	old := wayOf(t, "corrected", []byte(music("C5 F4 A4 G4")))
	f := decision.NewFinder(old.Score)
	all := decision.Decision{Verb: decision.Take, On: decision.Notes, By: "AB", When: "2026-01-05"}
	was := old.Result.Notes[9].Finger + 1
	for i := range old.Result.Notes {
		n := &old.Result.Notes[i]
		finger := n.Finger
		if i == 9 {
			finger = was
		}
		all.Notes = append(all.Notes, f.Ref(n.N, []int{finger}))
	}
	text0, err := decision.Append("decisions/corrected.AB.yaml", nil, "corrected", "AB", f.Table(), []decision.Decision{all})
	require.NoError(t, err)
	in := pipeline.InputsOf(old)
	in.Data = []byte(music("C5 E4 A4 G4"))
	in.Decisions, _, err = decision.Parse("decisions/corrected.AB.yaml", text0)
	require.NoError(t, err)
	w, err := pipeline.Again(old, in)
	require.NoError(t, err)
	require.Len(t, w.Result.Unplaced, 1)
	require.Equal(t, 9, *w.Result.Unplaced[0].Instead)
	require.Equal(t, 27, w.Result.Summary.Decided, "all others hold")
	require.Equal(t, was, w.Result.Notes[9].Finger, "its digit is suggested")
	for _, key := range []string{"t", "k"} {
		takesOver(t, w, key, was)
	}
	dropsTheLost(t, w)
}

// The key x takes out of the file what the entry decided for the note that is gone, and leaves all else of it: nothing is lost
// any more, and the note that stands there now is asked. x once more puts it back, and nobody else's initials take it out.
func dropsTheLost(t *testing.T, w *pipeline.PieceRun) {
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(w, "dropped"))
	require.NoError(t, chromedp.Run(ctx, chromedp.SetValue("#initials", "CD", chromedp.ByQuery), chromedp.Evaluate(`document.querySelector(".passage .row").click()`, nil)))
	press(t, ctx, "x")
	require.Contains(t, text(t, ctx, said), "write these initials")
	require.NoError(t, chromedp.Run(ctx, chromedp.SetValue("#initials", "AB", chromedp.ByQuery)))
	before := save(t, ctx, "AB")
	press(t, ctx, "x")
	require.Contains(t, text(t, ctx, said), "taken out when you save; the other digits of the entry stay. What stands there now is asked.")
	next := decideAndRun(t, w, save(t, ctx, "AB"))
	require.Empty(t, next.Result.Unplaced)
	require.Equal(t, 27, next.Result.Summary.Decided, "all others hold")
	require.Equal(t, []int{9}, next.Open, "the corrected note is asked")
	for i := range next.Bound {
		if i != 9 {
			require.Equal(t, w.Bound[i].Verb, next.Bound[i].Verb)
			require.Equal(t, w.Result.Notes[i].Finger, next.Result.Notes[i].Finger)
		}
	}
	press(t, ctx, "x")
	require.Contains(t, text(t, ctx, said), "open again")
	_, was := verbsOn(t, before)
	_, is := verbsOn(t, save(t, ctx, "AB"))
	require.Equal(t, was, is, "put back")
}

func takesOver(t *testing.T, w *pipeline.PieceRun, key string, was int) {
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(w, "lost"))
	card := `document.querySelector(".passage")`
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click()`, nil)))
	require.Contains(t, text(t, ctx, card+`.textContent`), "the same note, corrected?")
	require.Equal(t, "m. 3", text(t, ctx, `Object.values(`+theData+`.passages)[0].place`))
	press(t, ctx, key)
	require.Equal(t, 0, number(t, ctx, undone), text(t, ctx, said))
	file := save(t, ctx, "AB")
	next := decideAndRun(t, w, file)
	require.Empty(t, next.Result.Unplaced)
	require.Equal(t, was, next.Result.Notes[9].Finger)
	require.Equal(t, 28, next.Result.Summary.Decided)
	require.Empty(t, next.Open)
}
