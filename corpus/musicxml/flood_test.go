package musicxml_test

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
)

// floods are documents of about a given size that a reader with a careless
// step would take far longer, or far more room, for than their size warrants.
var floods = map[string]func(size int) string{
	"notes on one line": func(size int) string {
		note := n("C4", 1, in(1, 1))
		return piano(attributes + strings.Repeat(note, size/len(note)))
	},
	"one long text": func(size int) string {
		return piano(attributes + words(strings.Repeat("x", size), "") + n("C4", 16))
	},
	"a text in pieces": func(size int) string {
		return piano(attributes + words(strings.Repeat("x<!---->", size/8), "") + n("C4", 16))
	},
	"texts in pieces": func(size int) string {
		d := words(strings.Repeat("x<!---->", 1<<13), "")
		return piano(attributes + strings.Repeat(d, max(size/len(d), 1)) + n("C4", 16))
	},
	"ties that lead nowhere": func(size int) string {
		start, stop := n("C4", 1, `<tie type="start"/>`), n("C4", 2, `<tie type="stop"/>`)
		return piano(attributes + strings.Repeat(start, size/2/len(start)) + backToStart + strings.Repeat(stop, size/2/len(stop)))
	},
	"ties of one chord": func(size int) string {
		start := n(".C4", 16, `<tie type="start"/>`)
		stop := n(".C4", 16, `<tie type="stop"/>`)
		return piano(attributes+n("C4", 16)+strings.Repeat(start, size/2/len(start)), n("C4", 16)+strings.Repeat(stop, size/2/len(stop)))
	},
	"an ending of thousands": func(size int) string {
		numbers := strings.Repeat("9,", 1<<14)
		first := `<measure number="1">` + attributes + n("C4", 16) + `<barline><ending type="start" number="` + numbers + `"/></barline></measure>`
		return head + first + strings.Repeat(`<measure number="2"/>`, min(size/21, 90_000)) + "</part></score-partwise>"
	},
	"backups": func(size int) string {
		note := n("C4", 16, "<voice>1</voice>") + backToStart
		return piano(attributes + strings.Repeat(note, size/len(note)))
	},
	"grace notes": func(size int) string {
		note := grace("C4", "")
		return piano(attributes + strings.Repeat(note, size/len(note)) + n("C4", 16))
	},
	"voices beyond number": func(size int) string {
		var b strings.Builder
		for i := 0; b.Len() < size; i++ {
			b.WriteString(n("C4", 0, fmt.Sprintf("<voice>%d</voice>", i)))
		}
		return piano(attributes + b.String())
	},
	"oddities": func(size int) string {
		note := strings.Replace(n("C4", 1), "<octave>4", "<octave>44", 1)
		return piano(attributes + strings.Repeat(note, size/len(note)))
	},
	"fingerings of one note": func(size int) string {
		row := strings.Repeat("<fingering>1</fingering>", min(size/24, 100_000))
		return piano(attributes + n("C4", 16, notations("<technical>"+row+"</technical>")))
	},
	"comments": func(size int) string {
		return piano(attributes + strings.Repeat("<!-- - -->", size/10) + n("C4", 16))
	},
	"less-than signs": func(size int) string { return head + "<measure>" + strings.Repeat("<", size) },
	"tags in quotes":  func(size int) string { return head + "<measure>" + strings.Repeat(`<a b="<`, size/7) },
	"tags left open":  func(size int) string { return head + "<measure>" + strings.Repeat("<a>", size/3) },
	"an open DOCTYPE": func(size int) string { return "<!DOCTYPE s [" + strings.Repeat("<!ENTITY a '<'>", size/15) },
	"entities": func(size int) string {
		return piano(attributes + words(strings.Repeat("&#120;", size/6), "") + n("C4", 16))
	},
	"character data": func(size int) string {
		return piano(attributes + words("<![CDATA["+strings.Repeat("]", size)+"]]>", "") + n("C4", 16))
	},
	"attributes in rows": func(size int) string {
		return piano(attributes + strings.Repeat("<a"+strings.Repeat(` b=""`, 12_000)+"/>", max(size/60_000, 1)) + n("C4", 16))
	},
}

func readFlood(text string) error {
	doc, err := source.Open("t.musicxml", []byte(text), source.DefaultLimits())
	if err != nil {
		return err
	}
	s, layout, err := musicxml.Read(doc, musicxml.DefaultLimits())
	if err != nil {
		return err
	}
	_, err = musicxml.Splice(doc, layout, score.Marking{Marks: []score.Mark{{Note: len(s.Notes) - 1, Digits: []score.MarkDigit{{Text: "1"}}}}}, musicxml.SpliceOptions{})
	return err
}

// Twice the size takes no more than some twice the room: what is allocated in
// all is counted, so that the test is the same on any machine. (What takes
// time without room is measured by the benchmark below.)
func TestFloodsTakeRoomByTheirSize(t *testing.T) {
	for name, flood := range floods {
		const size = 1 << 20
		once, twice := allocated(flood(size)), allocated(flood(2*size))
		require.Less(t, float64(twice), 2.6*float64(once)+float64(size), "%s: %d bytes, then %d", name, once, twice)
		require.Less(t, twice, uint64(2*size*100), "%s: %d times the size", name, twice/(2*size))
	}
}

func allocated(text string) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_ = readFlood(text) // some floods are scores, others are refused
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// BenchmarkFloods reports how much longer twice the size takes ("twice/once",
// under 3 where nothing is quadratic), and the time a megabyte takes:
//
//	go test -run '^$' -bench Floods -benchtime 3x ./corpus/musicxml
func BenchmarkFloods(b *testing.B) {
	for name, flood := range floods {
		b.Run(strings.ReplaceAll(name, " ", "-"), func(b *testing.B) {
			once, twice := flood(5<<20), flood(10<<20)
			var first, second time.Duration
			for b.Loop() {
				begun := time.Now()
				_ = readFlood(once)
				middle := time.Now()
				_ = readFlood(twice)
				first += middle.Sub(begun)
				second += time.Since(middle)
			}
			b.ReportMetric(float64(second)/float64(max(first, time.Millisecond)), "twice/once")
			b.ReportMetric(float64(second.Milliseconds())/float64(b.N)/10, "ms/MB")
		})
	}
}
