package pipeline

import (
	"fmt"

	"fingerproof/rules/effort"
)

// ShippedWeights is the table that comes with the program.
func ShippedWeights() *Weights {
	table := effort.Delivered()
	// The sum stands for the content: printing maps sorts their keys.
	return &Weights{Table: table, Sum: Sum(fmt.Appendf(nil, "%v", *table))}
}
