package clefdoubtful

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// What makes a passage look as if the clef before it had been lost.
const (
	passageMeasures = 4 // with notes
	passageNotes    = 12
	meanAway        = 10 // steps from the middle line, on the average: three ledger lines
	nearby          = 8  // two ledger lines
)

// passages lists the runs of measures of a staff in which all notes but one in five lie two ledger lines away by the clef in
// force, and all within two by the treble or the bass clef: nobody goes on so for measures (common practice).
func passages(p *lint.Inspection, told func(place) bool) (out []place) {
	s, set := p.Score, p.Clefs()
	for part := range s.Parts {
		if !p.PianoParts()[part] || s.Parts[part].Transposed != 0 {
			continue
		}
		for staff := 1; staff <= max(s.Parts[part].Staves, 1); staff++ {
			measures := byMeasure(s, part, staff)
			for _, c := range clefs {
				at, with, notes := place{from: -1}, 0, 0
				end := func() {
					if at.from >= 0 && with >= passageMeasures && notes >= passageNotes && !told(at) {
						out = append(out, at)
					}
					at, with, notes = place{from: -1}, 0, 0
				}
				for m, in := range measures {
					switch {
					case len(in) == 0: // a rest goes on with what was before
					case !away(p, set, in, c.middle):
						end()
					default:
						if at.from < 0 {
							at = place{part, staff, m, m, in[0], c.name}
						}
						at.to, with, notes = m, with+1, notes+len(in)
					}
				}
				end()
			}
		}
	}
	return out
}

// away says that the notes of a measure lie far from the middle line of the clef in force, and near another.
func away(p *lint.Inspection, set *lint.Clefs, notes []int, middle int) bool {
	far, sum := 0, 0
	for _, n := range notes {
		x := &p.Score.Notes[n]
		at := lint.Place(x.Pitch) - 7*p.OctavesAbove(n)
		now, known := set.Middle(x.Part, x.Staff, p.Score.At(n))
		if !known || distance(at, middle) > nearby {
			return false
		}
		d := distance(at, now)
		sum += d
		if d >= outside {
			far++
		}
	}
	return 5*far >= 4*len(notes) && sum >= meanAway*len(notes)
}

// byMeasure lists what stands on a staff, measure by measure.
func byMeasure(s *score.Score, part, staff int) [][]int {
	measures := make([][]int, len(s.Measures))
	for n := range s.Notes {
		x := &s.Notes[n]
		if x.Part == part && x.Staff == staff && x.Kind == score.Pitched && x.Grace == 0 && !x.Hidden && !x.Cue {
			measures[x.Measure] = append(measures[x.Measure], n)
		}
	}
	return measures
}
