package edition

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/rules/places"
)

// sheet lays the first measures of a piece out in text: for each hand the notes in columns, and below them the digits
// that the edition prints, those printed here, and the whole fingering. Chords are read from the lowest key up.
func sheet(title string, in *thin.Fingered, given, printed []bool, measures int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", title)
	for l := range in.Playing.Lines {
		hand := in.Playing.Lines[l].Hand
		events := places.Events(in.Score, &in.Playing.Lines[l], in.Finger)
		fmt.Fprintf(&b, "\n===== %s =====\n", hand.Words())
		for e := 0; e < len(events) && events[e].Measure < measures; {
			m := events[e].Measure
			rows := [5][]string{{"beat   "}, {"notes  "}, {"edition"}, {"ours   "}, {"(all)  "}}
			for ; e < len(events) && events[e].Measure == m; e++ {
				cell := sheetCell(in, &events[e], hand, given, printed)
				wide := 0
				for _, c := range cell {
					wide = max(wide, len(c))
				}
				for r, c := range cell {
					rows[r] = append(rows[r], c+strings.Repeat(" ", wide-len(c)))
				}
			}
			fmt.Fprintf(&b, "\nm. %s\n", in.Score.Measures[m].Number)
			for _, r := range rows {
				fmt.Fprintln(&b, strings.TrimRight(strings.Join(r, "  "), " "))
			}
		}
	}
	return b.String()
}

// sheetCell is the column of an event: its beat, its notes, the digits of the edition, those printed here, and all.
func sheetCell(in *thin.Fingered, e *places.Event, hand score.Hand, given, printed []bool) [5]string {
	var cell [5][]string
	var between []string // the signs between the notes: another one between voices
	last := -1
	for k := range e.Notes {
		if hand == score.Left {
			k = len(e.Notes) - 1 - k
		}
		i := e.Notes[k]
		n := &in.Score.Notes[i]
		if last >= 0 {
			sign := "+"
			if o := &in.Score.Notes[last]; o.Voice != n.Voice || o.Staff != n.Staff || o.Part != n.Part {
				sign = "|"
			}
			between = append(between, sign)
		}
		last = i
		digit := fmt.Sprint(in.Finger[i])
		shown := func(is bool) string {
			if is {
				return digit
			}
			return "."
		}
		cell[1] = append(cell[1], n.Pitch.String())
		cell[2] = append(cell[2], shown(given[i]))
		cell[3] = append(cell[3], shown(printed[i]))
		cell[4] = append(cell[4], digit)
	}
	cell[0] = []string{in.Score.Notes[e.Notes[0]].Onset.Add(score.Whole(1)).String()}
	if e.Grace {
		cell[0] = []string{"grace"}
	}
	var out [5]string
	for r := range cell {
		for k, c := range cell[r] {
			if k > 0 {
				out[r] += between[k-1]
			}
			out[r] += c
		}
	}
	return out
}

// writeSheet writes the sheet of a piece at a density.
func (m *thinning) writeSheet(name, density string, share int, in *thin.Fingered, given, printed []bool) error {
	m.sheetsDone[name] = true
	file := fmt.Sprintf("%02d-%s-%s.txt", len(m.sheetsDone), name, density)
	title := fmt.Sprintf("%s, %s; the edition prints a digit at %d notes in a hundred", name, density, share)
	return os.WriteFile(filepath.Join(m.sheets, file), []byte(sheet(title, in, given, printed, sheetMeasures)), 0o600)
}

// sheetMeasures is how many measures a sheet shows.
const sheetMeasures = 20
