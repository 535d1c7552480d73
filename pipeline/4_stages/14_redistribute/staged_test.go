package redistribute

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// staged is a passage of both hands with the answers that an editor would accept. The notation is that of the file
// of staged troubles: C4+E4/8 is a chord, /8t a triplet eighth, ~C4 is tied to the note before, C4=2 has a digit,
// (C4 D4) is slurred, ped begins a pedal, !m.d. is a hand sign.
type staged struct {
	Name                       string
	Right, Right2, Left, Left2 string
	Tempo                      int // quarters a minute, marked; 0: unmarked
	Scoring                    string
	Set                        []string // lines of a policy
	// "L reach C4@0 D4@2": who takes which keys, by their onsets in quarters, and why; or "no"
	Accept []string
}

var stagedToken = regexp.MustCompile(
	`^(\(*)(~?)([A-G][#b]?\d(?:=\d)?(?:\+[A-G][#b]?\d(?:=\d)?)*|r|!\S+|ped)(?:/(\d+)(t?))?(\)*)$`)

// material builds what the stage looks at, straight from the notation: no file, no other stage.
func (p staged) material(t require.TestingT) Material {
	b := &builder{t: t, quarter: int64(600_000)}
	if p.Tempo > 0 {
		b.quarter = 60_000_000 / int64(p.Tempo)
	}
	b.in.Score = &score.Score{}
	longest := score.Whole(1)
	for i, music := range []string{p.Right, p.Right2, p.Left, p.Left2} {
		longest = score.Max(longest, b.voice(music, i*2+1, i/2+1))
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

// voice writes one voice and gives its length in quarters.
func (b *builder) voice(music string, voice, staff int) score.Fraction {
	s, at, value, triplet := b.in.Score, score.Whole(0), int64(4), false
	slurred := false
	var before []int
	for token := range strings.FieldsSeq(music) {
		m := stagedToken.FindStringSubmatch(token)
		require.NotNil(b.t, m, "%q", token)
		switch {
		case m[3] == "ped":
			s.Directions = append(s.Directions,
				score.Direction{Kind: score.Pedal, Start: true, Staff: staff, Onset: at})
			continue
		case m[3][0] == '!':
			s.Directions = append(s.Directions, score.Direction{Kind: score.HandSign, Text: m[3][1:], Staff: staff})
			continue
		}
		if m[4] != "" {
			value, _ = strconv.ParseInt(m[4], 10, 64)
			triplet = m[5] == "t"
		}
		length, tuplet := score.Frac(4, value), score.Tuplet{}
		if triplet {
			length, tuplet = length.Mul(score.Frac(2, 3)), score.Tuplet{Actual: 3, Normal: 2}
		}
		slurred = slurred && m[6] == "" || m[1] != ""
		var now []int
		for k, pitch := range strings.Split(m[3], "+") {
			if pitch == "r" {
				b.rests = append(b.rests, score.Note{Kind: score.Rest, Onset: at, Duration: length, Staff: staff, HomeStaff: staff, Voice: strconv.Itoa(voice), TiedFrom: -1, TiedTo: -1})
				continue
			}
			pitch, digit, _ := strings.Cut(pitch, "=")
			i, end := len(s.Notes), at.Add(length)
			octave, _ := strconv.Atoi(pitch[len(pitch)-1:])
			n := score.Note{
				Onset:     at,
				Duration:  length,
				Staff:     staff,
				HomeStaff: staff,
				Voice:     strconv.Itoa(voice),
				Tuplet:    tuplet,
				TiedFrom:  -1,
				TiedTo:    -1,
				Pitch: score.Pitch{
					Step: pitch[0], Alter: int8(strings.Count(pitch, "#") - strings.Count(pitch, "b")),
					Octave: int8(octave),
				},
			}
			n.Midi = n.Pitch.Midi()
			note := fingering.Note{
				ID: i, Key: n.Midi, Onset: momentOf(at), End: momentOf(end), Slurred: slurred,
				Micros: at.Num() * b.quarter / at.Den(),
			}
			if m[2] == "~" {
				n.TiedFrom, note.Tied = before[k], true
				s.Notes[before[k]].TiedTo = i
			}
			said := Said{}
			if k == 0 && m[1] != "" {
				n.Slurs = append(n.Slurs, score.Slur{Number: 1, Start: true})
			}
			if k == 0 && m[6] != "" {
				n.Slurs = append(n.Slurs, score.Slur{Number: 1})
			}
			if digit != "" {
				f, _ := strconv.Atoi(digit)
				n.Indications = []score.Indication{{Fingers: []int{f}}}
				note.Allowed, said.Given = fingering.Only(fingering.Finger(f)), true
			}
			s.Notes = append(s.Notes, n)
			b.notes, b.in.Said = append(b.notes, note), append(b.in.Said, said)
			b.hands.Piano, b.hands.Player = append(b.hands.Piano, true), append(b.hands.Player, 0)
			b.hands.Hand = append(b.hands.Hand, handOf[staff-1])
			now = append(now, i)
		}
		before, at = now, at.Add(length)
	}
	return at
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
	b.in.Weights, b.in.Aims = effort.Delivered(), suggest.AimsOf(policy)
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
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "redistributions.yaml"))
	require.NoError(t, err)
	require.NoError(t, yaml.Unmarshal(data, &all))
	require.GreaterOrEqual(t, len(all), 40)
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
