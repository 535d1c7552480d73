package findings

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
)

// plantCount is what became of one rule: faults found and missed, and its other findings, by where they stand.
type plantCount struct {
	found, missed, before, own, follows, alarms int
}

func (c *plantCount) add(d *plantCount) {
	c.found += d.found
	c.missed += d.missed
	c.before += d.before
	c.own += d.own
	c.follows += d.follows
	c.alarms += d.alarms
}

// plantTally counts what became of the faults planted.
type plantTally struct {
	each  int // how many faults of each kind to try in a score
	rules map[string]*plantCount
	sides map[[2]string]int // what was planted, and the other rule that spoke at its notes
	out   io.Writer
	list  bool
	notes int
}

func newPlantTally() *plantTally {
	return &plantTally{each: 2, rules: map[string]*plantCount{}, sides: map[[2]string]int{}, out: io.Discard}
}

func (t *plantTally) of(rule string) *plantCount {
	if t.rules[rule] == nil {
		t.rules[rule] = &plantCount{}
	}
	return t.rules[rule]
}

func (t *plantTally) say(format string, args ...any) {
	if t.list {
		fmt.Fprintf(t.out, format, args...)
	}
}

// verdict is what lint says of one score, before faults were planted in it and after.
type verdict struct {
	name          string
	base, planted *lint.Inspection
	before, found []lint.Finding
}

// judge holds findings against what was planted. Each finding counts once: as the one that a planted fault wants, as
// one that the untouched score had, as another rule's at the notes of a fault, as what follows from a fault, or as a
// false alarm.
func (t *plantTally) judge(v verdict, g *planter) {
	known := map[string]int{}
	for _, f := range v.before {
		known[findingKey(f)]++
		t.of(f.Rule).before++
	}
	wanted := make([]bool, len(v.found))
	for _, want := range g.truths {
		rule := want.rule
		hit := slices.IndexFunc(v.found, want.isMet)
		if hit < 0 && want.or != "" {
			hit = slices.IndexFunc(v.found, func(f lint.Finding) bool {
				return f.Rule == want.or && slices.Contains(f.Notes, want.note)
			})
		}
		if hit < 0 {
			t.of(rule).missed++
			place := ""
			if want.note >= 0 {
				place = v.base.Score.Place(want.note)
			}
			t.say("missed  %s %s note %d measure %d %s\n", v.name, rule, want.note, want.measure, place)
			continue
		}
		wanted[hit] = true
		t.of(rule).found++
	}
	for i, f := range v.found {
		if wanted[i] {
			continue
		}
		if key := findingKey(f); known[key] > 0 {
			known[key]--
			continue
		}
		kind := "alarms"
		switch planted := g.plantedAt(f); {
		case planted != "":
			t.of(f.Rule).own++
			t.sides[[2]string{planted, f.Rule}]++
			kind = "own " + planted
		case workedOutOtherwise(v.base, v.planted, f.Notes):
			t.of(f.Rule).follows++
			kind = "follows"
		default:
			t.of(f.Rule).alarms++
		}
		t.say("%-7s %s %s measure %d notes %v: %s\n", kind, v.name, f.Rule, f.Measure, f.Notes, f.Message)
	}
}

// isMet says that a finding is the one that a planted fault wants.
func (s seeded) isMet(f lint.Finding) bool {
	switch {
	case f.Rule != s.rule || !strings.Contains(f.Message, s.says):
		return false
	case s.note >= 0:
		return slices.Contains(f.Notes, s.note)
	}
	return s.measure < 0 || f.Measure == s.measure
}

// workedOutOtherwise says that at notes of a finding, or at what their hand strikes or holds with them, the planted
// faults have changed what the hand does: a finding there is about the new fingering, and may well be true of it.
func workedOutOtherwise(base, p *lint.Inspection, notes []int) bool {
	return slices.ContainsFunc(notes, func(n int) bool {
		at := p.Score.At(n)
		for m := range p.Score.Notes {
			if sameWork(base, p, m) {
				continue
			}
			from := p.Score.At(m)
			until := from.Add(p.Score.Notes[m].Duration)
			if m == n || p.Playing.Player(m) == p.Playing.Player(n) && !at.Less(from) && at.Less(until) {
				return true
			}
		}
		return false
	})
}

// sameWork says that a note is the same and is taken in the same way in both.
func sameWork(a, b *lint.Inspection, n int) bool {
	return a.Finger[n] == b.Finger[n] && a.Playing.Hand(n) == b.Playing.Hand(n) && a.Reason[n] == b.Reason[n] &&
		a.Pedal[n] == b.Pedal[n] && a.Score.Notes[n].Midi == b.Score.Notes[n].Midi
}

func findingKey(f lint.Finding) string {
	if len(f.Notes) > 0 {
		return fmt.Sprint(f.Rule, f.Notes[0])
	}
	return fmt.Sprint(f.Rule, f.Measure, f.Onset)
}

// sum is the count over all rules.
func (t *plantTally) sum() *plantCount {
	sum := &plantCount{}
	for _, v := range t.rules {
		sum.add(v)
	}
	return sum
}

func (t *plantTally) print() {
	sum := t.sum()
	fmt.Fprintf(t.out, "%d faults planted in scores of %d notes\n", sum.found+sum.missed, t.notes)
	table := figures.NewTable("rule", "planted", "found", "missed", "share", "before", "per 1000", "own", "follows", "alarms", "per 1000")
	row := func(name string, v *plantCount) {
		share := "-"
		if v.found+v.missed > 0 {
			share = fmt.Sprintf("%.3f", figures.Quotient(v.found, v.found+v.missed))
		}
		often := func(count int) string { return fmt.Sprintf("%.3f", 1000*float64(count)/float64(max(t.notes, 1))) }
		table.Row(name, v.found+v.missed, v.found, v.missed, share, v.before, often(v.before), v.own, v.follows, v.alarms, often(v.alarms))
	}
	for _, name := range slices.Sorted(maps.Keys(t.rules)) {
		row(name, t.rules[name])
	}
	row("all", sum)
	table.Print(t.out)
	fmt.Fprintln(t.out, "\nat the notes of a planted fault another rule spoke as well:")
	inOrder := func(a, b [2]string) int { return slices.Compare(a[:], b[:]) }
	for _, pair := range slices.SortedFunc(maps.Keys(t.sides), inOrder) {
		fmt.Fprintf(t.out, "%-30s %-30s %4d\n", pair[0], pair[1], t.sides[pair])
	}
	for _, r := range all.Rules() {
		if v := t.rules[r.Name]; v == nil || v.found+v.missed == 0 {
			fmt.Fprintf(t.out, "nothing planted for %s\n", r.Name)
		}
	}
}
