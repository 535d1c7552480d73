package hands

import (
	"fmt"
	"io"
	"runtime"
	"slices"

	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	stage "fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/rules/hands"
)

// Kinds of evidence for a hand that a score shows beside pitch and time.
const (
	byOwnStaff = "own staff"      // a note on the staff its voice lives on, while the other staff strikes too
	byVoice    = "voice"          // a note of a voice gone over to the other staff, where the other hand plays
	byBeam     = "beam"           // … under one beam with notes on its own staff
	bySlur     = "slur"           // … under a slur that begins on its own staff
	byStem     = "stems"          // two voices on one staff, stems apart, the other staff empty: up right, down left
	byChord    = "digits, chords" // digits of one chord that fit one hand only
	byRun      = "digits, runs"   // digits of a run that fit one hand only
)

var evidenceKinds = []string{byOwnStaff, byVoice, byBeam, bySlur, byStem, byChord, byRun}

// evidenceCount counts notes with evidence of a kind, those that the music alone gives to the same hand, and those
// that the stage does, digits hidden.
type evidenceCount struct{ notes, music, stage int }

// measureEvidence holds the hands of the scores in a folder against what these show beside pitch and time.
func measureEvidence(out io.Writer, path string, list bool) error {
	c, err := corpus.Open(path)
	if err != nil {
		return err
	}
	counts := make([]map[string]evidenceCount, len(c.Pieces))
	against := make([]string, len(c.Pieces))
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for k := range c.Pieces {
		if c.Pieces[k].Fault != nil {
			continue
		}
		g.Go(func() error {
			s, err := opendata.ReadScore(c.Path(c.Pieces[k].Score))
			if err != nil {
				return nil // round-trip names it
			}
			counts[k], against[k] = evidenceOf(s, stage.Scoring{Kind: string(c.Pieces[k].Scoring)})
			return nil
		})
	}
	_ = g.Wait() // nothing of it fails
	sum := map[string]evidenceCount{}
	for k := range counts {
		for kind, n := range counts[k] {
			all := sum[kind]
			sum[kind] = evidenceCount{all.notes + n.notes, all.music + n.music, all.stage + n.stage}
		}
		if list && against[k] != "" {
			fmt.Fprintf(out, "%s: digits against the stage:%s\n", c.Pieces[k].ID, against[k])
		}
	}
	fmt.Fprintf(out, "%s: notes whose hand the score shows, and the share that gets it\n", path)
	fmt.Fprintf(out, "  %-16s %9s  %-16s %s\n", "by", "notes", "from music alone", "by the stage, digits hidden")
	for _, kind := range evidenceKinds {
		n := sum[kind]
		fmt.Fprintf(out, "  %-16s %9d  %-16s %s\n", kind, n.notes,
			figures.Share([2]int{n.music, n.notes}), figures.Share([2]int{n.stage, n.notes}))
	}
	return nil
}

// evidenceOf counts the evidence of a score, and lists the measures in which digits speak against the stage.
func evidenceOf(s *score.Score, scoring stage.Scoring) (out map[string]evidenceCount, against string) {
	out = map[string]evidenceCount{}
	assigned, err := stage.Assign(s.WithoutDigits(), scoring)
	if err != nil {
		return out, ""
	}
	for part := range s.Parts {
		if !assigned.Parts[part] || s.Parts[part].Staves != 2 {
			continue
		}
		alone := fromMusic(s, assigned, part)
		shown := shownBy(s, assigned, part)
		for _, kind := range evidenceKinds {
			last := -1
			for _, e := range shown[kind] {
				n := out[kind]
				n.notes++
				if alone[e.note] == e.hand {
					n.music++
				}
				if assigned.Hand[e.note] == e.hand {
					n.stage++
				} else if m := s.Notes[e.note].Measure; (kind == byChord || kind == byRun) && m != last {
					last, against = m, against+" m. "+s.Measures[m].Number+" "+kind
				}
				out[kind] = n
			}
		}
	}
	return out, against
}

// fromMusic gives the hands of a part from onset, duration and pitch alone.
func fromMusic(s *score.Score, h *playing.Hands, part int) map[int]score.Hand {
	var notes []hands.Keystroke
	var ids []int
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Part != part || !h.Piano[i] || n.TiedFrom >= 0 {
			continue
		}
		at := s.At(i)
		end := at.Add(n.Duration)
		for t := n.TiedTo; t >= 0; t = s.Notes[t].TiedTo {
			end = s.At(t).Add(s.Notes[t].Duration)
		}
		notes = append(notes, hands.Keystroke{
			Key: n.Midi, Onset: momentOf(at), End: momentOf(end), Rank: playing.RankOf(s, i),
		})
		ids = append(ids, i)
	}
	out := map[int]score.Hand{}
	for k, hand := range hands.Infer(notes) {
		out[ids[k]] = hand
	}
	return out
}

// shownNote is a note with the hand that the score shows.
type shownNote struct {
	note int
	hand score.Hand
}

// shownBy lists the notes of a part whose hand the score shows, by kind of evidence.
func shownBy(s *score.Score, h *playing.Hands, part int) map[string][]shownNote {
	out := map[string][]shownNote{}
	struck := func(i int) bool {
		n := &s.Notes[i]
		return n.Part == part && h.Piano[i] && n.Struck() && n.Grace == 0
	}
	add := func(kind string, i int, hand score.Hand) {
		if hand != score.NoHand {
			out[kind] = append(out[kind], shownNote{i, hand})
		}
	}
	page := pageOf(s, h, part)
	digits := stage.DigitsOf(s)
	slurred := underSlurs(s, part)
	for i := range s.Notes {
		if !struck(i) {
			continue
		}
		n, at := &s.Notes[i], s.At(i)
		home := handOfStaff(n.HomeStaff)
		if n.Staff == n.HomeStaff {
			if page.strikes(3-n.Staff, at) {
				add(byOwnStaff, i, home)
			}
			add(byStem, i, page.stem(i, at))
		} else if page.plays(n.Staff, n.Measure, at) {
			add(byVoice, i, home)
			if page.beams[n.BeamGroup] {
				add(byBeam, i, home)
			}
			if slurred[i] {
				add(bySlur, i, home)
			}
		}
		add(byChord, i, digits.Chord[i])
		add(byRun, i, digits.Run[i])
	}
	return out
}

func handOfStaff(staff int) score.Hand {
	if staff == 1 {
		return score.Right
	}
	return score.Left
}

// stretch is a stretch of time.
type stretch struct{ from, to score.Fraction }

func covers(all []stretch, at score.Fraction) bool {
	return slices.ContainsFunc(all, func(t stretch) bool { return t.from.Cmp(at) <= 0 && at.Less(t.to) })
}

// printedPage is what stands on the two staves of a part.
type printedPage struct {
	s     *score.Score
	at    [3]map[score.Fraction]bool // own notes of a staff struck
	notes [3]map[int][]stretch       // staff, measure → own notes
	any   [3]map[int][]stretch       // anything printed: rests, and notes of another voice, too
	stems map[score.Fraction][]int   // struck
	beams map[int]bool               // beams over both staves
}

func pageOf(s *score.Score, h *playing.Hands, part int) *printedPage {
	p := &printedPage{s: s, stems: map[score.Fraction][]int{}, beams: map[int]bool{}}
	for staff := range 3 {
		p.at[staff], p.notes[staff] = map[score.Fraction]bool{}, map[int][]stretch{}
		p.any[staff] = map[int][]stretch{}
	}
	beamStaff := map[int]int{}
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Part != part || n.Hidden || n.Staff < 1 || n.Staff > 2 || n.HomeStaff < 1 || n.HomeStaff > 2 {
			continue
		}
		at := s.At(i)
		time := stretch{at, at.Add(n.Duration)}
		p.any[n.Staff][n.Measure] = append(p.any[n.Staff][n.Measure], time)
		if !h.Piano[i] || n.Grace > 0 {
			continue
		}
		p.notes[n.HomeStaff][n.Measure] = append(p.notes[n.HomeStaff][n.Measure], time)
		if n.Staff == n.HomeStaff && n.Struck() {
			p.at[n.Staff][at] = true
			p.stems[at] = append(p.stems[at], i)
		}
		if b := n.BeamGroup; b > 0 {
			if was, ok := beamStaff[b]; ok && was != n.Staff {
				p.beams[b] = true
			}
			beamStaff[b] = n.Staff
		}
	}
	return p
}

// strikes says that the hand of a staff strikes keys of its own there at a moment.
func (p *printedPage) strikes(staff int, at score.Fraction) bool { return p.at[staff][at] }

// plays says that the hand of a staff has notes of its own at a moment, struck or held.
func (p *printedPage) plays(staff, measure int, at score.Fraction) bool {
	return covers(p.notes[staff][measure], at)
}

// stem is the hand that a note's stem shows: another voice is struck with it, their stems go apart, and the other
// staff is left empty, without a rest.
func (p *printedPage) stem(i int, at score.Fraction) score.Hand {
	n := &p.s.Notes[i]
	if n.Stem != "up" && n.Stem != "down" || covers(p.any[3-n.Staff][n.Measure], at) {
		return score.NoHand
	}
	apart := false
	for _, o := range p.stems[at] {
		b := &p.s.Notes[o]
		if b.Staff == n.Staff && b.Voice != n.Voice && (b.Stem == "up" || b.Stem == "down") {
			apart = apart || b.Stem != n.Stem
		}
	}
	switch {
	case !apart:
		return score.NoHand
	case n.Stem == "up":
		return score.Right
	}
	return score.Left
}

// underSlurs lists the notes between the ends of a slur of their voice that begins on its own staff.
func underSlurs(s *score.Score, part int) map[int]bool {
	type slur struct {
		voice  string
		number int
	}
	out, open := map[int]bool{}, map[slur]bool{}
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Part != part || n.Kind != score.Pitched {
			continue
		}
		for _, e := range n.Slurs {
			if e.Start && n.Staff == n.HomeStaff {
				open[slur{n.Voice, e.Number}] = true
			}
		}
		for k := range open { // any order: only asked whether one is there
			out[i] = out[i] || k.voice == n.Voice
		}
		for _, e := range n.Slurs {
			if !e.Start {
				delete(open, slur{n.Voice, e.Number})
			}
		}
	}
	return out
}
