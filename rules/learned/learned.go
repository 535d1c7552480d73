// Package learned says which finger editors are likely to print at a note, by a small network that was taught from
// printed digits: one more voice in the search.
package learned

import (
	_ "embed"
	"slices"
	"sync"
)

// Columns lists what the network looks up of each strike, in order, for training (workbench learned-data).
func Columns() []Column { return slices.Clone(columns) }

//go:embed tables/learned.bin
var shippedFile []byte

var shipped = sync.OnceValue(func() *Network {
	n, err := Read(shippedFile)
	if err != nil {
		panic("learned: embedded network: " + err.Error()) // a test reads it
	}
	return n
})

// Shipped is the network that comes with the program.
func Shipped() *Network { return shipped() }
