package decision

import (
	"encoding/json"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// withoutStars writes out the fingerprints of an entry's measures that are named by the table of its head. Only the keys of
// its lines are changed, never what stands in a reason.
func (h *fileHead) withoutStars(entry string) string {
	var root yaml.Node
	if yaml.Unmarshal([]byte(entry), &root) != nil || len(root.Content) != 1 || len(root.Content[0].Content) != 1 {
		return entry // it was read before
	}
	lines, keys := strings.Split(entry, "\n"), starKeys(root.Content[0].Content[0])
	slices.SortStableFunc(keys, func(a, b *yaml.Node) int { return b.Column - a.Column }) // from the end of a line
	for _, k := range keys {
		m := lineForm.FindStringSubmatch("m. " + strings.TrimPrefix(k.Value, "m. "))
		l, _, _, ok := readLine(m[0] + ": 0 C4")
		if whole, _ := json.Marshal(m[0]); !ok || strings.Contains(m[0], ": ") {
			l, _, _, ok = readLine(string(whole) + ": 0 C4")
		}
		at, known := h.table.at(&l)
		if !ok || !known {
			continue
		}
		name := starForm.ReplaceAllString(m[0], "") + " " + h.table.rows[at].music
		runes := []rune(lines[k.Line-1])
		before, rest := string(runes[:k.Column-1]), string(runes[k.Column-1:])
		long := len(k.Value)
		switch {
		case strings.HasPrefix(rest, `"`):
			d := json.NewDecoder(strings.NewReader(rest))
			var s string
			if d.Decode(&s) != nil {
				continue
			}
			long = int(d.InputOffset())
		case strings.HasPrefix(rest, "'"):
			long = len(strings.ReplaceAll(k.Value, "'", "''")) + 2
		}
		if long > len(rest) {
			continue
		}
		if rest[0] == '"' || rest[0] == '\'' {
			whole, _ := json.Marshal(name)
			name = string(whole)
		}
		lines[k.Line-1] = before + name + rest[long:]
	}
	return strings.Join(lines, "\n")
}

// starKeys are the keys of an entry that name a measure by the table: of its own, and of its notes.
func starKeys(n *yaml.Node) (out []*yaml.Node) {
	if n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if m := lineForm.FindStringSubmatch("m. " + strings.TrimPrefix(k.Value, "m. ")); m != nil && m[4] != "" {
			out = append(out, k)
		}
		if k.Value == "notes" && v.Kind == yaml.SequenceNode {
			for _, e := range v.Content {
				out = append(out, starKeys(e)...)
			}
		}
	}
	return out
}
