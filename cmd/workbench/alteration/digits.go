package alteration

import (
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"
)

func oneDigit(e *etree.Element, n *score.Note) bool {
	return len(n.Indications) == 1 && n.Indications[0].Finger() > 0 && len(FingeringsOf(e)) == 1 && !n.Indications[0].Old
}

func (d *Draft) finger() string { return strconv.Itoa(1 + d.Rng.IntN(5)) }

func addDigit(d *Draft) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool { return n.Struck() && len(n.Indications) == 0 })
	if e == nil {
		return false
	}
	TechnicalOf(e).CreateElement("fingering").SetText(d.finger())
	d.plant(compare.DigitAdded, e)
	return true
}

func dropDigit(d *Draft) bool {
	e := d.pick(oneDigit)
	if e == nil {
		return false
	}
	f := FingeringsOf(e)[0]
	f.Parent().RemoveChild(f)
	d.plant(compare.DigitMissing, e)
	return true
}

// ChangeDigit makes a digit another.
func ChangeDigit(d *Draft) bool {
	e := d.pick(oneDigit)
	if e == nil {
		return false
	}
	f := FingeringsOf(e)[0]
	old := d.old.Notes[d.OldN[e]].Indications[0].Finger()
	f.SetText(strconv.Itoa(1 + (old+d.Rng.IntN(4))%5))
	d.plant(compare.DigitChanged, e)
	return true
}

// moveDigit hangs a digit on another note of its chord or the next of its voice.
func moveDigit(d *Draft) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		next := nextElement(e)
		if next == nil || next.Tag != "note" || next.SelectElement("pitch") == nil {
			return false
		}
		if !oneDigit(e, n) || n.Grace > 0 || n.TiedTo >= 0 {
			return false
		}
		i, ok := d.OldN[next]
		if !ok {
			return false
		}
		m := &d.old.Notes[i]
		follows := m.Chord || m.Onset == n.Onset.Add(n.Duration)
		return len(m.Indications) == 0 && m.Struck() && !m.Cue && m.Midi != n.Midi && m.Staff == n.Staff && m.Grace == 0 &&
			follows && adjacent(d.old, d.OldN[e], i)
	})
	if e == nil {
		return false
	}
	f := FingeringsOf(e)[0]
	f.Parent().RemoveChild(f)
	next := nextElement(e)
	TechnicalOf(next).AddChild(f)
	d.plant(compare.DigitMoved, e)
	return true
}

// adjacent reports whether no other onset of the piano lies between two notes.
func adjacent(s *score.Score, i, j int) bool {
	p, q := s.Notes[i].Onset, s.Notes[j].Onset
	for k := range s.Notes {
		n := &s.Notes[k]
		if n.Kind == score.Pitched && n.Measure == s.Notes[i].Measure && p.Less(n.Onset) && n.Onset.Less(q) {
			return false
		}
	}
	return true
}

func addSubstitution(d *Draft) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool { return oneDigit(e, n) && !n.Indications[0].Substitution })
	if e == nil {
		return false
	}
	f := FingeringsOf(e)[0].Parent().CreateElement("fingering")
	f.CreateAttr("substitution", "yes")
	f.SetText(d.finger())
	d.plant(compare.Substitution, e)
	return true
}

func addAlternative(d *Draft) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool { return oneDigit(e, n) && !n.Indications[0].Alternate })
	if e == nil {
		return false
	}
	f := FingeringsOf(e)[0].Parent().CreateElement("fingering")
	f.CreateAttr("alternate", "yes")
	f.SetText(d.finger())
	d.plant(compare.Alternative, e)
	return true
}

func restyle(d *Draft) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool { return oneDigit(e, n) && !n.Indications[0].Style.Italic })
	if e == nil {
		return false
	}
	FingeringsOf(e)[0].CreateAttr("font-style", "italic")
	d.plant(compare.Style, e)
	return true
}

func replaceSide(d *Draft) bool {
	e := d.pick(oneDigit)
	if e == nil {
		return false
	}
	d.after = append(d.after, func(a, b *score.Score, n map[*etree.Element]int) {
		if i, ok := n[e]; ok && len(b.Notes[i].Indications) > 0 {
			a.Notes[d.OldN[e]].Indications[0].Placement = score.Above
			b.Notes[i].Indications[0].Placement = score.Below
		}
	})
	d.plant(compare.Placement, e)
	return true
}

func otherResponsibility(d *Draft) bool {
	e := d.pick(oneDigit)
	if e == nil {
		return false
	}
	d.after = append(d.after, func(_, b *score.Score, n map[*etree.Element]int) {
		if i, ok := n[e]; ok && len(b.Notes[i].Indications) > 0 {
			b.Notes[i].Indications[0].Responsibility = score.Editor
		}
	})
	d.plant(compare.Responsibility, e)
	return true
}

func addHandSign(d *Draft) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return n.Struck() && n.Grace == 0 && !n.GraceAfter && !n.Chord
	})
	if e == nil {
		return false
	}
	dir := etree.NewElement("direction")
	words := dir.CreateElement("direction-type").CreateElement("words")
	words.SetText([]string{"m.s.", "m.d."}[d.Rng.IntN(2)])
	dir.CreateElement("staff").SetText(strconv.Itoa(max(intOf(e, "staff"), 1)))
	e.Parent().InsertChildAt(e.Index(), dir)
	d.plant(compare.HandSign, e)
	return true
}
