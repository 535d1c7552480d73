package page_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/page"

	"github.com/stretchr/testify/require"
)

// Digits that are decided are not called suggested, neither over the notation nor in the row below it.
func TestDecidedDigitsAreNotCalledSuggested(t *testing.T) {
	m := page.Of(demoRun(t, "op12-3-impromptu"), "decided")
	var one, other, stands int // of the passages, one is decided, another is not, and all of the third stands in the text
	m.Pictures = map[int]page.Picture{}
	for k := range m.Passages {
		p := &m.Passages[k]
		if p.Redistribution >= 0 || p.ReturnOf > 0 || len(p.Open) == 0 {
			continue
		}
		m.Pictures[p.Number] = page.Picture{SVG: `<svg><g class="fing added"></g></svg>`, Width: 1, Height: 1}
		if one == 0 {
			one, p.Open, p.Doubts = p.Number, nil, nil
			for _, i := range p.Notes {
				m.More[i].Given, m.More[i].InText, m.More[i].By = true, false, "AB"
			}
			continue
		}
		if other == 0 {
			other = p.Number
			continue
		}
		stands, p.Open, p.Doubts = p.Number, nil, nil
		for _, i := range p.Notes {
			m.More[i].Given, m.More[i].InText, m.More[i].By = true, true, ""
		}
		break
	}
	require.NotZero(t, one)
	require.NotZero(t, other)
	require.NotZero(t, stands)
	html, err := page.Piece(m)
	require.NoError(t, err)
	card := func(number int) string {
		found := regexp.MustCompile(`(?s)<article class="passage"[^>]*data-number="(\d+)".*?</article>`)
		for _, c := range found.FindAllStringSubmatch(string(html), -1) {
			if c[1] == strconv.Itoa(number) {
				return c[0]
			}
		}
		t.Fatalf("no passage %d", number)
		return ""
	}
	require.Contains(t, card(one), `After, as <span class="shown">decided<`)
	require.Contains(t, card(one), `class="finger given decided"`)
	require.Contains(t, card(stands), `After, as <span class="shown">the text has it<`, "nobody has decided anything there")
	require.Contains(t, card(other), `After, as <span class="shown">suggested<`)
	require.Contains(t, string(html), "upright ones that are not bold are decided", "as the help says")
}

// A finding that comes again in two passages is judged at once; errors are not.
func TestFindingsOfTwoPassagesAreJudgedAtOnce(t *testing.T) {
	for severity, together := range map[string]bool{"note": true, "error": false} {
		m := page.Of(demoRun(t, "op12-3-impromptu"), "twice")
		var in []int
		for k := range m.Passages {
			if p := &m.Passages[k]; len(p.Notes) > 0 && p.Redistribution < 0 && p.ReturnOf == 0 {
				in = append(in, k)
			}
		}
		require.Greater(t, len(in), 1)
		for _, k := range in[:2] {
			p := &m.Passages[k]
			p.Findings = append(p.Findings, len(m.Result.Findings))
			m.Result.Findings = append(m.Result.Findings, state.Finding{
				Rule: "digit-missing", Severity: severity, Notes: p.Notes[:1], MeasureIndex: p.First,
				Fingerprint: "twice" + strconv.Itoa(k), Message: "the same words",
			})
		}
		html, err := page.Piece(m)
		require.NoError(t, err)
		require.Equal(t, together, strings.Contains(string(html), `<div class="group" data-rule="digit-missing"`), severity)
	}
}
