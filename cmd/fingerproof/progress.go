package main

import (
	"encoding/json"
	"fmt"
	"time"

	"fingerproof/corpus/wording"
)

// progress shows how far long work is: on a terminal in one line that is written over, elsewhere in a line every ten
// seconds, or as lines of JSON for programs. It is written when a piece is done.
type progress struct {
	env   *environment
	form  string // of --progress
	total int
	done  int
	notes int
	now   func() time.Time
	began time.Time
	last  time.Time // when a line was written off a terminal
}

// How --progress may be written, and how long is waited between lines off a terminal and between lines of JSON.
const (
	progressJSON  = "json"
	progressNone  = "none"
	betweenLines  = 10 * time.Second
	betweenObject = time.Second
)

func newProgress(env *environment, form string, total int, now func() time.Time) *progress {
	begun := now()
	return &progress{env: env, form: form, total: total, now: now, began: begun, last: begun}
}

// progressLine is a line of JSON. Speed and time left are those of the pieces so far.
type progressLine struct {
	Pieces  int     `json:"pieces"`
	Of      int     `json:"of"`
	Notes   int     `json:"notes"`
	Piece   string  `json:"piece"`
	Seconds float64 `json:"seconds"`
	Left    float64 `json:"seconds_left"`
}

// step counts a piece that is done, with its notes.
func (p *progress) step(piece string, notes int) {
	p.done, p.notes = p.done+1, p.notes+notes
	at := p.now()
	took := at.Sub(p.began)
	left := took * time.Duration(p.total-p.done) / time.Duration(p.done)
	switch {
	case p.form == progressNone:
	case p.form == progressJSON:
		if at.Sub(p.last) < betweenObject && p.done < p.total {
			return
		}
		p.last = at
		line, err := json.Marshal(progressLine{p.done, p.total, p.notes, piece, tenths(took), tenths(left)})
		if err == nil { // plain values: no error can arise
			fmt.Fprintf(p.env.Stderr, "%s\n", line)
		}
	case p.env.StderrIsTTY:
		fmt.Fprintf(p.env.Stderr, "\r\x1b[K%s  %.40s", p.words(took, left), piece)
		if p.done == p.total {
			p.clear()
		}
	case at.Sub(p.last) >= betweenLines && p.done < p.total:
		p.last = at
		p.env.complain("%s", p.words(took, left))
	}
}

func tenths(d time.Duration) float64 { return float64(d.Milliseconds()/100) / 10 }

// words say how far the work is, how fast it goes, and how long it may take still.
func (p *progress) words(took, left time.Duration) string {
	text := fmt.Sprintf("%d of %d", p.done, p.total)
	if seconds := took.Seconds(); seconds >= 1 {
		text += fmt.Sprintf(", %.0f notes a second", float64(p.notes)/seconds)
		switch {
		case 4*p.done < p.total || p.done < 2: // of too few pieces nothing is known: others are half done beside them
		case left >= 2*time.Minute:
			text += ", about " + wording.Count(int(left.Minutes()+0.5), "minute") + " left"
		case left > 0:
			text += ", about " + wording.Count(max(int(left.Seconds()+0.5), 1), "second") + " left"
		}
	}
	return text
}

// clear takes the line away before anything else is printed.
func (p *progress) clear() {
	if p.env.StderrIsTTY && p.form == "" {
		fmt.Fprint(p.env.Stderr, "\r\x1b[K")
	}
}
