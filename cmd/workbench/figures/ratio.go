// Package figures prints what was counted.
package figures

import "fmt"

// Share prints the first of two counts as a fraction of the second; a dash where there is nothing to count.
func Share(c [2]int) string {
	if c[1] == 0 {
		return "   –  "
	}
	return fmt.Sprintf("%.4f", float64(c[0])/float64(c[1]))
}

// Quotient is a part of a whole; one of nothing is whole.
func Quotient(part, whole int) float64 {
	if whole == 0 {
		return 1
	}
	return float64(part) / float64(whole)
}
