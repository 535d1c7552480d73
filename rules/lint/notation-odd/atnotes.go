package notationodd

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// atRests reports signs of striking at a rest: nothing is struck there. What stands at rests by right, a fermata, a breath
// or a caesura, is none of them.
func atRests(p *lint.Inspection) {
	s := p.Score
	var found []*score.Item
	for k := range s.Items {
		i := &s.Items[k]
		if i.Note < 0 || s.Notes[i.Note].Kind != score.Rest || s.Notes[i.Note].Hidden || s.Notes[i.Note].Cue ||
			!p.PianoParts()[i.Part] || !struckSign(i) {
			continue
		}
		found = append(found, i)
	}
	if len(found) > fewSigns {
		return // that is how the file is written
	}
	for _, i := range found {
		p.ReportItem(i, lint.Finding{
			Message: fmt.Sprintf("%s stands at a rest", i.Reading), Fix: "set it at the note that is meant, or take it out",
		})
	}
}

// fewSigns of a piece are slips of its signs.
const fewSigns = 2

// struckSign says that a sign says how a key is struck.
func struckSign(i *score.Item) bool {
	switch i.Kind {
	case score.ItemOrnament:
		return i.Reading != ""
	case score.ItemArticulation:
		switch i.Reading {
		case "staccato", "staccatissimo", "accent", "strong accent", "tenuto", "portato", "spiccato", "stress", "unstress":
			return true
		}
	}
	return false
}

// against lists the articulations that contradict each other at one note: a dot and a wedge both say how short (common
// practice).
func against(p *lint.Inspection) {
	var found []int
	for n := range p.Score.Notes {
		x := &p.Score.Notes[n]
		const both = score.Staccato | score.Staccatissimo
		if x.Kind == score.Pitched && !x.Hidden && !x.Cue && x.Marks&both == both && p.Playing.Plays(n) {
			found = append(found, n)
		}
	}
	if len(found) > fewSigns {
		return
	}
	for _, n := range found {
		p.Report(lint.Finding{
			Notes: []int{n}, Message: fmt.Sprintf("%s has a staccato dot and a wedge", p.Score.Notes[n].Pitch), Fix: "leave the one that is meant",
		})
	}
}

// onTies reports mordents at notes that a tie continues: there the key is not struck again.
func onTies(p *lint.Inspection) {
	var found []int
	for n := range p.Score.Notes {
		x := &p.Score.Notes[n]
		if x.TiedFrom < 0 || x.Hidden || x.Cue || !p.Playing.Plays(n) {
			continue
		}
		for _, o := range x.Ornaments {
			if o.Kind == "mordent" || o.Kind == "inverted-mordent" {
				found = append(found, n)
				break
			}
		}
	}
	if len(found) > fewSigns {
		return
	}
	for _, n := range found {
		p.Report(lint.Finding{
			Notes: []int{n}, Message: fmt.Sprintf("a mordent stands at %s, which is tied and not struck", p.Score.Notes[n].Pitch),
			Fix: "set it at the note that is struck, or take the tie out",
		})
	}
}

// notPrinted reports notes of the hands that are not printed between notes of their voice that are. What a file plays
// beside what it prints (ornaments, rolls written out) stands beside printed notes, in rows, or is told by signs.
func notPrinted(p *lint.Inspection) {
	s := p.Score
	hidden := 0
	var found []int
	for n := range s.Notes {
		x := &s.Notes[n]
		if !x.Hidden || x.Kind != score.Pitched || x.Cue || x.BySign || !p.PianoParts()[x.Part] {
			continue
		}
		hidden++
		if x.Grace == 0 && x.TiedFrom < 0 && x.Duration.Sign() > 0 && !x.Chord && between(s, n) {
			found = append(found, n)
		}
	}
	if hidden > fewSigns {
		return
	}
	for _, n := range found {
		p.Report(lint.Finding{
			Notes: []int{n}, Message: fmt.Sprintf("%s sounds and is not printed", s.Notes[n].Pitch), Fix: "show it, or take it out",
		})
	}
}

// between says that the voice of a note is printed right before it or right after it, and nothing of its staff is printed at its moment.
func between(s *score.Score, n int) bool {
	x := &s.Notes[n]
	at, end := s.At(n), s.At(n).Add(x.Duration)
	beside := false
	for m := range s.Notes {
		y := &s.Notes[m]
		if m == n || y.Part != x.Part || y.Grace > 0 || y.Hidden || y.Measure < x.Measure-1 || y.Measure > x.Measure+1 {
			continue
		}
		if y.Measure == x.Measure && y.Staff == x.Staff && s.At(m) == at && y.Kind == score.Pitched {
			return false
		}
		beside = beside || y.InVoiceOf(x) && (s.At(m).Add(y.Duration) == at || s.At(m) == end)
	}
	return beside
}

// tornVoices reports single notes that fill just the gap that another voice of their staff leaves, in a voice that the
// staff has nowhere else: the number of the voice is wrong.
func tornVoices(p *lint.Inspection) {
	s := p.Score
	type voice struct {
		part, staff int
		name        string
	}
	count := map[voice]int{}
	for n := range s.Notes {
		x := &s.Notes[n]
		count[voice{x.Part, x.Staff, x.Voice}]++
	}
	var found []int
	for n := range s.Notes {
		x := &s.Notes[n]
		if count[voice{x.Part, x.Staff, x.Voice}] != 1 || x.Kind != score.Pitched || x.Hidden || x.Cue || x.Grace > 0 ||
			x.Voice == "" || !p.Playing.Plays(n) {
			continue
		}
		at, end := s.At(n), s.At(n).Add(x.Duration)
		before, after, over := map[string]bool{}, map[string]bool{}, map[string]bool{}
		length := s.Measures[x.Measure].Length
		atEdge := x.Onset.Sign() == 0 || x.Onset.Add(x.Duration) == length
		for m := range s.Notes {
			y := &s.Notes[m]
			if m == n || y.Part != x.Part || y.Staff != x.Staff || y.Grace > 0 || y.Measure != x.Measure {
				continue
			}
			from, to := s.At(m), s.At(m).Add(y.Duration)
			switch {
			case to == at:
				before[y.Voice] = true
			case from == end:
				after[y.Voice] = true
			case from.Less(end) && at.Less(to):
				over[y.Voice] = true
			}
		}
		if x.Duration == length {
			continue
		}
		gap := 0
		for v := range before {
			if !over[v] && (after[v] || atEdge) {
				gap++
			}
		}
		for v := range after {
			if !over[v] && !before[v] && atEdge {
				gap++
			}
		}
		if gap > 0 {
			found = append(found, n)
		}
	}
	if len(found) > fewSigns {
		return
	}
	for _, n := range found {
		p.Report(lint.Finding{
			Notes:   []int{n},
			Message: fmt.Sprintf("%s is all that voice %s has, and fills a gap of another voice of its staff", s.Notes[n].Pitch, s.Notes[n].Voice),
			Fix:     "give it to that voice",
		})
	}
}

// beyond reports signs that a shift of place puts behind the end of their measure.
func beyond(p *lint.Inspection) {
	s := p.Score
	seen := map[int]bool{} // lines
	var found []int
	for k := range s.Directions {
		d := &s.Directions[k]
		m := &s.Measures[d.Measure]
		if p.PianoParts()[d.Part] && m.Length.Sign() > 0 && score.Max(m.Length, m.Nominal).Less(d.Onset) && !seen[d.Line] &&
			d.Kind != score.SoundOnly {
			seen[d.Line] = true
			found = append(found, k)
		}
	}
	if len(found) > fewSigns {
		return
	}
	for _, k := range found {
		d := &s.Directions[k]
		p.Report(lint.Finding{
			Measure: d.Measure, Line: d.Line, Column: d.Column,
			Message: "a sign is shifted beyond the end of its measure", Fix: "correct its place",
		})
	}
}
