package mark

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// WithoutGainsaid leaves out of the notation what is offered to a hand at notes where the edition's own sign of a change names
// the other one: [m.s.] and (m.d.) at one stroke would say two things. It stands in the results and in the reports.
func WithoutGainsaid(f Fingered, all []fingering.Redistribution) []fingering.Redistribution {
	if !slices.ContainsFunc(all, func(r fingering.Redistribution) bool { return !r.Decided }) {
		return slices.Clone(all)
	}
	var changes score.Marking
	HandChanges(f, all, &changes)
	signs := map[signPlace]int{} // the staff of each
	for _, at := range changes.Marks {
		for _, d := range at.Directions {
			n, hand := &f.Score.Notes[at.Note], score.Right
			if d.Placement == score.Below {
				hand = score.Left
			}
			signs[signPlace{n.Part, n.Measure, n.Onset, hand}] = d.Staff
		}
	}
	return slices.DeleteFunc(slices.Clone(all), func(r fingering.Redistribution) bool {
		other := score.Left
		if r.To == score.Left {
			other = score.Right
		}
		return !r.Decided && slices.ContainsFunc(r.Notes, func(i int) bool {
			n := &f.Score.Notes[i]
			staff, stands := signs[signPlace{n.Part, n.Measure, n.Onset, other}]
			return stands && staff == n.Staff
		})
	})
}
