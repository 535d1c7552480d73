package decision

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"
)

// Head begins a file of decisions.
func Head(piece, by string) string { return headWith(piece, by, "") + "decisions:\n" }

func headWith(piece, by, more string) string {
	return fmt.Sprintf("# Decisions of %s. Add, mend and take out by hand as you like; a run never writes here.\n"+
		"piece: %s\nby: %s\n", by, quoted(piece), quoted(by)) + more
}

// headLines gives the lines of a file that speak of all its decisions, as they stand there.
func headLines(text string, root *yaml.Node) (out string) {
	lines := strings.SplitAfter(text, "\n")
	if root.Kind != yaml.MappingNode || root.Style&yaml.FlowStyle != 0 {
		return ""
	}
	for i := 0; i+1 < len(root.Content); i += 2 {
		key, end := root.Content[i], len(lines)
		if i+2 < len(root.Content) {
			end = root.Content[i+2].Line - 1
		}
		if key.Value == "when" || key.Value == "measures" {
			out += strings.TrimRight(strings.Join(lines[key.Line-1:min(end, len(lines))], ""), "\n") + "\n"
		}
	}
	return out
}

// Entry writes one decision as it stands in a file, indented below `decisions:`.
func Entry(d Decision) string {
	var b strings.Builder
	fmt.Fprintf(&b, "  - %s: %s\n", d.Verb, d.On)
	for _, f := range [][2]string{
		{"when", d.When}, {"until", d.Until}, {"print", d.Print}, {"for", d.For}, {"rule", d.Rule}, {"to", d.To.String()},
		{"direction", d.Direction}, {"reason", d.Reason}, {"why", d.Why},
	} {
		if f[1] != "" {
			value := quoted(f[1])
			if f[0] == "when" || f[0] == "until" {
				value = f[1]
			}
			fmt.Fprintf(&b, "    %s: %s\n", f[0], value)
		}
	}
	if d.Returns {
		b.WriteString("    returns: true\n")
	}
	if len(d.Except) > 0 {
		numbers := make([]string, len(d.Except))
		for i, number := range d.Except {
			one, _ := json.Marshal(number) // a number of a measure is text, as it is where a note names it
			numbers[i] = string(one)
		}
		fmt.Fprintf(&b, "    except: [%s]\n", strings.Join(numbers, ", "))
	}
	landmarks, lines, ok := inLines(d.Notes)
	if landmarks != "" {
		fmt.Fprintf(&b, "    landmarks: %s\n", landmarks)
	}
	b.WriteString("    notes:\n")
	for _, l := range lines {
		fmt.Fprintf(&b, "      - %s\n", l)
	}
	for i := range d.Notes {
		if !ok {
			fmt.Fprintf(&b, "      - {%s}\n", d.Notes[i].fields())
		}
	}
	return b.String()
}

// AsWritten is a decision as it stands in its file, which is not written anew, or as it would stand there.
func AsWritten(d Decision) string {
	if d.Written != "" {
		return d.Written
	}
	return Entry(d)
}

// keepWritten keeps with each decision of a file the lines in which it stands, remarks behind it included, where it has
// lines of its own.
func keepWritten(all []Decision, data []byte, list *yaml.Node) {
	lines := strings.SplitAfter(string(data), "\n")
	if list.Style&yaml.FlowStyle != 0 || len(all) != len(list.Content) {
		return
	}
	for i := range all {
		from, to := list.Content[i].Line-1, len(lines)
		if i+1 < len(all) {
			to = list.Content[i+1].Line - 1
		}
		if from < 0 || to > len(lines) || from >= to || !strings.HasPrefix(lines[from], "  - ") {
			continue
		}
		text := strings.TrimRight(strings.Join(lines[from:to], ""), "\n") + "\n"
		if i+1 == len(all) && strings.Contains(text, "\n...") { // the end of a document is no part of it
			continue
		}
		all[i].Written = text
	}
}

// fields names a note as an entry of its own, without the braces around it.
func (n *NoteRef) fields() string {
	parts := []string{"measure: " + quoted(n.Printed), "onset: " + n.Onset.String()}
	if n.Pitch != "" {
		parts = append(parts, "pitch: "+quoted(n.Pitch))
	}
	if len(n.Fingers) > 0 {
		parts = append(parts, "finger: "+Digits(n.Fingers))
	}
	parts = append(parts, fmt.Sprintf("midi: %d", n.Midi))
	if n.Stays {
		parts = append(parts, "stays: true")
	}
	for _, f := range []struct {
		key string
		v   int
		has bool
	}{
		{"index", n.Index, n.Index >= 0},
		{"grace", n.Grace, n.Grace > 0},
		{"ordinal", n.Ordinal, n.Ordinal > 0},
		{"staff", n.Around.Staff, n.Around.Staff > 0},
	} {
		if f.has {
			parts = append(parts, fmt.Sprintf("%s: %d", f.key, f.v))
		}
	}
	if n.Around.Music != "" {
		parts = append(parts, fmt.Sprintf("music: %q", n.Around.Music))
	}
	for _, f := range []struct {
		key  string
		keys []int
	}{{"with", n.Around.With}, {"before", n.Around.Before}, {"after", n.Around.After}} {
		if len(f.keys) > 0 {
			parts = append(parts, f.key+": "+strings.ReplaceAll(fmt.Sprint(f.keys), " ", ", "))
		}
	}
	if len(n.Landmarks) > 0 {
		var marks []string
		for _, l := range n.Landmarks {
			marks = append(marks, l.String())
		}
		parts = append(parts, fmt.Sprintf("landmarks: %q", strings.Join(marks, " ")))
	}
	return strings.Join(parts, ", ")
}

// Digits writes fingers as they stand in a file: 5, or 5-4 for a change.
func Digits(fingers []int) string {
	var parts []string
	for _, f := range fingers {
		parts = append(parts, fmt.Sprint(f))
	}
	return strings.Join(parts, "-")
}

// quoted writes a text so that YAML reads it back as that text, inside a list
// of fields too.
func quoted(s string) string {
	plain, err := yaml.Marshal(s)
	if err != nil || strings.ContainsAny(s, ",[]{}#&*!|>'\"%@`:?\n") || strings.Count(string(plain), "\n") > 1 {
		b, _ := json.Marshal(s) // a JSON string is one of YAML's
		return string(b)
	}
	return strings.TrimSpace(string(plain))
}

// Append adds decisions to the text of an editor's file, which may be nil
// where there is none yet: then it begins with the music of the score's
// measures, if they are given. What stands there is left as it is. The outcome is
// read once more before it is given: nothing that cannot be read is written.
// Of those added, redistributions come last: they replace what was decided on
// the same notes for the hand that had them, in whatever order it was said.
func Append(file string, data []byte, piece, by string, measures *Table, add []Decision) ([]byte, error) {
	var b bytes.Buffer
	head := &fileHead{}
	if len(bytes.TrimSpace(data)) == 0 {
		if measures != nil && len(add) > 0 {
			head = &fileHead{when: add[0].When, table: measures, check: headCheck(add[0].When, measures)}
			head.text = "when: " + head.when + "\n" + measures.String()
		}
		b.WriteString(headWith(piece, by, head.text) + "decisions:\n")
	} else {
		b.Write(data)
		if data[len(data)-1] != '\n' {
			b.WriteByte('\n')
		}
	}
	before := 0
	if len(bytes.TrimSpace(data)) > 0 {
		old, whose, was, err := parse(file, data)
		if err != nil {
			return nil, err
		}
		head = was
		if whose != piece {
			return nil, fmt.Errorf("%s speaks of piece %q, not of %q", file, whose, piece)
		}
		before = len(old)
	}
	for _, last := range []bool{false, true} {
		for _, d := range add {
			if (d.On == Redistribution && d.Verb == Take) == last {
				b.WriteString(head.fold(Entry(d)))
			}
		}
	}
	all, _, err := Parse(file, b.Bytes())
	if err != nil || len(all) != before+len(add) {
		return nil, fmt.Errorf("adding to %s: decisions can only be added where `decisions:` is the last key, "+
			"and its entries are indented by two spaces\n"+
			"hint: bring the file into that form; nothing was written", file)
	}
	return b.Bytes(), nil
}

// Sum is the SHA-256 of what the decisions say, whatever file and line they
// stand in; "" where there is none.
func Sum(d []Decision) string {
	if len(d) == 0 {
		return ""
	}
	data, err := json.Marshal(d)
	if err != nil {
		panic(err) // plain values
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
