package page_test

import (
	"strings"
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/reports/page"

	"github.com/stretchr/testify/require"
)

// Where a grip beyond the hand is judged it is rolled by a key, up or down, and left as written with a reason; the next
// run has done so.
func TestAChordIsRolledByAKey(t *testing.T) {
	note := scoretest.Note
	measure := func(number, attributes, key string) string {
		return `<measure number="` + number + `">` + attributes + note(key, 16, 1, 1, "") + `<backup><duration>16</duration></backup>` +
			note("C3", 16, 5, 2, "") + note("G3", 16, 5, 2, "<chord/>") + note("F4", 16, 5, 2, "<chord/>") + `</measure>`
	}
	w := wayOf(t, "tenths", []byte(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name>`+
		`</score-part></part-list><part id="P1">`+measure("1", `<attributes><divisions>4</divisions><time><beats>4</beats>`+
		`<beat-type>4</beat-type></time><staves>2</staves></attributes>`, "F6")+`<measure number="2">`+note("G5", 16, 1, 1, "")+
		`<backup><duration>16</duration></backup>`+note("C4", 16, 5, 2, "")+`</measure>`+measure("3", "", "A6")+`</part></score-partwise>`))
	require.Len(t, w.Result.Rolls, 2)
	ctx := openBrowser(t)
	for key, want := range map[string][2]string{
		"l": {"rolled", "take: roll direction: up reason: reach"}, "L": {"rolled down", "take: roll direction: down reason: reach"},
		"s": {"taken", "stet: roll why: \"large\""},
	} {
		openPage(t, ctx, page.Of(w, "rolls"))
		require.Equal(t, "true", text(t, ctx, `(() => {
			const card = [...document.querySelectorAll(".passage")].find((c) => c.querySelector('[data-verb="roll"]'));
			if (!card.classList.contains("here")) card.querySelector(".row").click();
			card.id = "tried";
			return true;
		})()`))
		require.Contains(t, text(t, ctx, `document.getElementById("tried").textContent`), "beyond what the hand takes in playing (205 mm)")
		press(t, ctx, key)
		if key == "s" {
			press(t, ctx, "l", "a", "r", "g", "e", "Enter")
			require.Contains(t, text(t, ctx, `document.getElementById("tried").querySelector(".state").textContent`), "open: ",
				"stet decides no digit")
			press(t, ctx, "t")
		}
		state := `document.getElementById("tried").querySelector(".state").textContent`
		if key == "s" {
			require.Equal(t, want[0], text(t, ctx, state), key)
		} else { // a roll decides no finger, and what is open is not called judged
			require.Regexp(t, "^"+want[0]+"; open: [1-9][0-9]* digits", text(t, ctx, state), key)
			require.Equal(t, "false", text(t, ctx, `document.getElementById("tried").classList.contains("done")`))
			require.Contains(t, text(t, ctx, said), "t takes those shown here")
			press(t, ctx, "t")
			require.Equal(t, want[0]+", taken", text(t, ctx, state), "what is taken besides keeps the roll")
			press(t, ctx, "u")
		}
		file := save(t, ctx, "AB")
		_, whole := verbsOn(t, file)
		flat := strings.Join(strings.Fields(whole), " ")
		for _, part := range strings.Split(want[1], " roll ") {
			require.Contains(t, flat, part)
		}
		require.Contains(t, flat, strings.SplitN(want[1], " roll", 2)[0]+" roll")
		next := decideAndRun(t, w, file)
		decided := 0
		for _, r := range next.Result.Rolls {
			if r.Decided {
				decided++
				require.Equal(t, key == "L", r.Direction == "down")
				require.Equal(t, "AB", r.By)
				require.Len(t, r.Notes, 3)
			}
		}
		if key == "s" {
			require.Zero(t, decided)
			require.Less(t, len(next.Result.Rolls), 2, "it is not offered again")
			continue
		}
		require.NotZero(t, decided)
	}
}
