package diffpage

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/pipeline/4_services/compare"
	"fingerproof/reports/engrave"
)

// systemWidth is where a picture breaks into systems, in CSS pixels.
const systemWidth = 900

// Draw engraves both readings of a piece's groups, at most limit of them, and
// gives how many it drew. old and new are the scores as MusicXML, nil where a
// side has none. Why something cannot be drawn stands on the page; an error
// means that the work is over.
func (p *Page) Draw(
	ctx context.Context, worker *engrave.Worker, piece *compare.Piece, old, new []byte, limit int,
) (drawn int, err error) {
	sides := [2]*engrave.Sheet{}
	problem := ""
	for i, text := range [][]byte{old, new} {
		if text == nil {
			continue
		}
		if sides[i], err = engrave.Copy(text, engrave.CopyOptions{}); err != nil {
			problem = "This cannot be drawn: " + err.Error()
		}
	}
	marks := [2][]engrave.SignMark{}
	for k, leader := range piece.Leaders() {
		mark(&piece.Changes[k], strconv.Itoa(leader+1), sides, &marks)
	}
	if p.pictures == nil {
		p.pictures = map[string][]pictures{}
	}
	for _, g := range groupsOf(piece) {
		out := pictures{problem: problem}
		if g.drawable() && problem == "" {
			if drawn >= limit {
				out.problem = "Not drawn: there are too many differences to draw them all."
			} else {
				out = p.draw(ctx, worker, &g, sides, marks)
				drawn++
			}
		}
		if ctx.Err() != nil {
			return drawn, ctx.Err()
		}
		p.pictures[piece.ID] = append(p.pictures[piece.ID], out)
	}
	return drawn, nil
}

func (p *Page) draw(
	ctx context.Context, worker *engrave.Worker, g *group, sides [2]*engrave.Sheet, marks [2][]engrave.SignMark,
) (out pictures) {
	for i, measures := range []span{g.old, g.new} {
		if measures.first < 0 || sides[i] == nil || measures.last >= sides[i].Measures {
			continue
		}
		name := [...]string{"old", "new"}[i]
		picture, err := worker.Excerpt(ctx, sides[i], measures.first, measures.last, engrave.ExcerptOptions{
			Title: name + " reading, " + g.title, Width: systemWidth, Glyphs: &p.glyphs, Signs: marks[i],
		})
		switch {
		case err != nil:
			out.problem = fmt.Sprintf("The %s reading cannot be drawn: %v", name, err)
		case i == 0:
			out.old = picture.SVG
		default:
			out.new = picture.SVG
		}
	}
	return out
}

// mark marks a difference in both readings: a box around a digit that differs,
// a ring around a note that differs, a broken ring where the other reading has
// something that this one lacks.
func mark(c *compare.Change, label string, sides [2]*engrave.Sheet, signs *[2][]engrave.SignMark) {
	places := [2]*compare.Place{c.A, c.B}
	readings := [2]string{c.Old, c.New}
	measures := [2]int{}
	measures[0], measures[1] = c.Measures()
	for i, at := range places {
		if sides[i] == nil {
			continue
		}
		if at != nil && at.Note >= 0 && at.Note < len(sides[i].Notes) {
			markNote(&sides[i].Notes[at.Note], c, readings[i], label+accidental(c, readings[i]))
			continue
		}
		if class := signClass[string(c.Kind)]; class != "" && measures[i] >= 0 && readings[i] != "" {
			staff := 0
			if at != nil && c.Kind != "metre" && c.Kind != "key" {
				staff = at.Staff
			}
			signs[i] = append(signs[i], engrave.SignMark{Measure: measures[i], Staff: staff, Class: class, Label: label})
		}
	}
}

// accidental is the pitch beside the label where only an accidental differs: a
// file that gives none prints none.
func accidental(c *compare.Change, reading string) string {
	if c.Kind != compare.Pitch || natural.Replace(c.Old) != natural.Replace(c.New) {
		return ""
	}
	return " " + strings.TrimRight(printed.Replace(reading), "0123456789-")
}

// printed writes accidentals with the signs of print.
var printed = strings.NewReplacer("##", "𝄪", "bb", "𝄫", "#", "♯", "b", "♭")

// natural takes the accidentals out of a pitch.
var natural = strings.NewReplacer("#", "", "b", "")

func markNote(n *engrave.NoteMarks, c *compare.Change, reading, label string) {
	if strings.HasPrefix(string(c.Kind), "digit-") || slices.Contains(ofDigits, c.Kind) {
		boxed := false
		for k := range n.Digits {
			if d := &n.Digits[k]; reading != "" && (len(n.Digits) == 1 || strings.Contains(reading, bare(d.Text))) {
				d.Boxed = true
				if !boxed {
					d.Label = joined(d.Label, label)
				}
				boxed = true
			}
		}
		if boxed {
			return
		}
	}
	if n.Ring == "" {
		n.Ring = "differs"
		if reading == "" {
			n.Ring = "lacks"
		}
	}
	n.Label = joined(n.Label, label)
}

// ofDigits are kinds that are about how a digit reads or looks.
var ofDigits = []compare.Kind{
	compare.Substitution, compare.Alternative, compare.Style, compare.Placement, compare.Responsibility,
}

// bare is a digit without what stands around it.
func bare(text string) string { return strings.Trim(text, "()[]") }

func joined(labels, label string) string {
	if labels == "" {
		return label
	}
	return labels + ", " + label
}

// signClass is the class in the engraver's drawing of signs that hang on no note.
var signClass = map[string]string{
	"clef": "clef", "key": "keySig", "metre": "meterSig", "barline": "barLine", "repeat": "barLine", "ending": "ending",
	"tempo": "tempo", "metronome": "tempo", "words": "dir", "rehearsal": "reh", "dynamics": "dynam", "hairpin": "hairpin",
	"pedal": "pedal", "octave-line": "octave", "hand-sign": "dir", "fermata": "fermata", "jump": "dir",
}
