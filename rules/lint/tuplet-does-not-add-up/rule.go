// Package tupletdoesnotaddup checks that tuplets are whole.
package tupletdoesnotaddup

import (
	"fmt"
	"regexp"
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a tuplet is not whole.
var Rule = &lint.Rule{
	Name:  "tuplet-does-not-add-up",
	Title: "a tuplet is not whole",
	Checks: "Rows of notes and rests of one voice that stand in a tuplet: where the row is over the voice must stand where " +
		"notes without a tuplet could end, unless hands take turns in one tuplet. Numbers and brackets of tuplets over notes that are in none.",
	Why:      "A note of the tuplet is missing or too many, and all that follows in the voice is off.",
	Before:   "3/4: two eighths of a triplet, then a quarter",
	After:    "3/4: three eighths of a triplet, then a quarter",
	Severity: lint.Warning,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

type voice struct {
	part int
	name string
}

func run(p *lint.Inspection) {
	numbersOfNone(p)
	p.ReportOddities(p.Score.Oddities, score.OddTuplet)
	type row struct {
		first, last, actual, normal int
		gaps                        bool
		overBarline                 bool // it goes on in another measure
	}
	open := map[voice]row{}
	goesOver := map[voice]score.Tuplet{} // by voice: the tuplet that goes on in the next measure
	// The row of a voice is over; what the voice has next begins at an onset of the measure.
	end := func(v voice, next score.Fraction) {
		r, is := open[v]
		if !is {
			return
		}
		delete(open, v)
		first, last := &p.Score.Notes[r.first], &p.Score.Notes[r.last]
		r.gaps = r.gaps || last.Onset.Add(last.Duration).Less(next)
		if lint.Dyadic(first.Onset) && !lint.Dyadic(last.Onset.Add(last.Duration)) && !r.overBarline &&
			!(r.gaps && shared(p, r.first, r.last)) {
			message := fmt.Sprintf("the tuplet of %d in the time of %d that begins here is not whole", r.actual, r.normal)
			p.Report(lint.Finding{
				Notes: []int{r.first, r.last}, Message: message, Fix: "count its notes and rests", Together: message,
			})
		}
	}
	measure, voices := -1, voicesOf(p)
	for _, n := range p.InOrderOfTime() {
		note := &p.Score.Notes[n]
		if note.Measure != measure {
			clear(goesOver)
			for _, v := range voices {
				if r, is := open[v]; is && goesOnOver(p, r.last, note.Measure) {
					goesOver[v] = p.Score.Notes[r.last].Tuplet
					delete(open, v)
				}
				end(v, length(p, measure))
			}
			measure = note.Measure
		}
		if note.Grace > 0 || note.Cue || note.Duration.Sign() == 0 {
			continue
		}
		v := voice{note.Part, note.Voice}
		r, is := open[v]
		switch {
		case is && note.Tuplet.Actual == 0 && !lint.Dyadic(note.Duration):
			// What has a length that nothing without a tuplet has stands in the tuplet, though the file does not say so:
			// value-against-length says that.
			r.last = n
			open[v] = r
		case note.Tuplet.Actual == 0 || note.Tuplet.Normal == 0:
			if is && p.Score.Notes[r.last].Onset != note.Onset {
				end(v, note.Onset)
			}
		case is:
			if p.Score.At(r.last).Less(p.Score.At(n)) {
				r.gaps = r.gaps || p.Score.At(r.last).Add(p.Score.Notes[r.last].Duration).Less(p.Score.At(n))
				r.last = n
				open[v] = r
			}
		default:
			open[v] = row{
				first: n, last: n, actual: note.Tuplet.Actual, normal: note.Tuplet.Normal,
				overBarline: goesOver[v] == note.Tuplet,
			}
			delete(goesOver, v)
		}
	}
	for _, v := range voices {
		end(v, length(p, measure))
	}
}

// goesOnOver says that a tuplet reaches the barline before it is whole and that its voice goes on in the next measure with
// the same ratio of notes, many of them: such groups are written over the barline.
func goesOnOver(p *lint.Inspection, last, next int) bool {
	a := &p.Score.Notes[last]
	if a.Tuplet.Actual < manyNotes || lint.Dyadic(a.Onset.Add(a.Duration)) || next != a.Measure+1 {
		return false
	}
	for n := last + 1; n < len(p.Score.Notes) && p.Score.Notes[n].Measure <= next; n++ {
		if x := &p.Score.Notes[n]; x.Measure == next && x.Part == a.Part && x.Voice == a.Voice && x.Grace == 0 {
			return x.Onset.Sign() == 0 && x.Tuplet == a.Tuplet
		}
	}
	return false
}

// manyNotes is from how many notes on a tuplet is a run in free time.
const manyNotes = 7

// length is how long a measure lasts, 0 for none.
func length(p *lint.Inspection, measure int) score.Fraction {
	if measure < 0 {
		return score.Fraction{}
	}
	return p.Score.Measures[measure].Length
}

// shared says that other voices of the part take turns with a row in one tuplet: they strike such notes in its gaps.
func shared(p *lint.Inspection, first, last int) bool {
	a, z := &p.Score.Notes[first], &p.Score.Notes[last]
	end := z.Onset.Add(z.Duration)
	taken := false
	for m := range p.Score.Notes {
		x := &p.Score.Notes[m]
		if x.Part == a.Part && x.Measure == a.Measure && x.Voice != a.Voice && x.Tuplet == a.Tuplet && x.Grace == 0 &&
			a.Onset.Cmp(x.Onset) <= 0 && x.Onset.Cmp(end) <= 0 {
			taken = true
		}
	}
	return taken
}

// numbersOfNone reports the numbers and brackets of tuplets over notes that stand in none: mostly a digit was meant.
func numbersOfNone(p *lint.Inspection) {
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind != score.ItemTuplet || i.Note < 0 || !p.Shows(i.Note) {
			continue
		}
		otherNumber(p, i)
		note := &p.Score.Notes[i.Note]
		shows := i.Reading != "no number" // else nothing is on the page, but for a bracket
		if note.Tuplet.Actual == 0 && note.Kind == score.Pitched && note.Grace == 0 && shows {
			p.ReportItem(i, lint.Finding{
				Message: fmt.Sprintf("the sign of a tuplet stands at %s, which is in none", note.Pitch),
				Fix:     "take it out, or make it the digit that was meant",
			})
		}
	}
}

// otherNumber reports a number over a tuplet that fits neither its notes nor a multiple or part of them.
func otherNumber(p *lint.Inspection, i *score.Item) {
	actual := p.Score.Notes[i.Note].Tuplet.Actual
	m := shown.FindStringSubmatch(i.Reading)
	if m == nil || actual == 0 {
		return
	}
	number, err := strconv.Atoi(m[1])
	if err == nil && number > 0 && number%actual != 0 && actual%number != 0 {
		p.ReportItem(i, lint.Finding{
			Message: fmt.Sprintf("the tuplet has the number %d, and its notes are %d in the time of %d", number, actual,
				p.Score.Notes[i.Note].Tuplet.Normal),
			Fix: "correct the number, or count the notes",
		})
	}
}

var shown = regexp.MustCompile(`^(?:number of the tuplet|both numbers of the tuplet) (\d+)`)

// voicesOf lists the voices of a score in the order in which they come.
func voicesOf(p *lint.Inspection) (out []voice) {
	seen := map[voice]bool{}
	for n := range p.Score.Notes {
		v := voice{p.Score.Notes[n].Part, p.Score.Notes[n].Voice}
		if !seen[v] {
			seen[v] = true
			out = append(out, v)
		}
	}
	return out
}
