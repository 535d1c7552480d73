package suggestions

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/weighing"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// The kinds of plants.
const (
	forTenthHand = iota
	dearThroughout
	atTempoOnly
	kinds
)

var kindWords = [kinds]string{
	"best for a tenth hand, beyond the ease of a ninth", "dearer in every aim", "gains at the tempo only",
}

// What a plant has to be at least, so that it is one: dearPlant milli-nats of effort and dearPoints of the ergonomic model
// more, tempoPlant milli-nats won by speed. What is best for
// a tenth hand wins less than plainGain in line, memory and tempo: else the gain is plain, and nothing is to be said.
const (
	dearPlant  = 3000
	dearPoints = 4
	tempoPlant = 400
	plainGain  = 400
)

// Lengths of plants, in strokes, and how far they stand apart.
const (
	shortest, longest = 2, 16
	apart             = 8
	eachKind          = 2 // in a piece
)

// plantIn is one line of a piece with the fingering for the many, and others to plant.
type plantIn struct {
	hand  fingering.Hand
	notes []fingering.Note
	many  map[int]int
}

// site is a passage that is planted: fingers by note.
type site struct {
	kind    int
	notes   []int
	fingers []int
}

// plant looks for places for each kind, puts them into the draft, works the fingering out anew and counts what is told.
func (m *personal) plant(name string, w *pipeline.PieceRun, in weighing.Input, at int, count *personalCount) error {
	rng := m.random(name)
	var all []site
	taken := map[int]bool{}
	room := func(s site) bool {
		line := w.Playing.LineOf(s.notes[0])
		from := w.Playing.Stroke(s.notes[0]).Index - apart
		to := w.Playing.Stroke(s.notes[len(s.notes)-1]).Index + apart
		for k := max(from, 0); k <= min(to, len(line.Strokes)-1); k++ {
			if slices.ContainsFunc(line.Strokes[k].Notes, func(n int) bool { return taken[n] }) {
				return false
			}
		}
		return true
	}
	for kind, sites := range m.sites(w, in, at) {
		rng.Shuffle(len(sites), func(i, j int) { sites[i], sites[j] = sites[j], sites[i] })
		planted := 0
		for _, s := range sites {
			if planted == eachKind {
				break
			}
			if s.kind = kind; !room(s) {
				continue
			}
			planted++
			for _, n := range s.notes {
				taken[n] = true
			}
			all = append(all, s)
		}
	}
	if len(all) == 0 {
		return nil
	}
	if m.plants != "" && at != atTempoOnly {
		if err := m.writePlants(name, w, all); err != nil {
			return err
		}
	}
	digits := slices.Clone(w.Draft.Fingers)
	for _, s := range all {
		// around a plant the fingering goes on as the edition has it in full
		line := w.Playing.LineOf(s.notes[0])
		from, to := w.Playing.Stroke(s.notes[0]).Index, w.Playing.Stroke(s.notes[len(s.notes)-1]).Index
		for k := max(from-around, 0); k <= min(to+around, len(line.Strokes)-1); k++ {
			for _, n := range line.Strokes[k].Notes {
				if f := int(in.Free.Notes[n].Finger); f > 0 {
					digits[n] = []int{f}
				}
			}
		}
		for k, n := range s.notes {
			digits[n] = []int{s.fingers[k]}
		}
	}
	ask := in
	ask.Suggest.Draft = digits
	ask.Suggestion = suggest.Suggest(ask.Suggest)
	found := weighing.Passages(ask)
	for _, s := range all {
		count.kinds[s.kind].planted++
		verdict := weighing.Usual
		for i := range found {
			p := &found[i]
			if !slices.ContainsFunc(p.Theirs, func(n int) bool { return slices.Contains(s.notes, n) }) {
				continue
			}
			count.row(name, fmt.Sprint("plant", s.kind), w, p)
			if verdict == weighing.Usual || asPlanted(s.kind, p.Verdict) {
				verdict = p.Verdict
			}
		}
		count.as[s.kind][verdict]++
		if asPlanted(s.kind, verdict) {
			count.kinds[s.kind].told++
		}
	}
	return nil
}

// writePlants writes plants as an editor's decisions, for readers.
func (m *personal) writePlants(name string, w *pipeline.PieceRun, all []site) error {
	finder, text := decision.NewFinder(w.Score), decision.Head(name, "ED")
	for _, s := range all {
		d := decision.Decision{Verb: decision.Amend, On: decision.Notes, When: "2026-03-01"}
		for k, n := range s.notes {
			d.Notes = append(d.Notes, finder.Ref(n, []int{s.fingers[k]}))
		}
		text += decision.Entry(d)
	}
	if err := os.MkdirAll(m.plants, 0o755); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(m.plants, name+".ED.yaml"), []byte(text), 0o644)
}

// around is how many strokes on either side of a plant have the digits of the fingering for the many.
const around = 3

// asPlanted says that a verdict is the right one for a kind.
func asPlanted(kind int, v weighing.Verdict) bool {
	if kind == atTempoOnly {
		return v == weighing.Unusual
	}
	return v.Personal()
}

// sites lists the places of each kind.
func (m *personal) sites(w *pipeline.PieceRun, in weighing.Input, at int) (out [kinds][]site) {
	ask := in.Suggest
	ask.Draft, ask.Bare = nil, true
	ask.Decided = nil
	tenth := ask
	tenth.Profile = hand.TenthHand
	tenth.Profile.Supple = 1150
	tenth.Policy = must(ask.Policy.Setting(map[string]string{"aims.habit": "0"}))
	if at == atTempoOnly {
		for _, tempo := range []string{"200", "400", "800"} {
			fast := ask
			fast.Policy = must(ask.Policy.Setting(map[string]string{"aims.habit": "0", "aims.tempo": tempo}))
			out[at] = append(out[at], m.differing(w, in, suggest.Suggest(fast), at)...)
		}
		return out
	}
	out[forTenthHand] = m.differing(w, in, suggest.Suggest(tenth), forTenthHand)
	out[dearThroughout] = m.dear(w, in)
	return out
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err) // a setting of our own
	}
	return v
}

// differing lists the passages in which a whole fingering differs from that for the many and is what its kind asks for.
func (m *personal) differing(w *pipeline.PieceRun, in weighing.Input, s *suggest.Suggestion, kind int) (out []site) {
	ask := in
	ask.Suggestion = s
	ask.Suggest.Draft = make([][]int, len(s.Notes))
	for n := range s.Notes {
		if f := int(s.Notes[n].Finger); f > 0 {
			ask.Suggest.Draft[n] = []int{f}
		}
	}
	found := weighing.Passages(ask)
	for i := range found {
		p := &found[i]
		strokes := w.Playing.Stroke(p.Notes[len(p.Notes)-1]).Index - w.Playing.Stroke(p.Notes[0]).Index + 1
		if strokes > longest {
			continue
		}
		switch kind {
		case forTenthHand:
			if p.Impossible || p.Differing() < 2 || p.Needs[0].Size < 2 || p.Needs[1].Size > 1 ||
				min(p.Full.Line, p.Full.Memory, p.Full.Tempo) <= -plainGain {
				continue
			}
		case atTempoOnly:
			gain := -p.Full.Tempo
			if p.Impossible || p.Differing() < 2 || gain < tempoPlant || 4*gain < p.Full.Sum() || p.Practice.Sum() <= 0 ||
				p.Practice.Sum()-p.Full.Sum() < tempoPlant || p.Share[0] >= p.Share[1] {
				continue
			}
		}
		out = append(out, site{notes: p.Notes, fingers: p.Own})
	}
	return out
}

// dear lists passages fingered so that they cost more in every aim: a few notes of the fingering for the many have to take
// another finger, and the cheapest way with it is held against both prices.
func (m *personal) dear(w *pipeline.PieceRun, in weighing.Input) (out []site) {
	rng := m.random(w.Piece.ID + "dear")
	bare := in.Suggest
	bare.Draft, bare.Decided = nil, nil
	for _, l := range w.Playing.Lines {
		notes := suggest.NotesOf(bare, l.Player, l.Hand)
		if len(notes) == 0 {
			continue
		}
		if len(l.Strokes) < 3*longest {
			continue
		}
		for range 3 {
			length := 4 + rng.IntN(5)
			from := longest + rng.IntN(len(l.Strokes)-2*longest)
			inside, all := map[int]bool{}, map[int]bool{}
			for k := from - longest; k < from+longest+length && k < len(l.Strokes); k++ {
				for _, n := range l.Strokes[k].Notes {
					all[n] = true
					inside[n] = k >= from && k < from+length
				}
			}
			var part []fingering.Note
			for _, n := range notes {
				if !all[n.ID] {
					continue
				}
				n.Remembered, n.Worth = 0, 0
				f := in.Free.Notes[n.ID].Finger
				switch {
				case n.Tied || !f.Valid():
				case !inside[n.ID]:
					n.Allowed = fingering.Only(f)
				case rng.IntN(3) == 0:
					n.Allowed = fingering.AnyFinger &^ fingering.Only(f)
				}
				part = append(part, n)
			}
			var worker engine.Worker
			r := worker.Finger(fingering.HandOf(l.Hand), in.Suggest.Profile, in.Suggest.Weights, part,
				engine.Options{Decode: engine.Cheapest, Aims: suggest.AimsOf(in.Suggest.Policy)})
			s := site{}
			fingers := map[int]int{}
			for _, n := range r.Notes {
				fingers[n.ID] = int(n.Finger)
			}
			for k := from; k < from+length; k++ {
				for _, n := range l.Strokes[k].Notes {
					if fingers[n] > 0 {
						s.notes, s.fingers = append(s.notes, n), append(s.fingers, fingers[n])
					}
				}
			}
			if len(s.notes) > 0 && dearer(in, s) && points(in, l.Hand.String(), part, r, in.Free) >= dearPoints {
				out = append(out, s)
			}
		}
	}
	return out
}

// dearer says that a passage costs more in every aim that differs, and as much in all as a plant has to.
func dearer(in weighing.Input, s site) bool {
	ask := in
	changed := *in.Free
	changed.Notes = slices.Clone(in.Free.Notes)
	ask.Suggest.Draft = make([][]int, len(changed.Notes))
	for k, n := range s.notes {
		changed.Notes[n].Finger = fingering.Finger(s.fingers[k])
		ask.Suggest.Draft[n] = []int{s.fingers[k]}
	}
	ask.Suggestion = &changed
	found := weighing.Passages(ask)
	if len(found) != 1 || found[0].Differing() < 2 || found[0].Beyond || found[0].Impossible {
		return false
	}
	a := &found[0].Full
	return a.Comfort > 0 && a.Line >= 0 && a.Memory >= 0 && a.Tempo >= 0 && a.Reach >= 0 && a.Sum() >= dearPlant
}

// points is what a way costs more than that for the many by the published ergonomic model, in its points.
func points(_ weighing.Input, h string, part []fingering.Note, way engine.Result, many *suggest.Suggestion) int {
	right, err := fingering.ParseHand(h)
	if err != nil {
		return 0
	}
	sum := [2]int64{}
	for k := range sum {
		notes := slices.Clone(part)
		for i := range notes {
			f := many.Notes[notes[i].ID].Finger
			if k == 0 {
				f = way.Notes[i].Finger
			}
			if !notes[i].Tied {
				notes[i].Allowed = fingering.Only(f)
			}
		}
		line := fingering.NewLine(right, notes, hand.NinthHand.Fits)
		l := lattice.New(line, hand.NinthHand)
		var search lattice.Workspace
		priced := search.Price(l, effort.NewErgonomic(line, l))
		_, sum[k] = priced.Forward().Cheapest()
	}
	return int((sum[0] - sum[1]) / effort.Point)
}

// drawnPassage spells a passage for readers: its place, the notes with both fingers, and what is said.
func drawnPassage(name string, w *pipeline.PieceRun, p *weighing.Passage) string {
	var b strings.Builder
	first, last := &w.Score.Notes[p.Notes[0]], &w.Score.Notes[p.Notes[len(p.Notes)-1]]
	fmt.Fprintf(&b, "%s, mm. %s–%s, %s: %s\n  ", name, w.Score.Measures[first.Measure].Number,
		w.Score.Measures[last.Measure].Number, p.Hand.Words(), verdictWords[p.Verdict])
	for k, n := range p.Notes {
		own := ""
		if slices.Contains(p.Theirs, n) {
			own = "*"
		}
		fmt.Fprintf(&b, "%s@%s %d%s", w.Score.Notes[n].Pitch, w.Score.Beat(w.Score.Notes[n].Measure, w.Score.Notes[n].Onset), p.Own[k], own)
		if p.Differs(k) {
			fmt.Fprintf(&b, "(%d)", p.Many[k])
		}
		b.WriteString("  ")
	}
	fmt.Fprintf(&b, "\n  full %+v, practice %+v, habit %d, share %v, needs %d %d\n  %s\n\n", p.Full, p.Practice, p.Habit, p.Share,
		p.Needs[0].Size, p.Needs[1].Size, strings.Join(p.Says, "; "))
	return b.String()
}
