package all_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Messages are read by editors, in viewers that show signs of Markdown and line breaks as they are: one line, plain
// words, no full stop, and none of the engine's own words (regret, lattice, node …) nor others than the house's (bar,
// layer).
func TestMessagesArePlain(t *testing.T) {
	quoted := regexp.MustCompile(`"[^"]*"`) // what stands in a file, or is to be written there
	jargon := regexp.MustCompile(
		`(?i)\b(regret|lattice|node|null|nil|index|array|struct|midi|bar|bars|layer|layers|xml|nats?)\b`,
	)
	for _, file := range testScores(t) {
		wanted := expectations(t, file)
		require.NotEmpty(t, wanted, file)
		for _, e := range wanted {
			require.Less(t, len([]rune(e.text)), 260, e.text)
			require.False(t, strings.HasSuffix(e.text, "."), e.text)
			require.NotRegexp(t, "[*`_<>{}]|  ", e.text)
			require.NotRegexp(t, jargon, quoted.ReplaceAllString(e.text, ""))
		}
	}
}

// A finding begins with its place, as a musician names it, and stands in one line.
func TestFindingsNameTheirPlace(t *testing.T) {
	seen := 0
	for _, file := range testScores(t) {
		w, _ := runOf(t, file)
		for _, f := range w.Result.Findings {
			seen++
			require.NotContains(t, f.Message, "\n")
			require.NotContains(t, f.Fix, "\n")
			require.Regexp(t, `^m\. \S+(, (right|left) hand)?(, beat [^:]+)?: \S`, f.Advice())
		}
	}
	require.NotZero(t, seen)
}
