package compare_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A key that two voices strike together needs one digit, at either of them: a second like one is no difference. Another digit
// is one, and so is none.
func TestADigitAtTheOtherVoiceOfAKey(t *testing.T) {
	measure := func(first, second string) string {
		lower := strings.ReplaceAll(n("G4", 2, second)+n("E4", 6), `<voice>1</voice>`, `<voice>2</voice>`)
		return n("G4", 2, first) + n("A4", 2) + n("B4", 2) + n("C5", 2) + `<backup><duration>8</duration></backup>` + lower
	}
	three, four, none := fingers(f("3")), fingers(f("4")), ""
	for name, c := range map[string]struct {
		old, new string
		want     []string
	}{
		"one of two":            {measure(three, three), measure(three, none), []string{}},
		"the other of two":      {measure(three, three), measure(none, three), []string{}},
		"two of one":            {measure(none, three), measure(three, three), []string{}},
		"at the other":          {measure(three, none), measure(none, three), []string{}},
		"none":                  {measure(three, three), measure(none, none), []string{"digit-missing: 3 → ", "digit-missing: 3 → "}},
		"another at the second": {measure(three, none), measure(three, four), []string{"digit-added:  → 4"}},
	} {
		require.Equal(t, c.want, listed(t, c.old, c.new), name)
	}
}
