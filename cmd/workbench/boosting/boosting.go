// Package boosting fits a sum of small trees that says how likely a yes is, from rows of whole numbers: gradient boosting
// of the logistic loss, with each tree grown leaf by leaf.
//
// The method is that of J. H. Friedman, "Greedy function approximation: a gradient boosting machine", Annals of
// Statistics 29 (2001): Newton steps in the leaves, shrinkage, cuts between the values that occur. The same rows give
// the same trees: everything is added up in one order.
package boosting

import (
	"math"
	"slices"
)

// Settings of a fit.
type Settings struct {
	Trees, Leaves int
	LeastRows     int     // in a leaf
	Rate          float64 // what share of a step is made
	Ridge         float64 // pulls the value of a leaf to 0
}

// Node of a tree: rows with a value up to Cut in a column go to Low, others to High; a leaf has Column −1. Value is
// what the fit says of all rows that come here: of a leaf its own, of a node that of its rows together.
type Node struct {
	Column, Cut, Low, High int
	Value                  float64
}

// Fit gives the log-odds to begin with, and the trees; the value of a row is the sum of its leaves.
func Fit(rows [][]int, yes []bool, s Settings) (float64, [][]Node) {
	f := newFit(rows, yes, s)
	var trees [][]Node
	for range s.Trees {
		trees = append(trees, f.tree())
	}
	return f.begin, trees
}

// most is how many bins a column has at most.
const most = 250

type fit struct {
	Settings
	yes     []bool
	columns [][]uint8 // the bin of each row
	cuts    [][]int   // by column and bin, the highest value in it
	begin   float64
	value   []float64 // of each row so far
	slope   []float64 // of the loss, and its curvature
	curve   []float64
}

func newFit(rows [][]int, yes []bool, s Settings) *fit {
	f := &fit{Settings: s, yes: yes, slope: make([]float64, len(rows)), curve: make([]float64, len(rows))}
	for c := range rows[0] {
		values := make([]int, len(rows))
		for i := range rows {
			values[i] = rows[i][c]
		}
		cuts := cutsOf(values)
		column := make([]uint8, len(rows))
		for i, v := range values {
			at, _ := slices.BinarySearch(cuts, v)
			column[i] = uint8(at)
		}
		f.columns, f.cuts = append(f.columns, column), append(f.cuts, cuts)
	}
	n := 0
	for _, y := range yes {
		if y {
			n++
		}
	}
	f.begin = math.Log(float64(max(n, 1)) / float64(max(len(yes)-n, 1)))
	f.value = slices.Repeat([]float64{f.begin}, len(rows))
	return f
}

// cutsOf gives the highest value of each bin: every value its own where there are few, else about as many rows in each.
func cutsOf(values []int) []int {
	sorted := slices.Sorted(slices.Values(values))
	distinct := slices.Compact(slices.Clone(sorted))
	if len(distinct) <= most {
		return distinct
	}
	var out []int
	for b := 1; b <= most; b++ {
		out = append(out, sorted[b*len(sorted)/most-1])
	}
	return slices.Compact(out)
}

// sums of the rows in one bin of one column.
type sums struct {
	slope, curve float64
	rows         int32
}

// leaf is a node that may still be split.
type leaf struct {
	node int
	rows []int32
	bins [][]sums // by column
	all  sums
	gain float64 // of the best split
	at   split
}

type split struct{ column, bin int }

func (f *fit) tree() []Node {
	rows := make([]int32, len(f.yes))
	for i := range rows {
		rows[i] = int32(i)
		p := 1 / (1 + math.Exp(-f.value[i]))
		f.slope[i], f.curve[i] = p, p*(1-p)
		if f.yes[i] {
			f.slope[i] = p - 1
		}
	}
	root := &leaf{rows: rows, bins: f.sum(rows)}
	f.look(root)
	nodes := []Node{{Column: -1, Value: f.worth(root.all)}}
	leaves := []*leaf{root}
	for len(leaves) < f.Leaves {
		best := 0
		for i, l := range leaves {
			if l.gain > leaves[best].gain {
				best = i
			}
		}
		if leaves[best].gain <= 0 {
			break
		}
		low, high := f.split(leaves[best])
		n := &nodes[leaves[best].node]
		n.Column, n.Cut = leaves[best].at.column, f.cuts[leaves[best].at.column][leaves[best].at.bin]
		n.Low, n.High = len(nodes), len(nodes)+1
		low.node, high.node = n.Low, n.High
		nodes = append(nodes, Node{Column: -1, Value: f.worth(low.all)}, Node{Column: -1, Value: f.worth(high.all)})
		leaves[best] = low
		leaves = append(leaves, high)
	}
	for _, l := range leaves {
		for _, i := range l.rows {
			f.value[i] += nodes[l.node].Value
		}
	}
	return nodes
}

// worth is the value of a leaf: a Newton step, shrunk.
func (f *fit) worth(s sums) float64 { return -f.Rate * s.slope / (s.curve + f.Ridge) }

// sum adds rows up by column and bin.
func (f *fit) sum(rows []int32) [][]sums {
	out := make([][]sums, len(f.columns))
	for c, column := range f.columns {
		bins := make([]sums, len(f.cuts[c]))
		for _, i := range rows {
			b := &bins[column[i]]
			b.slope += f.slope[i]
			b.curve += f.curve[i]
			b.rows++
		}
		out[c] = bins
	}
	return out
}

// look finds the best split of a leaf.
func (f *fit) look(l *leaf) {
	l.all, l.gain = sums{}, 0
	for _, b := range l.bins[0] {
		l.all.slope, l.all.curve, l.all.rows = l.all.slope+b.slope, l.all.curve+b.curve, l.all.rows+b.rows
	}
	score := func(s sums) float64 { return s.slope * s.slope / (s.curve + f.Ridge) }
	whole := score(l.all)
	for c, bins := range l.bins {
		var low sums
		for b := range bins[:len(bins)-1] {
			low.slope, low.curve, low.rows = low.slope+bins[b].slope, low.curve+bins[b].curve, low.rows+bins[b].rows
			high := sums{l.all.slope - low.slope, l.all.curve - low.curve, l.all.rows - low.rows}
			if int(low.rows) < f.LeastRows || int(high.rows) < f.LeastRows {
				continue
			}
			if g := score(low) + score(high) - whole; g > l.gain+1e-9 {
				l.gain, l.at = g, split{c, b}
			}
		}
	}
}

// split gives the two leaves that a leaf falls into.
func (f *fit) split(l *leaf) (low, high *leaf) {
	low, high = &leaf{}, &leaf{}
	column := f.columns[l.at.column]
	for _, i := range l.rows {
		if int(column[i]) <= l.at.bin {
			low.rows = append(low.rows, i)
		} else {
			high.rows = append(high.rows, i)
		}
	}
	small, big := low, high
	if len(low.rows) > len(high.rows) {
		small, big = high, low
	}
	small.bins, big.bins = f.sum(small.rows), l.bins
	for c := range big.bins {
		for b := range big.bins[c] {
			x, y := &big.bins[c][b], &small.bins[c][b]
			x.slope, x.curve, x.rows = x.slope-y.slope, x.curve-y.curve, x.rows-y.rows
		}
	}
	f.look(low)
	f.look(high)
	return low, high
}
