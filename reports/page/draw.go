package page

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/engrave"
)

// systemWidth is where an excerpt breaks into systems, in CSS pixels.
const systemWidth = 860

// Draw engraves the passages that most want judging, at most limit of them. Why a passage cannot be drawn stands on
// the page and spoils nothing; an error means that the run is over.
func (m *Material) Draw(ctx context.Context, worker *engrave.Worker, w *pipeline.PieceRun, limit int) error {
	if len(m.Passages) == 0 {
		return nil
	}
	if limit <= 0 {
		m.Notation = "No notation was asked for: `--excerpts` of the run says how many passages are drawn."
		return nil
	}
	sheet, err := engrave.Copy([]byte(w.Document.Text), engrave.CopyOptions{Parts: pianoParts(w)})
	if err != nil {
		m.Notation = "The score could not be drawn: " + err.Error()
		return nil
	}
	m.asColumns(sheet)
	glyphs := &engrave.Glyphs{}
	m.Pictures = map[int]Picture{}
	notes := map[int]*state.Note{}
	for i := range m.Result.Notes {
		notes[m.Result.Notes[i].N] = &m.Result.Notes[i]
	}
	var failed []string
	for _, p := range toDraw(m.Passages, limit) {
		if p.Last >= sheet.Measures {
			continue
		}
		picture, err := worker.Excerpt(ctx, m.dressed(sheet, &p, notes), p.First, p.Last, engrave.ExcerptOptions{
			Title: "notation of passage " + strconv.Itoa(p.Number) + ", as suggested", Width: systemWidth,
			Glyphs: glyphs,
		})
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			failed = append(failed, fmt.Sprintf("Passage %d (%s) could not be drawn: %v.", p.Number, m.measureRange(p.First, p.Last), err))
			if errors.Is(err, engrave.ErrTooLong) { // the next would most likely take as long
				failed = append(failed, "No further passage of this piece was tried.")
				break
			}
			continue
		}
		m.Pictures[p.Number] = Picture{SVG: picture.SVG, Width: picture.Width, Height: picture.Height}
	}
	if len(failed) > 0 {
		m.Notation = strings.Join(failed, " ")
	}
	m.Glyphs = glyphs.SVG()
	return nil
}

// toDraw chooses the passages that are drawn: those that most want judging, a third of them redistributions where
// there are so many, since these can hardly be judged without the notes. Passages judged with an earlier one are not
// drawn.
func toDraw(passages []review.Passage, limit int) []review.Passage {
	var handed, others []review.Passage
	for _, p := range review.WorstFirst(passages) {
		switch {
		case p.ReturnOf > 0, p.Firm:
		case p.Redistribution >= 0:
			handed = append(handed, p)
		default:
			others = append(others, p)
		}
	}
	first := min(len(handed), max(limit/3, limit-len(others)))
	return append(handed[:first:first], others[:min(len(others), limit-first)]...)
}

func pianoParts(w *pipeline.PieceRun) []string {
	var out []string
	for i, played := range w.Playing.Parts() {
		if played {
			out = append(out, w.Score.Parts[i].ID)
		}
	}
	return out
}

// dressed is a sheet with the digits of a passage. What stands in the text keeps its place with the class "stands";
// what the suggestion adds has the class "added", so that a page can show the passage before and after from one
// picture. Notes of the passage all bear a digit, so that a touch of another finger can show what follows; elsewhere
// only what the edition prints.
func (m *Material) dressed(sheet *engrave.Sheet, p *review.Passage, notes map[int]*state.Note) *engrave.Sheet {
	out := sheet.Clone()
	taken := map[int]int{} // fingers of notes that change hands, and of those around them
	by := map[int]score.Hand{}
	if p.Redistribution >= 0 {
		r := &m.Result.Redistributions[p.Redistribution]
		for _, n := range r.Notes {
			taken[n.N], by[n.N] = n.Finger, r.To
			out.Notes[n.N].Ring = "handed"
		}
		for _, n := range r.Around {
			taken[n.N] = n.Finger
		}
	}
	for i := range out.Notes {
		n := notes[i]
		if n == nil {
			continue
		}
		standing := len(out.Notes[i].Digits)
		for k := range out.Notes[i].Digits {
			d := &out.Notes[i].Digits[k]
			d.Class = "stands"
			if d.Placement == "" && i < len(m.TextSides) && m.TextSides[i] != score.PlacementUnset {
				d.Placement = m.TextSides[i].String() // as in the score
			}
		}
		inside := slices.Contains(p.Notes, i)
		finger, class, hand := n.Finger, "added", n.Hand
		if to, handed := by[i]; handed {
			hand = to // its digit stands on the side of the hand that takes it
		}
		if f := taken[i]; f > 0 {
			finger, inside = f, true
		}
		if n.MeasureIndex < p.First || n.MeasureIndex > p.Last || finger == 0 || n.Tied || !inside && !n.Printed ||
			m.stands(i) {
			continue
		}
		if slices.Contains(p.Doubts, i) {
			class += " doubt"
		}
		if m.decided(p, i) && taken[i] == 0 {
			class += " decided"
		}
		if !n.Printed {
			class += " unprinted"
		}
		if standing > 0 || taken[i] > 0 {
			class += " changed"
		}
		where := side(hand)
		if _, handed := by[i]; !handed && i < len(m.Sides) && m.Sides[i] != score.PlacementUnset {
			where = m.Sides[i].String() // as in the score
		}
		out.Notes[i].Digits = append(out.Notes[i].Digits, engrave.DrawnDigit{
			Text: digitText(n, finger), Class: class, Placement: where, Boxed: true,
		})
	}
	return out
}

// stands says that the digit in the text is the finger of the note: nothing is to be added.
func (m *Material) stands(i int) bool { return i < len(m.More) && m.More[i].InText }

// decided says that the finger of a note is given, though not by the text, and that its passage does not ask about it.
func (m *Material) decided(p *review.Passage, i int) bool {
	return i < len(m.More) && m.More[i].Given && !m.stands(i) && !slices.Contains(p.Open, i)
}

func digitText(n *state.Note, finger int) string {
	text := []string{strconv.Itoa(finger)}
	if finger == n.Finger {
		for _, f := range n.Changes() {
			text = append(text, strconv.Itoa(f))
		}
	}
	return strings.Join(text, "–")
}

func side(h score.Hand) string {
	if h == score.Left {
		return "below"
	}
	return "above"
}

// shown makes of a picture one that can be shown twice: its drawing gets an id.
func (p Picture) shown(id string) string {
	return strings.Replace(p.SVG, `<svg class="definition-scale"`, `<svg id="`+id+`" class="definition-scale"`, 1)
}
