package findings

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/corpus/score"
)

// faultsOfSlips are slips that stand out because all around them is otherwise. Each is planted once in a score.
var faultsOfSlips = []fault{
	{"digit-lost", func(g *planter) {
		g.rowOnce("digit-lost", 9, g.evenKeys, func(row []int) {
			for i, n := range row {
				if i != 4 {
					g.digits(n, strconv.Itoa(g.base.Finger[n]))
				}
			}
			g.digits(row[4])
			g.want("digit-lost", row[4])
		})
	}},
	{"change-broken", func(g *planter) {
		g.rowOnce("change-broken", 4, g.oneKey, func(row []int) {
			for i, n := range row {
				g.digits(n, []string{"4", "3", "3", "2"}[i])
			}
			g.want("change-broken", row[2])
		})
	}},
	{"spelling-doubtful", func(g *planter) {
		g.rowOnce("spelling-doubtful", 3, g.scaleOfThree, func(row []int) {
			p := g.note(row[1]).Pitch
			step, alter := respelt(p.Step, int(p.Alter))
			alteration.SetPitch(g.at[row[1]], step, alter, int(p.Octave))
			g.want("spelling-doubtful", row[1])
		})
	}},
	{"sign-incomplete", func(g *planter) {
		g.once("sign-incomplete", func(n int) bool { return g.strikesAlone(n) && !g.rolls() }, func(n int) {
			alteration.NotationsOf(g.at[n]).CreateElement("arpeggiate")
			g.wantIn("sign-incomplete", n, nil)
		})
	}},
	{"key-doubtful", func(g *planter) {
		g.once("key-doubtful", func(n int) bool {
			return g.note(n).Measure > 1 && g.note(n).Onset.Sign() == 0 && g.base.Score.Parts[g.note(n).Part].Staves == 2 && !g.barlineAt(g.note(n).Measure)
		}, func(n int) {
			fifths := g.base.Score.Measures[g.note(n).Measure].Fifths
			a := etree.NewElement("attributes")
			for i, k := range []int{fifths, other(fifths)} {
				key := a.CreateElement("key")
				key.CreateAttr("number", number(i+1))
				key.CreateElement("fifths").SetText(number(k))
			}
			g.at[n].Parent().InsertChildAt(0, a)
			g.wantIn("key-doubtful", n, nil)
		})
	}},
	{"words-contradict", func(g *planter) {
		g.once("words-contradict", func(int) bool { return true }, func(n int) {
			pair := [][2]string{{"rit.", "accel."}, {"Adagio", "Presto"}, {"più mosso", "meno mosso"}, {"una corda", "tre corde"}}[g.Rng.IntN(4)]
			g.direction(n, max(g.note(n).Staff, 1), words(pair[0]))
			g.direction(n, max(g.note(n).Staff, 1), words(pair[1]))
			g.wantIn("words-contradict", n, nil)
		})
	}},
	{"tempo-doubtful", func(g *planter) {
		g.once("tempo-doubtful beside a word", func(n int) bool { return g.note(n).Onset.Sign() == 0 }, func(n int) {
			m := etree.NewElement("metronome")
			m.CreateElement("beat-unit").SetText("quarter")
			m.CreateElement("per-minute").SetText("176")
			g.direction(n, max(g.note(n).Staff, 1), words("Adagio"))
			g.direction(n, max(g.note(n).Staff, 1), m)
			g.wantIn("tempo-doubtful", n, nil)
		})
	}},
	{"notation-odd", func(g *planter) {
		if g.planted("notation-odd an accent at a tie") || g.accentsAtTies() {
			return
		}
		for n := range g.base.Score.Notes {
			if x := g.note(n); x.TiedFrom >= 0 && g.strikesAlone(n) && g.base.Playing.Plays(n) && g.free(n) && g.note(x.TiedFrom).Grace == 0 && g.take(n) {
				g.markPlanted("notation-odd an accent at a tie")
				alteration.NotationsOf(g.at[n]).CreateElement("articulations").CreateElement("accent")
				g.want("notation-odd", n)
				return
			}
		}
	}},
}

// rowOnce plants a fault in so many single notes of a hand that follow each other in one voice and suit, once in a score.
func (g *planter) rowOnce(name string, long int, suits func(row []int) bool, plant func(row []int)) {
	if g.planted(name) {
		return
	}
	from := g.Rng.IntN(max(len(g.strokes), 1))
	for k := range g.strokes {
		s := g.strokes[(from+k)%len(g.strokes)][0]
		st := g.base.Playing.Stroke(s[0])
		strokes := g.base.Playing.Lines[st.Line].Strokes
		var row []int
		for i := st.Index; i < len(strokes) && len(row) < long && len(strokes[i].Notes) == 1; i++ {
			n := strokes[i].Notes[0]
			if len(row) > 0 && !g.oneVoice(row[len(row)-1], n) {
				break
			}
			row = append(row, n)
		}
		if len(row) == long && g.free(row...) && g.untied(row...) && suits(row) && g.take(row...) {
			g.markPlanted(name)
			plant(row)
			return
		}
	}
}

// evenKeys says that notes are equally long, that each has a finger, and that no key is struck twice in a row.
func (g *planter) evenKeys(row []int) bool {
	for i, n := range row {
		if g.base.Finger[n] == 0 || g.note(n).Duration != g.note(row[0]).Duration || i > 0 && g.note(n).Midi == g.note(row[i-1]).Midi {
			return false
		}
	}
	return true
}

// oneKey says that notes strike one key, not so quickly that one finger cannot do it and not slowly.
func (g *planter) oneKey(row []int) bool {
	for i := 1; i < len(row); i++ {
		gap := g.base.Gap(row[i-1], row[i])
		if g.note(row[i]).Midi != g.note(row[0]).Midi || gap >= 600_000 || gap < g.base.RepeatMicros {
			return false
		}
	}
	return true
}

// scaleOfThree says that three notes go on by step and by letter, the middle one with an accidental of which the key or the
// measure has others.
func (g *planter) scaleOfThree(row []int) bool {
	a, b, c := g.note(row[0]), g.note(row[1]), g.note(row[2])
	p := b.Pitch
	if p.Alter != 1 && p.Alter != -1 || a.Chord || b.Chord || c.Chord || a.Pitch.Alter != 0 || c.Pitch.Alter != 0 {
		return false
	}
	step, _ := respelt(p.Step, int(p.Alter))
	up := b.Midi - a.Midi
	letters := func(x, y score.Pitch) int { return (int(y.Step) - int(x.Step) + 7) % 7 }
	if up != c.Midi-b.Midi && up*(c.Midi-b.Midi) < 0 || step == "" || max(up, -up) > 2 || max(c.Midi-b.Midi, b.Midi-c.Midi) > 2 || up == 0 || c.Midi == b.Midi {
		return false
	}
	forward := 1
	if up < 0 {
		forward = 6
	}
	return letters(a.Pitch, p) == forward && letters(p, c.Pitch) == forward
}

// respelt gives the other letter of a black key; "" where it has none.
func respelt(step byte, alter int) (string, int) {
	const sharps, flats = "CDFGA", "DEGAB"
	from, to := sharps, flats
	if alter < 0 {
		from, to = flats, sharps
	}
	for i := range len(from) {
		if from[i] == step {
			return to[i : i+1], -alter
		}
	}
	return "", 0
}

// strikesAlone says that nothing else of its part begins with a note.
func (g *planter) strikesAlone(n int) bool {
	x := g.note(n)
	return !slices.ContainsFunc(g.base.InMeasure(x.Measure), func(m int) bool {
		y := g.note(m)
		return m != n && y.Part == x.Part && y.Onset == x.Onset && y.Kind == score.Pitched
	})
}

// rolls says that the piece has rolled chords.
func (g *planter) rolls() bool {
	return slices.ContainsFunc(g.base.Score.Notes, func(n score.Note) bool { return n.Arpeggio.Rolled })
}

// accentsAtTies says that the piece sets accents at tied notes.
func (g *planter) accentsAtTies() bool {
	return slices.ContainsFunc(g.base.Score.Notes, func(n score.Note) bool {
		return n.TiedFrom >= 0 && n.Marks&(score.Accent|score.StrongAccent) != 0 || n.TiedTo >= 0 && n.Marks&score.LetGo != 0
	})
}
