package decision

import (
	"strings"
)

// asIn begins what stands as the reason of a decision that came from a like place.
const asIn = "as in m. "

// CarriedFrom is the reason of a decision that came from a like place in a measure, by its printed number.
func CarriedFrom(measure string) string { return asIn + measure }

// OwnWhy is what an editor gives as the reason of a decision, "" for none: that it came from a like place, the program wrote.
func (d *Decision) OwnWhy() string {
	if number, is := strings.CutPrefix(d.Why, asIn); is && !strings.ContainsAny(number, " ,;.") {
		return ""
	}
	return d.Why
}
