package pipeline

import (
	"sync"

	"fingerproof/corpus/source"
	"fingerproof/rules/effort"
	"fingerproof/rules/learned"
)

// ShippedWeights is the table that comes with the program.
func ShippedWeights() *Weights { return shippedWeights() }

var shippedWeights = sync.OnceValue(func() *Weights {
	return &Weights{Table: effort.Delivered(), Sum: shippedSum(effort.DeliveredFile(), learned.Shipped().File())}
})

// shippedSum sums the table and its network: other weights where either is another.
func shippedSum(table, network []byte) string {
	return source.Sum([]byte(source.Sum(table) + "\n" + source.Sum(network)))
}
