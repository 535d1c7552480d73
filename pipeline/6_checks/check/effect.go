package check

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"fingerproof/corpus/wording"
)

// Effect is what another policy would do to the repertoire.
type Effect struct {
	Pieces   int             `json:"pieces"`
	Touched  int             `json:"touched"` // pieces with a change
	Failed   int             `json:"failed"`
	Notes    int             `json:"notes"`
	Changes  int             `json:"changes"`
	Printed  Digits          `json:"printed"`           // digits in print as it is, and as it would be
	Decided  int             `json:"decided,omitempty"` // digits that editors decided
	Kinds    []Count         `json:"kinds"`             // by kind, most first
	Keys     []Count         `json:"keys"`              // by what causes them, most first
	ByPiece  []Count         `json:"by_piece"`          // most first
	Passages []PassageEffect `json:"passages"`          // most affected first
	Findings []FindingEffect `json:"findings"`          // those that come up and those that are gone, by piece
	Details  []Piece         `json:"details"`
}

// Count is how many changes there are of something.
type Count struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
	Of    int    `json:"of,omitempty"` // notes of a piece
}

// PassageEffect is a passage that changes: measures of one hand with at most
// one unchanged measure between them, and not more than four in all, as on
// the pages: where everything changes, the worst places still stand out.
type PassageEffect struct {
	Piece string   `json:"piece"`
	Hand  string   `json:"hand"`
	From  string   `json:"from"`
	To    string   `json:"to"`
	Count int      `json:"count"`
	Keys  []string `json:"keys"`
	Notes []int    `json:"-"` // of the score as it stands
	Says  []string `json:"-"` // of each of Notes what changes: "D3, beat 2: finger 4 → 4-5"
	First int      `json:"-"` // measures, by index
	Last  int      `json:"-"`
}

// FindingEffect is a finding that would come up, or would be gone.
type FindingEffect struct {
	Piece string `json:"piece"`
	Says  string `json:"says"` // severity, rule, place and what is found
	Gone  bool   `json:"gone,omitempty"`
}

// findingsOf lists the findings of a piece that come up or are gone.
func findingsOf(p *Piece) (out []FindingEffect) {
	for i := range p.Changes {
		c := &p.Changes[i]
		if c.Kind != FindingNew && c.Kind != FindingGone {
			continue
		}
		_, says, _ := strings.Cut(cmp.Or(c.New, c.Old), " ") // behind what names it from run to run
		out = append(out, FindingEffect{p.ID, says, c.Kind == FindingGone})
	}
	return out
}

// longestPassage is how many measures a passage has at most.
const longestPassage = 4

// EffectOf sums up pieces that were compared.
func EffectOf(pieces []Piece) *Effect {
	e := &Effect{Pieces: len(pieces), Details: pieces}
	kinds, keys := map[string]int{}, map[string]int{}
	for i := range pieces {
		p := &pieces[i]
		if p.Problem != "" {
			e.Failed++
			continue
		}
		e.Notes += p.Notes
		e.Changes += len(p.Changes)
		e.Printed.Before += p.Printed.Before
		e.Printed.After += p.Printed.After
		e.Decided += p.Decided
		if len(p.Changes) > 0 {
			e.Touched++
			e.ByPiece = append(e.ByPiece, Count{p.ID, len(p.Changes), p.Notes})
		}
		for k := range p.Changes {
			kinds[p.Changes[k].kindInEffect()]++
			keys[p.Changes[k].Cause]++
		}
		e.Passages = append(e.Passages, passages(p)...)
		e.Findings = append(e.Findings, findingsOf(p)...)
	}
	e.Kinds, e.Keys = counts(kinds), counts(keys)
	slices.SortStableFunc(e.ByPiece, func(a, b Count) int { return cmp.Compare(b.Count, a.Count) })
	slices.SortStableFunc(e.Passages, func(a, b PassageEffect) int { return cmp.Compare(b.Count, a.Count) })
	return e
}

// kindInEffect is the kind of a change as its sums name it: digits that come into print are told from those that leave it.
func (c *Change) kindInEffect() string {
	switch {
	case c.Kind == Sign:
		return c.Of
	case c.Kind != Printed:
		return string(c.Kind)
	case c.New == yes(true):
		return "printed: comes into print"
	}
	return "printed: leaves print"
}

// Sentence says how many notes have a digit in print before and after: "notes with a digit in print: 3335 now, 2357 then (978 fewer)".
func (d Digits) Sentence() string {
	out := fmt.Sprintf("notes with a digit in print: %d now, %d then", d.Before, d.After)
	switch {
	case d.After < d.Before:
		return out + fmt.Sprintf(" (%d fewer)", d.Before-d.After)
	case d.After > d.Before:
		return out + fmt.Sprintf(" (%d more)", d.After-d.Before)
	}
	return out
}

func counts(m map[string]int) []Count {
	out := make([]Count, 0, len(m))
	for name, n := range m {
		out = append(out, Count{Name: name, Count: n})
	}
	slices.SortFunc(out,
		func(a, b Count) int { return cmp.Or(cmp.Compare(b.Count, a.Count), cmp.Compare(a.Name, b.Name)) })
	return out
}

func passages(p *Piece) []PassageEffect {
	var out []PassageEffect
	open := map[string]int{} // by hand, index in out
	for i := range p.Changes {
		c := &p.Changes[i]
		if c.N < 0 { // findings and notes that are gone stand at no place of this score
			continue
		}
		k, ok := open[c.Hand]
		if !ok || c.Index > out[k].Last+2 || c.Index >= out[k].First+longestPassage {
			k = len(out)
			open[c.Hand] = k
			out = append(out, PassageEffect{Piece: p.ID, Hand: c.Hand, From: c.Measure, First: c.Index})
		}
		q := &out[k]
		q.To, q.Last = c.Measure, c.Index
		q.Notes, q.Says = append(q.Notes, c.N), append(q.Says, c.arrow())
		q.Count++
		if !slices.Contains(q.Keys, c.Cause) {
			q.Keys = append(q.Keys, c.Cause)
		}
	}
	return out
}

// arrow says a change of a note briefly, below a picture of its passage: "m. 118, beat 2, D3: finger 4 → 4-5".
func (c *Change) arrow() string {
	was, is := c.Values()
	switch c.Kind {
	case Whose:
		was, is = whoseWords(was), whoseWords(is)
	case Printed:
		return fmt.Sprintf("m. %s, beat %s, %s: %s → %s", c.Measure, c.Beat, c.Pitch, was, is)
	case Sign:
		return c.Sentence()
	}
	return fmt.Sprintf("m. %s, beat %s, %s: %s %s → %s", c.Measure, c.Beat, c.Pitch, c.Kind, orNone(was), orNone(is))
}

const passagesTold = 20

// WriteText tells the effect: totals, by kind, key and piece, then the passages
// most affected.
func (e *Effect) WriteText(out io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s in %d of %s (%s)", wording.Count(e.Changes, "change"), e.Touched,
		wording.Count(e.Pieces, "piece"), wording.Count(e.Notes, "note"))
	if e.Failed > 0 {
		fmt.Fprintf(&b, "; %s could not be worked out", wording.Count(e.Failed, "piece"))
	}
	fmt.Fprintf(&b, "\n%s\n", e.Printed.Sentence())
	table := func(title string, rows []Count) {
		if len(rows) == 0 {
			return
		}
		fmt.Fprintf(&b, "\n%s\n", title)
		for _, r := range rows {
			fmt.Fprintf(&b, "  %6d  %s", r.Count, r.Name)
			if r.Of > 0 {
				fmt.Fprintf(&b, " (%d notes)", r.Of)
			}
			b.WriteString("\n")
		}
	}
	table("by kind", e.Kinds)
	table("by key", e.Keys)
	table("by piece", e.ByPiece)
	if len(e.Passages) > 0 {
		b.WriteString("\nmost affected passages\n")
	}
	for _, q := range e.Passages[:min(len(e.Passages), passagesTold)] {
		place := "m. " + q.From
		if q.To != q.From {
			place = "mm. " + q.From + "–" + q.To
		}
		hand := "right hand"
		if q.Hand == "L" {
			hand = "left hand"
		}
		fmt.Fprintf(&b, "  %6d  %s, %s, %s (%s)\n", q.Count, q.Piece, place, hand, strings.Join(q.Keys, "; "))
	}
	if n := len(e.Passages) - passagesTold; n > 0 {
		fmt.Fprintf(&b, "  and %d more; --report json lists all\n", n)
	}
	e.writeFindings(&b)
	_, err := io.WriteString(out, b.String())
	return err
}

// writeFindings lists the findings that come up, and behind them those that are gone.
func (e *Effect) writeFindings(b *strings.Builder) {
	for _, gone := range []bool{false, true} {
		title, n := "findings that come up", 0
		if gone {
			title = "findings that are gone"
		}
		for _, f := range e.Findings {
			if f.Gone != gone {
				continue
			}
			if n++; n == 1 {
				fmt.Fprintf(b, "\n%s\n", title)
			}
			if n <= passagesTold {
				fmt.Fprintf(b, "  %s: %s\n", f.Piece, f.Says)
			}
		}
		if n > passagesTold {
			fmt.Fprintf(b, "  and %d more; --report json lists all\n", n-passagesTold)
		}
	}
}
