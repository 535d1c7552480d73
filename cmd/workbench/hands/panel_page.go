package hands

import (
	"context"
	"fmt"
	"html"
	"regexp"
	"strings"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/14_redistribute"
	"fingerproof/reports/engrave"
)

const panelReadme = `# Which hand takes it?

Each case is a page of piano notation with a proposal: the **ringed** notes are played by the hand named, whatever staff
they stand on. All digits are fingers as they are then, those of the right hand above the notes, those of the left
below; **boxed** digits are those of the ringed notes. Digits and hand signs of the source were taken out. Two
measures stand around the place.

Judge as a pianist who has to play the passage. For each case say one of

- "would": you would make it so,
- "could": you could: a matter of taste, hand or tempo; nothing speaks against it,
- "would not": it is awkward, breaks a line or a voice, is no help, or the other hand cannot do it,

with one sentence why. Fingers alone are not the question: a hand that is right with a finger you would change is still
right. Some cases come from printed editions, most do not; nothing tells which, and you are not asked to guess.

Write a file verdicts-1.json (the other reader verdicts-2.json) in this folder, one entry a case:

    [{"case": "case-001", "verdict": "would", "why": "The left hand lies on these keys already."},
     {"case": "case-002", "verdict": "would not", "why": "It breaks the tune in its middle."}]

## Cases

`

// panelStyle draws stems and lines, the ring and the box.
const panelStyle = `body{background:white;color:black;font-family:serif;margin:12px}
.engraving{fill:currentColor;max-width:none}
.engraving path,.engraving ellipse,.engraving polygon,.engraving polyline,.engraving rect{stroke:currentColor}
.engraving .tempo,.engraving .ending{font-weight:bold}.engraving .dir,.engraving .dynam{font-style:italic}
.engraving .ring{fill:none;stroke:#c00;stroke-width:40}.engraving .box{fill:none;stroke-width:20}`

// Measures drawn on either side of a case, and how many are drawn at most.
const (
	panelAround = 2
	panelMost   = 9
)

// panelPage draws a case: its entry in the list, and the page.
func (d *drawing) panelPage(ctx context.Context, name string, c *panelCase) (entry, page string, err error) {
	s := c.w.Score
	part := s.Notes[c.notes[0]].Part
	sheet, err := engrave.Copy([]byte(withoutSigns(c.w.Document.Text)), engrave.CopyOptions{Parts: []string{s.Parts[part].ID}})
	if err != nil {
		return "", "", err
	}
	first, last := s.Notes[c.notes[0]].Measure, s.Notes[c.notes[0]].Measure
	ringed := map[int]bool{}
	for _, n := range c.notes {
		ringed[n] = true
		first, last = min(first, s.Notes[n].Measure), max(last, s.Notes[n].Measure)
	}
	from, to := max(first-panelAround, 0), min(last+panelAround, len(s.Measures)-1, first+panelMost)
	var keys []string
	for n := range sheet.Notes {
		sheet.Notes[n].Digits = nil
		if ringed[n] {
			sheet.Notes[n].Ring = "ring"
		}
		f, ok := c.fingers[n]
		if m := s.Notes[n].Measure; !ok || m < from || m > to || s.Notes[n].Part != part {
			continue
		}
		side := "above"
		if hand := c.w.Playing.Hand(n); hand == score.Left && !ringed[n] || ringed[n] && c.to == score.Left {
			side = "below"
		}
		sheet.Notes[n].Digits = []engrave.DrawnDigit{{Text: fmt.Sprint(int(f)), Placement: side, Boxed: ringed[n]}}
		if ringed[n] {
			keys = append(keys, s.Notes[n].Pitch.String())
		}
	}
	picture, err := d.worker.Excerpt(ctx, sheet, from, to, engrave.ExcerptOptions{Width: 1500})
	if err != nil {
		return "", "", err
	}
	what := fmt.Sprintf("m. %s: the %s hand takes %s", s.Measures[first].Number, handName(c.to), strings.Join(keys, " "))
	why := reasonOf(c)
	entry = fmt.Sprintf("- **%s**: %s (%s)\n", name, what, why)
	page = `<!DOCTYPE html><html><head><meta charset="utf-8"><style>` + panelStyle + `</style></head><body><p>` +
		html.EscapeString(name+", "+what+" ("+why+")") + `</p>` + picture.SVG + `</body></html>`
	return entry, page, nil
}

// kindWords words what a printed sign is there for as offers are worded, so that readers do not see which is which.
var kindWords = map[string]string{
	placeSweep:    "evenness: the sweep of the %[1]s hand goes on under the %[2]s hand",
	placeCrossing: "crossing: a voice of its own lies beyond the other keys of the %[1]s hand",
	placeOwnSide:  "clarity: the %[1]s hand has two voices while the %[2]s hand is free and makes them clear",
	placeTurns:    "turns: the %[1]s hand leaps there and back; by turns the %[2]s hand takes it",
	placeOther:    "line: the %[2]s hand lies nearer to it",
}

// kindOf gives the kind of sign that stands for what is offered for a reason.
var kindOf = map[string]string{
	redistribute.Evenness: placeSweep, redistribute.Crossing: placeCrossing, redistribute.Clarity: placeOwnSide,
	redistribute.Turns: placeTurns,
}

// reasonOf says in a few words what a case is for.
func reasonOf(c *panelCase) string {
	from := score.Left
	if c.to == score.Left {
		from = score.Right
	}
	if c.kind == "missed" {
		return fmt.Sprintf(kindWords[c.reason], handName(from), handName(c.to))
	}
	if kind, ok := kindOf[c.reason]; ok {
		return fmt.Sprintf(kindWords[kind], handName(from), handName(c.to))
	}
	text := c.words
	if _, after, ok := strings.Cut(text, ": "); ok {
		text = after
	}
	if k := strings.LastIndex(text, "; "); k >= 0 {
		text, _, _ = strings.Cut(text, ". Effort")
		text = strings.TrimSpace(takes.ReplaceAllString(text, ""))
	}
	return c.reason + ": " + text
}

// takes is the end of the words of an offer: who takes how many notes.
var takes = regexp.MustCompile(`[;,]? (?:by turns )?(?:or )?(?:it|the (?:left|right) hand)?(?: is free and)? ?takes,?(?: over the other,)? \d+ notes?$`)

func handName(h score.Hand) string {
	if h == score.Left {
		return "left"
	}
	return "right"
}

var wordsElement = regexp.MustCompile(`<words[^>]*>([^<]*)</words>`)

// withoutSigns empties the hand signs of a score's text.
func withoutSigns(text string) string {
	return wordsElement.ReplaceAllStringFunc(text, func(element string) string {
		if musicxml.HandSign(strings.TrimSpace(wordsElement.FindStringSubmatch(element)[1])) != score.NoHand {
			return "<words> </words>"
		}
		return element
	})
}
