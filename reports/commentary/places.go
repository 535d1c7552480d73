package commentary

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

// group is notes of one hand in one measure, in order of playing.
type group struct {
	measure string
	index   int
	hand    score.Hand
	part    string          // where several play
	chords  [][]*state.Note // those that begin together, the lowest first
}

// groups gathers the notes of a piece that are asked for by measure and hand,
// in the order of the music, player by player, the right hand before the left.
func (p *pieceRemarks) groups(ask func(*state.Note) bool) []*group {
	var notes []*state.Note
	for i := range p.result.Notes {
		if n := &p.result.Notes[i]; ask(n) {
			notes = append(notes, n)
		}
	}
	slices.SortStableFunc(notes, func(a, b *state.Note) int {
		switch {
		case a.MeasureIndex != b.MeasureIndex:
			return a.MeasureIndex - b.MeasureIndex
		case a.Part != b.Part:
			return cmp.Compare(p.players[a.Part], p.players[b.Part])
		case a.Hand != b.Hand && a.Hand == score.Right:
			return -1
		case a.Hand != b.Hand:
			return 1
		}
		return cmp.Or(a.Before(b), a.Midi-b.Midi)
	})
	var out []*group
	for _, n := range notes {
		if len(out) == 0 || out[len(out)-1].index != n.MeasureIndex || out[len(out)-1].hand != n.Hand ||
			out[len(out)-1].part != n.Part {
			out = append(out, &group{measure: n.Measure, index: n.MeasureIndex, hand: n.Hand, part: n.Part})
		}
		g := out[len(out)-1]
		if k := len(g.chords) - 1; k >= 0 && g.chords[k][0].Before(n) == 0 {
			g.chords[k] = append(g.chords[k], n)
		} else {
			g.chords = append(g.chords, []*state.Note{n})
		}
	}
	return out
}

// place names the measure and the hand: "m. 4, right hand"; "m. 4, player 2, left hand" where several play.
func (p *pieceRemarks) place(g *group) string {
	return p.Say("measure", g.measure) + ", " + p.handOf(g.part, g.hand)
}

func (p *pieceRemarks) handOf(part string, h score.Hand) string {
	if len(p.players) < 2 {
		return p.Say("hand." + h.String())
	}
	return p.Say("player", p.players[part]) + ", " + p.Say("hand."+h.String())
}

// spot names what sounds together: "beat 2, A4+C5", "before beat 2, A4" for a grace note.
func (p *pieceRemarks) spot(chord []*state.Note) string {
	n := chord[0]
	pitches := each(chord, func(n *state.Note) string { return pitch(n.Pitch) })
	if p.beats == nil {
		return pitches
	}
	beat := p.Say("beat", p.beats(n.MeasureIndex, n.Onset))
	if n.Grace > 0 {
		beat = p.Say("grace", beat)
	}
	return beat + ", " + pitches
}

// each joins what is said of the notes of a chord, the lowest first: "2+4".
func each(chord []*state.Note, say func(*state.Note) string) string {
	words := make([]string, len(chord))
	for k, n := range chord {
		words[k] = say(n)
	}
	return strings.Join(words, "+")
}

// lines says of each measure and hand, in one line, what say says of its chords.
func (p *pieceRemarks) lines(groups []*group, say func(chord []*state.Note) string) (out []string) {
	for _, g := range groups {
		line := p.place(g)
		for k, chord := range g.chords {
			spot := p.spot(chord)
			if k == 0 {
				line += ", " + spot + p.Say("colon") + say(chord)
			} else {
				line += " " + capital(spot) + p.Say("colon") + say(chord)
			}
		}
		out = append(out, line)
	}
	return out
}

// capital begins a sentence.
func capital(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[size:]
}

// pitch writes a pitch with the signs of print: C♯5, B♭3.
func pitch(p string) string {
	return strings.NewReplacer("##", "𝄪", "bb", "𝄫", "#", "♯", "b", "♭").Replace(p)
}

// measures lists measures as printed, runs of them from first to last: "mm. 1–6, 9".
func (p *pieceRemarks) measures(notes []*state.Note) string {
	var words []string
	first, last := (*state.Note)(nil), (*state.Note)(nil)
	end := func() {
		switch {
		case first == nil:
		case first.MeasureIndex == last.MeasureIndex:
			words = append(words, first.Measure)
		default:
			words = append(words, first.Measure+"–"+last.Measure)
		}
	}
	for _, n := range notes {
		if last != nil && n.MeasureIndex <= last.MeasureIndex+1 {
			last = n
			continue
		}
		end()
		first, last = n, n
	}
	end()
	if len(words) == 1 && first.MeasureIndex == last.MeasureIndex {
		return p.Say("measure", words[0])
	}
	return p.Say("measures", strings.Join(words, ", "))
}

// byHand lists where notes stand: "right hand, mm. 1–6; left hand, m. 4".
func (p *pieceRemarks) byHand(ask func(*state.Note) bool) (count int, where string) {
	type who struct {
		part string
		hand score.Hand
	}
	var order []who
	notes := map[who][]*state.Note{}
	for _, g := range p.groups(ask) {
		w := who{g.part, g.hand}
		if notes[w] == nil {
			order = append(order, w)
		}
		for _, chord := range g.chords {
			notes[w] = append(notes[w], chord...)
		}
	}
	slices.SortFunc(order, func(a, b who) int {
		return cmp.Or(cmp.Compare(p.players[a.part], p.players[b.part]), cmp.Compare(a.hand, b.hand))
	})
	var words []string
	for _, w := range order {
		words = append(words, p.handOf(w.part, w.hand)+", "+p.measures(notes[w]))
		count += len(notes[w])
	}
	return count, strings.Join(words, p.Say("semicolon"))
}
