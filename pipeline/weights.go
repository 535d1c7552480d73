package pipeline

import (
	"sync"

	"fingerproof/corpus/source"
	"fingerproof/rules/effort"
)

// ShippedWeights is the table that comes with the program.
func ShippedWeights() *Weights { return shippedWeights() }

var shippedWeights = sync.OnceValue(func() *Weights {
	return &Weights{Table: effort.Delivered(), Sum: source.Sum(effort.DeliveredFile())}
})
