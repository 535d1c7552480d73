//go:build !amd64

package learned

// sideBySide says that a network works in lanes: not on this processor.
const sideBySide = false

func addRows(*int32, *int8, *int32, int, int, int)     { panic("learned: no lanes") }
func clip(*uint8, *int32, int, int, int32)             { panic("learned: no lanes") }
func addProducts(*int32, *int8, *uint8, int, int, int) { panic("learned: no lanes") }
