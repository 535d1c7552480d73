package page_test

import (
	"encoding/json"
	"regexp"
	"testing"

	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/page"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
)

// pageData is what these tests read of a page's data.
type pageData struct {
	Passages map[int]struct {
		Notes, Doubts []int
		Mark          string
	}
	Notes map[int]struct {
		Ref     string `json:"r"`
		Finger  int    `json:"f"`
		Written string `json:"w"`
		Given   bool   `json:"g"`
	}
	Choices map[int][]struct {
		Finger  int      `json:"f"`
		Cost    int      `json:"c"`
		Passage [][2]int `json:"p"`
	}
}

var dataElement = regexp.MustCompile(`(?s)<script type="application/json" id="data">(.*?)</script>`)

func dataOf(t testing.TB, html []byte) pageData {
	match := dataElement.FindSubmatch(html)
	require.NotNil(t, match)
	var d pageData
	require.NoError(t, json.Unmarshal(match[1], &d))
	return d
}

// A measure of a passage can hold notes that are decided with another one: where the measure stands again the page knows
// them all the same, since its script asks for each.
func TestThePageKnowsEveryNoteOfAMeasureThatStandsAgain(t *testing.T) {
	m := page.Of(demoRun(t, "op7-nocturne"), "figures")
	m.Passages = []review.Passage{{Number: 1, Redistribution: -1, Notes: []int{0}, Strokes: []int{0}}}
	m.Like = map[int][]review.LikePlace{1: {{LikeMeasure: parallel.LikeMeasure{Measure: 5, From: []int{20}, To: []int{40}}, Open: 1}}}
	html, err := page.Piece(m)
	require.NoError(t, err)
	var data pageData
	require.NoError(t, json.Unmarshal([]byte(dataElement.FindStringSubmatch(string(html))[1]), &data))
	for _, n := range []int{0, 20, 40} {
		require.Contains(t, data.Notes, n)
	}
}
