package main

import "fmt"

// progress is the one line that counts pieces, on a terminal only.
type progress struct {
	env   *environment
	total int
	done  int
}

func (p *progress) step(piece string) {
	p.done++
	if !p.env.StderrIsTTY {
		return
	}
	fmt.Fprintf(p.env.Stderr, "\r\x1b[K%d of %d  %.60s", p.done, p.total, piece)
	if p.done == p.total {
		p.clear()
	}
}

// clear takes the line away before anything else is printed.
func (p *progress) clear() {
	if p.env.StderrIsTTY {
		fmt.Fprint(p.env.Stderr, "\r\x1b[K")
	}
}
