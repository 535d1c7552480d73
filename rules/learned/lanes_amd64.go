package learned

import "golang.org/x/sys/cpu"

// sideBySide says that the processor multiplies 32 bytes side by side (AVX2): then a network works in lanes.
var sideBySide = cpu.X86.HasAVX2

// addRows sets to, blocks of 32 numbers, to the sum of rows of a table, each shifted up. The rows begin at offsets.
//
//go:noescape
func addRows(to *int32, table *int8, offsets *int32, count, blocks, shift int)

// clip sets to, blocks of 32 numbers, to (from+half)>>shift within 0 and top.
//
//go:noescape
func clip(to *uint8, from *int32, blocks, shift int, half int32)

// addProducts adds to each of so many eights of numbers its products, shifted up: in holds so many fours of bytes, and
// weights four bytes for each of eight numbers, four after four, eight after eight.
//
//go:noescape
func addProducts(to *int32, weights *int8, in *uint8, fours, eights, shift int)
