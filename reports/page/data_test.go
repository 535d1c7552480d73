package page_test

import (
	"encoding/json"
	"regexp"
	"testing"

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
