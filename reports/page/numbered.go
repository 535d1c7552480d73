package page

// numbered holds something of some notes or passages by their number, which is small: what a page asks for note by note
// is too much for a table of its own each.
type numbered[T any] struct {
	of    []T
	known []bool
}

// newNumbered has room for numbers below size; more is made where it is wanted.
func newNumbered[T any](size int) numbered[T] {
	return numbered[T]{make([]T, size), make([]bool, size)}
}

func (m *numbered[T]) has(n int) bool { return n >= 0 && n < len(m.known) && m.known[n] }

// get gives what is held of a number, the zero value where that is nothing.
func (m *numbered[T]) get(n int) (out T) {
	if m.has(n) {
		return m.of[n]
	}
	return out
}

func (m *numbered[T]) set(n int, v T) {
	if n >= len(m.known) {
		size := max(n+1, 2*len(m.known))
		m.of = append(m.of, make([]T, size-len(m.of))...)
		m.known = append(m.known, make([]bool, size-len(m.known))...)
	}
	m.of[n], m.known[n] = v, true
}

func (m *numbered[T]) clear() { clear(m.known) }

// asText calls f with each number, in the order of their digits as text: 0, 1, 10, 2.
func (m *numbered[T]) asText(f func(n int, v *T)) {
	var from func(n int)
	from = func(n int) {
		if n >= len(m.known) {
			return
		}
		if m.known[n] {
			f(n, &m.of[n])
		}
		for digit := range 10 {
			if n > 0 {
				from(10*n + digit)
			}
		}
	}
	for first := range 10 {
		from(first)
	}
}
