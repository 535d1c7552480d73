package passed

import (
	"bytes"
	"encoding/json"
	"fmt"

	"fingerproof/pipeline/3_records/decision"
)

// file is a state as it is written; maps marshal with sorted keys.
type file struct {
	Version         int                        `json:"version"`
	Piece           string                     `json:"piece"`
	By              string                     `json:"by,omitempty"`
	When            string                     `json:"when"`
	Anyway          string                     `json:"anyway,omitempty"`
	Press           bool                       `json:"press,omitempty"`
	Engine          string                     `json:"engine"`
	Rules           string                     `json:"rules,omitempty"`
	Weights         string                     `json:"weights"`
	Score           string                     `json:"score"`
	ScoreSum        string                     `json:"score_sum"`
	Witnesses       []string                   `json:"witnesses,omitempty"`
	Draft           string                     `json:"draft,omitempty"`
	Rows            bool                       `json:"rows,omitempty"`
	Settings        map[string]json.RawMessage `json:"settings"`
	Heads           map[string]string          `json:"heads,omitempty"`
	Policy          map[string]string          `json:"policy"`
	Decisions       []json.RawMessage          `json:"decisions"`
	Findings        []string                   `json:"findings"`
	Redistributions []string                   `json:"redistributions"`
	Rolls           []string                   `json:"rolls,omitempty"`
	Seconds         *[]string                  `json:"seconds,omitempty"`
	Measures        []measure                  `json:"measures"`
}

// measure holds the notes of one measure in written order. Its index is its
// place in the list of measures, so that an inserted one moves no other line.
type measure struct {
	Measure string   `json:"measure"`
	Notes   []string `json:"notes"`
}

// Encode writes a state: a key or a setting a line, a decision a line, a
// measure a line.
func Encode(s *State) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("{\n")
	line := func(key string, v any) error {
		data, err := marshal(v)
		if err != nil {
			return fmt.Errorf("writing the passed state of %s: %w", s.Piece, err)
		}
		fmt.Fprintf(&b, " %q: %s,\n", key, data)
		return nil
	}
	for _, f := range []struct {
		key  string
		v    any
		skip bool
	}{
		{"version", Version, false}, {"piece", s.Piece, false}, {"by", s.By, s.By == ""}, {"when", s.When, false},
		{"anyway", s.Anyway, s.Anyway == ""}, {"press", s.Press, !s.Press},
		{"engine", s.Engine, false}, {"rules", s.Rules, s.Rules == ""}, {"weights", s.Weights, false}, {"score", s.Score, false},
		{"score_sum", s.ScoreSum, false}, {"witnesses", s.Witnesses, len(s.Witnesses) == 0},
		{"draft", s.Draft, s.Draft == ""}, {"rows", s.Rows, !s.Rows},
	} {
		if f.skip {
			continue
		}
		if err := line(f.key, f.v); err != nil {
			return nil, err
		}
	}
	settings := map[string]json.RawMessage{}
	for key, value := range s.Settings {
		settings[key] = json.RawMessage(value)
	}
	for _, m := range []struct {
		key    string
		values any
	}{{"settings", settings}, {"heads", s.Heads}, {"policy", s.Policy}} {
		if m.key == "heads" && s.Heads == nil {
			continue
		}
		data, err := json.MarshalIndent(m.values, " ", "  ")
		if err != nil {
			return nil, fmt.Errorf("writing the passed state of %s: %w", s.Piece, err)
		}
		fmt.Fprintf(&b, " %q: %s,\n", m.key, data)
	}
	lists := []struct {
		key string
		n   int
		at  func(int) any
	}{
		{"decisions", len(s.Decisions), func(i int) any { return s.Decisions[i] }},
		{"findings", len(s.Findings), func(i int) any { return s.Findings[i] }},
		{"redistributions", len(s.Redistributions), func(i int) any { return s.Redistributions[i] }},
		{"rolls", len(s.Rolls), func(i int) any { return s.Rolls[i] }},
		{"seconds", len(s.Seconds), func(i int) any { return s.Seconds[i] }},
	}
	for _, l := range lists {
		if l.key == "rolls" && l.n == 0 || l.key == "seconds" && s.Seconds == nil {
			continue
		}
		if err := list(&b, l.key, l.n, l.at); err != nil {
			return nil, fmt.Errorf("writing the passed state of %s: %w", s.Piece, err)
		}
		b.WriteString(",\n")
	}
	var measures []measure
	for i := range s.Notes {
		n := &s.Notes[i]
		if k := len(measures); k == 0 || measures[k-1].Measure != n.Measure {
			measures = append(measures, measure{Measure: n.Measure})
		}
		m := &measures[len(measures)-1]
		m.Notes = append(m.Notes, n.String())
	}
	if err := list(&b, "measures", len(measures), func(i int) any { return measures[i] }); err != nil {
		return nil, fmt.Errorf("writing the passed state of %s: %w", s.Piece, err)
	}
	b.WriteString("\n}\n")
	return b.Bytes(), nil
}

func list(b *bytes.Buffer, key string, n int, at func(int) any) error {
	fmt.Fprintf(b, " %q: [", key)
	for i := range n {
		data, err := marshal(at(i))
		if err != nil {
			return err
		}
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString("\n  ")
		b.Write(data)
	}
	if n > 0 {
		b.WriteString("\n ")
	}
	b.WriteByte(']')
	return nil
}

func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimRight(b.Bytes(), "\n"), err
}

// Decode reads what Encode writes; name is the file's, for errors. Unknown
// keys, other versions and what no longer parses are errors, never skipped.
func Decode(name string, data []byte) (*State, error) {
	if bytes.HasPrefix(data, []byte("<<<<<<< ")) || bytes.Contains(data, []byte("\n<<<<<<< ")) {
		return nil, fmt.Errorf("reading the passed state %s: two branches that were merged have another one each\n"+
			"hint: `git checkout HEAD -- %s` takes this branch's; then `fingerproof check` names what the other has changed, "+
			"and the piece is reviewed and passed again", name, Folder)
	}
	var f file
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("reading the passed state %s: %w\n"+
			"hint: take the file back from git, or move it away and pass the piece again", name, err)
	}
	if d.More() {
		return nil, fmt.Errorf("reading the passed state %s: something follows its end\n"+
			"hint: take the file back from git, or move it away and pass the piece again", name)
	}
	if f.Version != Version {
		return nil, fmt.Errorf("reading the passed state %s: version %d, this program reads version %d\n"+
			"hint: use the program that wrote it, or move it away and pass the piece again", name, f.Version, Version)
	}
	s := &State{
		Piece: f.Piece, By: f.By, When: f.When, Anyway: f.Anyway, Press: f.Press, Engine: f.Engine,
		Rules: f.Rules, Weights: f.Weights, Score: f.Score, ScoreSum: f.ScoreSum, Witnesses: f.Witnesses, Draft: f.Draft,
		Settings: map[string]string{}, Heads: f.Heads, Policy: f.Policy,
		Snapshot: Snapshot{Findings: f.Findings, Redistributions: f.Redistributions, Rolls: f.Rolls, Rows: f.Rows},
	}
	if f.Seconds != nil {
		s.Seconds = append([]string{}, *f.Seconds...)
	}
	for key, value := range f.Settings {
		var b bytes.Buffer
		if err := json.Compact(&b, value); err != nil {
			return nil, fmt.Errorf("reading the settings of the passed state %s: %w", name, err)
		}
		s.Settings[key] = b.String()
	}
	for _, raw := range f.Decisions {
		var one decision.Decision
		d := json.NewDecoder(bytes.NewReader(raw))
		d.DisallowUnknownFields()
		if err := d.Decode(&one); err != nil {
			return nil, fmt.Errorf("reading the decisions of the passed state %s: %w", name, err)
		}
		s.Decisions = append(s.Decisions, one)
	}
	for _, m := range f.Measures {
		for _, text := range m.Notes {
			n, err := parseNote(m.Measure, text)
			if err != nil {
				return nil, fmt.Errorf("reading the passed state %s: %w", name, err)
			}
			s.Notes = append(s.Notes, n)
		}
	}
	return s, nil
}
