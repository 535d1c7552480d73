package places

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"slices"
	"sync"
)

// Model is a sum of trees over what is known of a note.
type Model struct {
	Provenance  string   `json:"provenance"`
	Attribution []string `json:"attribution"`
	// Features are the names of what is known, in the order of the columns that nodes ask for.
	Features []string `json:"features"`
	// Begin is the log-odds of a digit before anything is known, in thousandths of a nat, as all values.
	Begin int    `json:"begin"`
	Trees []Tree `json:"trees"`
}

// Tree is a tree of questions; the first node is its root.
type Tree []Node

// Node is a question: a value up to Cut in a column goes on at node Low, others at High. A leaf has Column −1. Value
// is the log-odds of all notes that come here, and of a leaf what it adds to the sum.
type Node struct{ Column, Cut, Low, High, Value int }

// MarshalJSON writes a node as a row of its five numbers.
func (n Node) MarshalJSON() ([]byte, error) {
	return json.Marshal([5]int{n.Column, n.Cut, n.Low, n.High, n.Value})
}

// UnmarshalJSON reads a row of five numbers.
func (n *Node) UnmarshalJSON(data []byte) error {
	var row [5]int
	if err := json.Unmarshal(data, &row); err != nil {
		return err
	}
	*n = Node{row[0], row[1], row[2], row[3], row[4]}
	return nil
}

//go:embed model.json
var shippedModel []byte

var shipped = sync.OnceValue(func() *Model {
	m, err := ReadModel(shippedModel)
	if err != nil {
		panic(err) // the model is part of the program, and a test reads it
	}
	return m
})

// Shipped is the model fitted to all of the fingered material.
func Shipped() *Model { return shipped() }

// ReadModel reads a model and checks that it asks for what is known here, and that every question leads on.
func ReadModel(data []byte) (*Model, error) {
	m := &Model{}
	if err := json.Unmarshal(data, m); err != nil {
		return nil, fmt.Errorf("reading the model of printed places: %w", err)
	}
	if !slices.Equal(m.Features, Names()) {
		return nil, fmt.Errorf("reading the model of printed places: it was fitted to other features\n"+
			"hint: fit it anew: workbench places --fit (its features: %q)", m.Features)
	}
	for t, tree := range m.Trees {
		if len(tree) == 0 {
			return nil, fmt.Errorf("reading the model of printed places: tree %d is empty", t)
		}
		for i, n := range tree {
			leads := n.Low > i && n.Low < len(tree) && n.High > i && n.High < len(tree)
			if n.Column < -1 || n.Column >= numFeatures || n.Column >= 0 && !leads {
				return nil, fmt.Errorf("reading the model of printed places: tree %d, node %d leads nowhere", t, i)
			}
		}
	}
	return m, nil
}

// Encode spells a model, a tree a line.
func (m *Model) Encode() ([]byte, error) {
	head := *m
	head.Trees = []Tree{}
	out, err := json.MarshalIndent(head, "", " ")
	if err != nil {
		return nil, err
	}
	out = out[:len(out)-len("]\n}")]
	for i, tree := range m.Trees {
		row, err := json.Marshal(tree)
		if err != nil {
			return nil, err
		}
		if i > 0 {
			out = append(out, ',')
		}
		out = append(append(out, "\n  "...), row...)
	}
	return append(out, "\n ]\n}\n"...), nil
}

// value sums up the leaves that a note comes to. Where by is given, it adds to it, for each column, by how much its
// answers raised the sum.
func (m *Model) value(f *[numFeatures]int, by *[numFeatures]int) int {
	out := m.Begin
	for _, tree := range m.Trees {
		n := &tree[0]
		for n.Column >= 0 {
			next := &tree[n.High]
			if f[n.Column] <= n.Cut {
				next = &tree[n.Low]
			}
			if by != nil {
				by[n.Column] += next.Value - n.Value
			}
			n = next
		}
		out += n.Value
	}
	return out
}

// Line is the line of a hand with what is worked out of it once.
type Line struct {
	model   *Model
	line    *line
	density int
}

// Line looks at the events of a hand in an edition that prints a digit at so many notes in a hundred.
func (m *Model) Line(events []Event, density int) *Line { return &Line{m, newLine(events), density} }

// Wanted gives for each key of each event how much it wants a digit: the log-odds, in thousandths of a nat.
func (l *Line) Wanted() [][]int {
	out := make([][]int, len(l.line.events))
	var f [numFeatures]int
	for e := range out {
		out[e] = make([]int, len(l.line.events[e].Keys))
		for k := range out[e] {
			l.line.features(e, k, l.density, &f)
			out[e][k] = l.model.value(&f, nil)
		}
	}
	return out
}

// Features gives a row of what is known for each key of each event, in their order: what a model is fitted to.
func Features(events []Event, density int) [][]int {
	l := newLine(events)
	var out [][]int
	var f [numFeatures]int
	for e := range events {
		for k := range events[e].Keys {
			l.features(e, k, density, &f)
			out = append(out, slices.Clone(f[:]))
		}
	}
	return out
}
