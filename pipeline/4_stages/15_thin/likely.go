package thin

// How likely a digit is, in thousandths, at log-odds of 0, a half, 1, … 8 nats: the logistic function.
var logistic = [...]int{500, 622, 731, 818, 881, 924, 953, 971, 982, 989, 993, 996, 998, 998, 999, 999, 1000}

// likely turns log-odds in thousandths of a nat into thousandths of a probability, in straight lines between the points
// of the table.
func likely(odds int) int {
	if odds < 0 {
		return 1000 - likely(-odds)
	}
	const step = 500
	at := odds / step
	if at >= len(logistic)-1 {
		return logistic[len(logistic)-1]
	}
	return logistic[at] + (logistic[at+1]-logistic[at])*(odds%step)/step
}
