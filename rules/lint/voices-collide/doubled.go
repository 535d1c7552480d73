package voicescollide

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// fewDoubled is in how many measures of a piece a voice may double another as a slip; beyond, the file writes so.
const fewDoubled = 2

// doubled reports voices that have nothing in a measure but heads on the heads of another voice of the staff: the same key, for the
// same time, and no stem of its own. Where voices meet, each keeps its stem, or has its own line in the measures about (common practice).
func doubled(p *lint.Inspection) {
	type voice struct {
		part, staff, measure int
		name                 string
	}
	type head struct {
		part, staff, midi int
		at                score.Fraction
	}
	s := p.Score
	piano := p.TextParts()
	heads, of := map[head][]int{}, map[voice][]int{}
	own := map[voice]bool{} // it has something that is its own
	var order []voice
	for n := range s.Notes {
		x := &s.Notes[n]
		if x.Grace > 0 || x.Cue || x.Hidden || !piano[x.Part] {
			continue
		}
		v := voice{x.Part, x.HomeStaff, x.Measure, x.Voice}
		if of[v] == nil && !own[v] {
			order = append(order, v)
		}
		if x.Kind != score.Pitched {
			own[v] = true
			continue
		}
		of[v] = append(of[v], n)
		heads[head{x.Part, x.Staff, x.Midi, s.At(n)}] = append(heads[head{x.Part, x.Staff, x.Midi, s.At(n)}], n)
	}
	var found [][2]int
	measures := map[int]bool{}
	for _, v := range order {
		if own[v] || len(of[v]) == 0 {
			continue
		}
		first := -1
		for k, n := range of[v] {
			m := onHead(p, heads[head{s.Notes[n].Part, s.Notes[n].Staff, s.Notes[n].Midi, s.At(n)}], n)
			if m < 0 || first >= 0 && s.Notes[m].Voice != s.Notes[first].Voice {
				first = -1
				break
			}
			if k == 0 {
				first = m
			}
		}
		before, after := v, v
		before.measure--
		after.measure++
		meets := len(of[before])+len(of[after]) > 0 || own[before] || own[after]
		if first < 0 || meets && (s.Notes[first].Stem == "" || s.Notes[first].Stem != s.Notes[of[v][0]].Stem) {
			continue // a voice of the staff that meets another for a while
		}
		other := voice{v.part, v.staff, v.measure, s.Notes[first].Voice}
		if len(of[other]) < len(of[v]) || len(of[other]) == len(of[v]) && !own[other] && first > of[v][0] {
			continue // the larger is told, of two alike the later
		}
		found = append(found, [2]int{of[v][0], first})
		measures[v.measure] = true
	}
	if len(measures) > fewDoubled {
		return
	}
	for _, x := range found {
		a, b := &s.Notes[x[0]], &s.Notes[x[1]]
		p.Report(lint.Finding{
			Notes: []int{x[0], x[1]}, Severity: lint.Note,
			Message: fmt.Sprintf("%s of voice %s stands on the head of voice %s, and voice %s has nothing else here", a.Pitch, a.Voice, b.Voice, a.Voice),
			Fix:     "take one of the two out",
		})
	}
}

// onHead gives the note of another voice, of those that are struck at once on a key, on which a note stands; -1 for none. Stems
// that point apart are two voices that meet.
func onHead(p *lint.Inspection, heads []int, n int) int {
	x := &p.Score.Notes[n]
	for _, m := range heads {
		y := &p.Score.Notes[m]
		if y.Voice != x.Voice && y.Duration == x.Duration && !(x.Stem != "" && y.Stem != "" && x.Stem != y.Stem) {
			return m
		}
	}
	return -1
}
