// Package hands is the stage that says which hand of which player takes each note.
package hands

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// Scoring says who plays; the words are those of the manifest.
type Scoring struct {
	Kind  string   // "two hands", "left hand alone", …
	Parts []string // ids of the parts that are played; empty: what the score shows
}

// Assign decides which hand plays each note: a hand sign first, then the
// staff the note's voice lives on, so that a voice that crosses to the other
// staff to save ledger lines stays with its hand, but where the other hand has
// neither notes nor rests of its own, or where the digits that stand fit the
// other hand alone; then position (DEVELOPERS.md, decision 3). The error says
// why the scoring cannot be told.
func Assign(s *score.Score, scoring Scoring) (*playing.Hands, error) {
	players, err := playersOf(s, scoring)
	if err != nil {
		return nil, err
	}
	h := &playing.Hands{
		Piano: make([]bool, len(s.Notes)), Hand: make([]score.Hand, len(s.Notes)),
		Player: make([]int, len(s.Notes)), Parts: make([]bool, len(s.Parts)), By: make([]playing.Evidence, len(s.Notes)),
	}
	for part := range players {
		h.Parts[part] = true
	}
	signed := signedHands(s, homeHand(s, players))
	for i := range s.Notes {
		n := &s.Notes[i]
		player, plays := players[n.Part]
		if !plays || n.Kind != score.Pitched || n.Cue || n.Hidden {
			continue
		}
		h.Piano[i] = true
		h.Player[i], h.Hand[i] = player.of(&s.Parts[n.Part], n)
		switch scoring.Kind {
		case "left hand alone":
			h.Hand[i] = score.Left
		case "right hand alone":
			h.Hand[i] = score.Right
		default:
			if sign := signed[i]; sign != score.NoHand {
				h.Hand[i], h.By[i] = sign, playing.BySign
			}
		}
	}
	if scoring.Kind != "left hand alone" && scoring.Kind != "right hand alone" {
		said := func(i int) bool { return signed[i] != score.NoHand }
		was := slices.Clone(h.Hand)
		by := func(what playing.Evidence) { // of what changed hands just now
			for i := range h.Hand {
				if h.Hand[i] != was[i] {
					h.By[i], was[i] = what, h.Hand[i]
				}
			}
		}
		told := toldByDigits(s, h, said)
		by(playing.ByDigits)
		staves := allStaves(s, h, players)
		byWriting(s, h, staves, said)
		by(playing.ByWriting)
		follow(s, h, told)
		by(playing.ByDigits)
		firm := func(i int) bool { return said(i) || told[i] != score.NoHand }
		byPosition(s, h, staves, firm)
		extraStaves(s, h, players, firm)
		by(playing.ByPosition)
	}
	return h, nil
}

// player is who plays a part.
type player struct {
	number int
	hand   score.Hand // where the part is one hand's staff
	four   bool       // the part holds the staves of two players
	extra  bool       // the part is a staff beside the usual two
}

// of gives player and hand of a note by the staff its voice lives on.
func (p player) of(part *score.Part, n *score.Note) (int, score.Hand) {
	staff, staves, number := n.HomeStaff, part.Staves, p.number
	if p.four && staves >= 4 {
		if staff > staves/2 {
			number++
			staff -= staves / 2
		}
		staves /= 2
	}
	switch {
	case p.hand != score.NoHand:
		return number, p.hand
	case staves == 1:
		return number, score.Right
	case staves == 2 || staff == 1 || staff == staves:
		if staff == 1 {
			return number, score.Right
		}
		return number, score.Left
	}
	// A middle staff belongs to whoever lies nearer.
	if n.Midi >= 60 {
		return number, score.Right
	}
	return number, score.Left
}

// playersOf maps each piano part to its player.
func playersOf(s *score.Score, scoring Scoring) (map[int]player, error) {
	parts := s.PianoParts()
	if len(scoring.Parts) > 0 {
		parts = nil
		for _, id := range scoring.Parts {
			at := -1
			for i := range s.Parts {
				if s.Parts[i].ID == id {
					at = i
				}
			}
			if at < 0 {
				return nil, fmt.Errorf("the manifest names part %q, which the score does not have\n"+
					"hint: its parts are %s", id, partNames(s, nil))
			}
			parts = append(parts, at)
		}
	}
	if len(parts) == 0 {
		return nil, fmt.Errorf(
			"the score has no piano part\nhint: name it under `parts:` in the manifest; its parts are %s",
			partNames(s, nil))
	}
	if len(scoring.Parts) == 0 && (scoring.Kind == "" || scoring.Kind == "two hands") && onePlayers(s, parts) {
		return together(s, parts), nil
	}
	out := map[int]player{}
	several := scoring.Kind == "four hands" || scoring.Kind == "two pianos" || scoring.Kind == "solo with reduction"
	for _, p := range parts {
		switch {
		case len(out) == 1 && s.Parts[p].Hand == score.Left && s.Parts[p-1].Hand == score.Right:
			out[p] = player{number: out[p-1].number, hand: score.Left}
		case len(out) > 0 && !several && !(len(scoring.Parts) == 2 && s.Parts[p].Staves == 1):
			return nil, fmt.Errorf(
				"the score has several piano parts (%s), and its scoring says %q\nhint: name the scoring (four hands, two pianos, solo with reduction) or the `parts` in the manifest",
				partNames(s, parts), scoring.Kind)
		case len(out) > 0 && !several:
			out[parts[0]] = player{hand: score.Right}
			out[p] = player{hand: score.Left}
		default:
			out[p] = player{number: 2 * len(out), hand: s.Parts[p].Hand, four: scoring.Kind == "four hands"}
		}
	}
	return out, nil
}

func partNames(s *score.Score, which []int) string {
	var names []string
	for i, p := range s.Parts {
		chosen := which == nil
		for _, w := range which {
			chosen = chosen || w == i
		}
		if chosen {
			names = append(names, fmt.Sprintf("%s %q", p.ID, p.Name))
		}
	}
	return strings.Join(names, ", ")
}
