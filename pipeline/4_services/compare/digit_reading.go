package compare

import (
	"strconv"
	"strings"

	"fingerproof/corpus/score"
)

// role is what a digit is at its note.
type role uint8

const (
	mainDigit role = iota
	changedTo      // the later finger of a change on a held key
	offered        // an alternative
)

// digit is one digit (or one row of digits, or a sign that is none) as it
// stands at a note, whatever elements the file spends on it.
type digit struct {
	text           string // normal form: "3"; a row "1 2 3"; what is no finger as it stands
	role           role
	responsibility score.Responsibility
	agent          string
	style          score.Style
	placement      score.Placement
}

// reading is all digits of a note in order.
type reading []digit

// readingOf brings a note's indications into normal form: a change of finger
// is the same whether one element holds "4-3" or a second one is marked as its
// substitution.
func readingOf(n *score.Note) reading {
	var out reading
	for i := range n.Indications {
		ind := &n.Indications[i]
		if ind.Hidden {
			continue // it is not printed
		}
		d := digit{responsibility: ind.Responsibility, agent: ind.Agent, style: ind.Style, placement: ind.Placement}
		switch {
		case ind.Substitution:
			d.role = changedTo
		case ind.Alternate:
			d.role = offered
		}
		if len(ind.Fingers) == 0 {
			d.text = strings.TrimSpace(ind.Text)
			if d.text != "" {
				out = append(out, d)
			}
			continue
		}
		if len(ind.Fingers) > 1 && strings.ContainsAny(ind.Text, "-–—‿") {
			for k, f := range ind.Fingers {
				d.text = strconv.Itoa(f)
				if k > 0 {
					d.role = changedTo
				}
				out = append(out, d)
			}
			continue
		}
		words := make([]string, len(ind.Fingers))
		for k, f := range ind.Fingers {
			words[k] = strconv.Itoa(f)
		}
		d.text = strings.Join(words, " ")
		if len(words) > 1 && strings.Contains(ind.Text, "/") {
			// "1/2" offers two: as one digit and its alternative.
			d.text = words[0]
			out = append(out, d)
			for _, w := range words[1:] {
				d.text, d.role = w, offered
				out = append(out, d)
			}
			continue
		}
		if ind.Old {
			d.text = strings.TrimSpace(ind.Text) // + and 0 are signs of their own until a witness says what they mean
		}
		out = append(out, d)
	}
	return out
}

// String writes a reading as print does: "4–3", "2 (3)".
func (r reading) String() string {
	var b strings.Builder
	for i, d := range r {
		switch {
		case d.role == changedTo:
			b.WriteString("–" + d.text)
		case d.role == offered:
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString("(" + d.text + ")")
		default:
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(d.text)
		}
	}
	return b.String()
}

// styleWords describes a look: "italic", "plain".
func styleWords(s score.Style) string {
	var out []string
	if s.Italic {
		out = append(out, "italic")
	}
	if s.Bold {
		out = append(out, "bold")
	}
	if s.Size != "" {
		out = append(out, "size "+s.Size)
	}
	if s.Colour != "" {
		out = append(out, "colour "+s.Colour)
	}
	if s.Enclosure != score.NoEnclosure {
		out = append(out, "in "+string(s.Enclosure))
	}
	if len(out) == 0 {
		return "plain"
	}
	return strings.Join(out, ", ")
}

func whoWords(d digit) string {
	if d.agent == "" {
		return d.responsibility.String()
	}
	return d.responsibility.String() + " " + d.agent
}
