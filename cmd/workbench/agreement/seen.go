package agreement

import (
	"fmt"
	"io"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/lattice"
)

// surroundings are the kinds of context by which a decided finger might be known again, the widest first.
var surroundings = []string{"window3", "key-window2", "window2", "ahead3", "behind3", "key-between"}

// remembered counts for each kind of surroundings how often editors decided which finger there.
type remembered map[effort.Context]*[fingering.Fingers + 1]int

// decide takes what the first digits of pieces decide, as decidedLines does.
func (m remembered) decide(pieces []*opendata.Piece, digits int) {
	used := 0
	for _, p := range pieces {
		eachContext(p, func(r *opendata.Row, contexts []effort.Context) {
			if used >= digits {
				return
			}
			used++
			for _, c := range contexts {
				if m[c] == nil {
					m[c] = new([fingering.Fingers + 1]int)
				}
				m[c][r.Finger]++
			}
		})
	}
}

// most gives the finger decided most often in a context, 0 where there is none.
func (m remembered) most(c effort.Context) (best fingering.Finger) {
	v := m[c]
	if v == nil {
		return 0
	}
	for f := range v {
		if v[f] > v[best] {
			best = fingering.Finger(f)
		}
	}
	return best
}

// eachContext visits the clean digits of a piece with the contexts of their notes, in the order of surroundings.
func eachContext(p *opendata.Piece, visit func(*opendata.Row, []effort.Context)) {
	pricer := effort.NewPricer(effort.HandSet(), training.Hand)
	for h := range p.Lines {
		line := fingering.NewLine(fingering.Hand(h), p.Lines[h], training.Hand.Fits)
		l := lattice.New(line, training.Hand)
		model := pricer.Model(line, l)
		for e := range line.Events {
			for _, f := range model.Factors(e) {
				if f.Kind != effort.NoteFactor {
					continue
				}
				r := p.Row(line.Strikes[line.Events[e].Keys[f.At[0]].Strike].IDs[0])
				if !r.Clean {
					continue
				}
				contexts := make([]effort.Context, len(surroundings))
				for _, c := range f.Contexts {
					for s, name := range surroundings {
						if c.Name() == name {
							contexts[s] = c
						}
					}
				}
				visit(r, contexts)
			}
		}
	}
}

// knownAgain says of the later pieces' digits how many stand in surroundings that decided digits stand in, how many of
// these the weights find, and how many the finger most often decided there would.
func knownAgain(out io.Writer, decided, later []*opendata.Piece, digits int, w *effort.Weights) {
	m := remembered{}
	m.decide(decided, digits)
	var worker engine.Worker
	engineRight, memoryRight := make([][2]int, len(surroundings)), make([][2]int, len(surroundings))
	for _, p := range later {
		finger := map[int]fingering.Finger{}
		for h := range p.Lines {
			for _, n := range worker.Finger(fingering.Hand(h), training.Hand, w, p.Lines[h], engine.Options{Aims: training.HabitSettings().Aims}).Notes {
				finger[n.ID] = n.Finger
			}
		}
		rows := map[*opendata.Row]int{}
		for i := range p.Rows {
			rows[&p.Rows[i]] = i
		}
		eachContext(p, func(r *opendata.Row, contexts []effort.Context) {
			for s, c := range contexts {
				f := m.most(c)
				if f == 0 {
					continue
				}
				engineRight[s][1]++
				memoryRight[s][1]++
				engineRight[s][0] += one(finger[rows[r]] == r.Finger)
				memoryRight[s][0] += one(f == r.Finger)
			}
		})
	}
	for s, name := range surroundings {
		fmt.Fprintf(out, "  %-12s decided before: %5d of the later digits; the weights find %s, what was decided most there %s\n",
			name, engineRight[s][1], figures.Share(engineRight[s]), figures.Share(memoryRight[s]))
	}
}
