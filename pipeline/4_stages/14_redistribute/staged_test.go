package redistribute

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/14_redistribute/stagedtest"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// staged is a passage for the stage alone.
type staged stagedtest.Passage

// material builds what the stage looks at, straight from the notation: no file, no other stage.
func (p staged) material(t require.TestingT) Material {
	b := &builder{t: t, quarter: int64(600_000)}
	if p.Tempo > 0 {
		b.quarter = 60_000_000 / int64(p.Tempo)
	}
	b.in.Score = &score.Score{}
	longest := score.Whole(1)
	voices, err := stagedtest.Passage(p).Voices()
	require.NoError(t, err)
	for i := range voices {
		b.voice(&voices[i])
		longest = score.Max(longest, voices[i].Length)
	}
	b.in.Score.Measures = []score.Measure{{Number: "1", Length: longest, Page: 1}}
	b.in.MarkedTempo, b.in.OneHand = p.Tempo > 0, p.Scoring != ""
	b.policy(p.Set)
	b.said()
	return b.in
}

type builder struct {
	t       require.TestingT
	in      Material
	hands   playing.Hands
	notes   []fingering.Note
	rests   []score.Note // they stand behind the notes, so that notes are numbered as they are written
	quarter int64
}

// voice lays down one voice.
func (b *builder) voice(v *stagedtest.Voice) {
	s, slurred := b.in.Score, false
	var before []int
	for _, e := range v.Events {
		blank := score.Note{
			Onset: e.At, Duration: e.Length, Staff: v.Staff, HomeStaff: v.Staff, Voice: strconv.Itoa(v.Number), TiedFrom: -1, TiedTo: -1,
		}
		if e.Triplet {
			blank.Tuplet = score.Tuplet{Actual: 3, Normal: 2}
		}
		switch {
		case e.Pedal:
			s.Directions = append(s.Directions, score.Direction{Kind: score.Pedal, Start: true, Staff: v.Staff, Onset: e.At})
			continue
		case e.Sign != "":
			s.Directions = append(s.Directions, score.Direction{Kind: score.HandSign, Text: e.Sign, Staff: v.Staff})
			continue
		case e.Rest:
			blank.Kind, blank.Tuplet = score.Rest, score.Tuplet{}
			b.rests = append(b.rests, blank)
		}
		slurred = slurred && !e.SlurStop || e.SlurStart
		var now []int
		for k, key := range e.Keys {
			i, n := len(s.Notes), blank
			n.Pitch, n.Midi = key.Pitch, key.Pitch.Midi()
			note := fingering.Note{
				ID: i, Key: n.Midi, Onset: momentOf(e.At), End: momentOf(e.At.Add(e.Length)), Slurred: slurred,
				Micros: e.At.Num() * b.quarter / e.At.Den(),
			}
			if e.Tied {
				n.TiedFrom, note.Tied = before[k], true
				s.Notes[before[k]].TiedTo = i
			}
			if k == 0 && e.SlurStart {
				n.Slurs = append(n.Slurs, score.Slur{Number: 1, Start: true})
			}
			if k == 0 && e.SlurStop {
				n.Slurs = append(n.Slurs, score.Slur{Number: 1})
			}
			said := Said{}
			if key.Digit > 0 {
				n.Indications = []score.Indication{{Fingers: []int{key.Digit}}}
				note.Allowed, said.Given = fingering.Only(fingering.Finger(key.Digit)), true
			}
			s.Notes = append(s.Notes, n)
			b.notes, b.in.Said = append(b.notes, note), append(b.in.Said, said)
			b.hands.Piano, b.hands.Player = append(b.hands.Piano, true), append(b.hands.Player, 0)
			b.hands.Hand = append(b.hands.Hand, handOf[v.Staff-1])
			now = append(now, i)
		}
		before = now
	}
}

func momentOf(at score.Fraction) fingering.Moment {
	return fingering.Moment{Num: at.Num(), Den: at.Den()}
}

func (b *builder) policy(set []string) {
	file := filepath.Join(os.TempDir(), fmt.Sprintf("staged-%d.yaml", os.Getpid()))
	require.NoError(b.t, os.WriteFile(file, []byte("extends: default\n"+strings.Join(set, "\n")+"\n"), 0o600))
	defer os.Remove(file)
	policy, err := policies.Load(file)
	require.NoError(b.t, err)
	b.in.Profile, err = hand.Named(policy.HandName())
	require.NoError(b.t, err)
	b.in.Weights, b.in.Aims = effort.Delivered(), aimsOf(policy)
	b.in.Rules = Rules{
		On: map[string]bool{}, Threshold: policy.RedistributeThreshold(), Thresholds: map[string]int{},
		PerPage: policy.RedistributePerPage(),
	}
	for _, reason := range WithThreshold {
		b.in.Rules.Thresholds[reason] = policy.RedistributeThresholdOf(reason)
	}
	for _, reason := range Reasons {
		b.in.Rules.On[reason] = policy.Redistributes(reason)
	}
}

// said fingers each hand by itself.
func (b *builder) said() {
	for _, r := range b.rests {
		b.in.Score.Notes, b.in.Said = append(b.in.Score.Notes, r), append(b.in.Said, Said{})
		b.hands.Piano, b.hands.Player, b.hands.Hand = append(b.hands.Piano, false), append(b.hands.Player, 0), append(b.hands.Hand, score.NoHand)
	}
	b.in.Playing = playing.New(b.in.Score, b.hands)
	b.in.Line = func(_ int, h score.Hand) (out []fingering.Note) {
		for i, n := range b.notes {
			if b.hands.Hand[i] == h {
				out = append(out, n)
			}
		}
		return out
	}
	for _, h := range handOf {
		r := engine.Finger(fingering.HandOf(h), b.in.Profile, b.in.Weights, b.in.Line(0, h),
			engine.Options{Aims: b.in.Aims})
		for _, n := range r.Notes {
			s := &b.in.Said[n.ID]
			s.Finger, s.OutOfReach, s.Pedal = n.Finger, n.OutOfReach, n.Pedal
		}
	}
}

// spelled writes redistributions as the answers are written.
func spelled(in Material, all []fingering.Redistribution) string {
	var out []string
	for _, r := range all {
		text := r.To.String() + " " + r.Reason
		for _, n := range r.Notes {
			text += fmt.Sprintf(" %s@%s", in.Score.Notes[n].Pitch, in.Score.At(n))
		}
		out = append(out, text)
	}
	if len(out) == 0 {
		return "no"
	}
	return strings.Join(out, "; ")
}

func (p staged) answer(t require.TestingT) string {
	in := p.material(t)
	return spelled(in, Find(in).Redistributions)
}

func stagedFile(t *testing.T) (all []staged) {
	passages, err := stagedtest.Read(filepath.Join("..", "..", "testdata", "redistributions.yaml"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(passages), 40)
	for _, p := range passages {
		all = append(all, staged(p))
	}
	return all
}

// The stage by itself, given the notes of both hands, answers staged troubles as an editor would (common practice).
func TestStagedTroublesByTheStageAlone(t *testing.T) {
	for _, p := range stagedFile(t) {
		if got := p.answer(t); !slices.Contains(p.Accept, got) {
			t.Errorf("%s: %q, accepted are %q", p.Name, got, p.Accept)
		}
	}
}
