package compare

import (
	"cmp"
	"slices"
	"strings"

	"fingerproof/corpus/score"
)

// placed is an item in B's time, on a staff numbered as in B.
type placed struct {
	item    *score.Item
	kind    Kind
	reading string
	at, end score.Fraction
	ends    bool // end is known in both scores
	staff   int  // below 0 for all of its part
	between bool // the staves of one part
	again   bool // it states what is in force already
	used    bool
}

// on reports that two items stand on one staff, or both between the same two.
func (p *placed) on(q *placed) bool { return p.staff == q.staff || p.between && q.between }

// endsWith reports that two lines end together, as far as both ends are known.
func (p *placed) endsWith(q *placed) bool { return p.ends == q.ends && (!p.ends || p.end == q.end) }

// place gathers the items of one side that are found by their moment.
func (c *comparison) place(v *view, inA bool) []placed {
	var out []placed
	for k := range v.score.Items {
		i := &v.score.Items[k]
		r := v.reachOf(i)
		if r < atStaff || kindClass[Kind(i.Kind)] == Layout && !c.layout || i.Kind == score.ItemFurther && !c.oneFormat() {
			continue
		}
		p := placed{item: i, kind: Kind(i.Kind), reading: i.Reading}
		ok := false
		time := func(m int, onset score.Fraction) (score.Fraction, bool) {
			if inA {
				return c.timeInA(m, onset, atEdges[i.Kind])
			}
			return c.timeInB(m, onset)
		}
		if p.at, ok = time(i.Measure, i.Onset); !ok || c.writtenOut(i, inA) {
			continue
		}
		if i.End != nil {
			p.end, p.ends = time(i.End.Measure, i.End.Onset)
		}
		staff := i.Staff
		if r > atStaff {
			staff = 0 // it holds for all staves, on whichever the file writes it
		}
		if inA {
			p.staff = c.staffToB(i.Part, staff)
		} else {
			p.staff = v.staves.of(i.Part, staff)
		}
		if p.staff == 0 || !inA && c.lacked(i.Part) {
			continue // its part is missing, which is told
		}
		if staff == 0 {
			p.staff = -p.staff
		}
		if r == atStaff {
			p.between = betweenStaves[i.Kind] && v.score.Parts[i.Part].Staves == 2 &&
				(i.Staff == 1 && i.Side == score.Below || i.Staff == 2 && i.Side == score.Above)
		}
		out = append(out, p)
	}
	slices.SortStableFunc(out, func(p, q placed) int {
		return cmp.Or(p.at.Cmp(q.at), cmp.Compare(kindRank[p.kind], kindRank[q.kind]), cmp.Compare(p.staff, q.staff))
	})
	out = joinDynamics(onceAChord(out))
	out = c.allStaves(v, out)
	return restated(out)
}

// writtenOut reports that an item is the sign of a repeat which the other side writes out.
func (c *comparison) writtenOut(i *score.Item, inA bool) bool {
	if i.Kind != score.ItemRepeat && i.Kind != score.ItemEnding {
		return false
	}
	for _, copied := range c.al.Copies {
		at := copied.Once
		if copied.InB != inA {
			at = copied.Again
		}
		if copied.Signed && i.Measure >= at.From && i.Measure < at.To {
			return true
		}
	}
	return false
}

// onceAChord leaves one of the equal items that hang on several notes of one moment and staff.
func onceAChord(list []placed) []placed {
	out := list[:0]
	for _, p := range list {
		twice := false
		for k := len(out) - 1; k >= 0 && out[k].at == p.at && !twice; k-- {
			twice = p.item.Note >= 0 && out[k].item.Note >= 0 && out[k].kind == p.kind && out[k].reading == p.reading &&
				out[k].staff == p.staff
		}
		if !twice {
			out = append(out, p)
		}
	}
	return out
}

// joinDynamics makes one of a dynamic and the word before it ("più", "f"), which
// files keep in one element or in two.
func joinDynamics(list []placed) []placed {
	out := list[:0]
	for _, p := range list {
		if k := len(out) - 1; k >= 0 && p.kind == Dynamics && out[k].kind == Dynamics && out[k].at == p.at &&
			out[k].staff == p.staff && strings.Trim(out[k].reading, "pmfszrn") != "" {
			out[k].reading += p.reading
			continue
		}
		out = append(out, p)
	}
	return out
}

// allStaves makes one of a key, metre or transposition that a file writes at each staff of a part.
func (c *comparison) allStaves(v *view, list []placed) []placed {
	out := list[:0]
	for k := 0; k < len(list); k++ {
		p := list[k]
		n := v.score.Parts[p.item.Part].Staves
		same := 1
		for same < n && k+same < len(list) {
			q := &list[k+same]
			if q.at != p.at || q.kind != p.kind || q.reading != p.reading || q.item.Part != p.item.Part || q.item.Staff == 0 {
				break
			}
			same++
		}
		if (p.kind == Key || p.kind == Metre || p.kind == Transposition) && p.item.Staff > 0 && same == n {
			p.staff = -(p.staff - p.item.Staff + 1)
			k += n - 1
		}
		out = append(out, p)
	}
	return out
}

// restated marks what is in force already.
func restated(list []placed) []placed {
	force := map[Kind]map[int]string{Clef: {}, Key: {}, Metre: {}}
	out := list[:0]
	for _, p := range list {
		if inForce[p.item.Kind] {
			f := force[p.kind]
			p.again = f[p.staff] == p.reading
			f[p.staff] = p.reading
		}
		out = append(out, p)
	}
	return out
}

// moment is where items look for each other: of one family at one time.
type moment struct {
	family Kind
	at     score.Fraction
}

func (p *placed) moment() moment {
	return moment{Kind(familyOf(p.item.Kind)), p.at}
}

// items compares what stands at moments: the same at the same place first,
// then what differs there, then what moved; the rest is missing or added.
func (c *comparison) items() {
	old, new := c.place(c.a, true), c.place(c.b, false)
	index := make(map[moment][]int, len(new))
	for j := range new {
		m := new[j].moment()
		index[m] = append(index[m], j)
	}
	match := func(fits func(p, q *placed) bool, then func(p, q *placed)) {
		for i := range old {
			if old[i].used {
				continue
			}
			for _, j := range index[old[i].moment()] {
				if !new[j].used && fits(&old[i], &new[j]) {
					old[i].used, new[j].used = true, true
					then(&old[i], &new[j])
					break
				}
			}
		}
	}
	changed := func(p, q *placed) {
		if x, y := c.readings(p, q); x != y {
			c.item(p.kind, p, q, x, y)
		}
	}
	match(func(p, q *placed) bool { return p.reading == q.reading && p.on(q) && p.endsWith(q) }, c.looksOfItems)
	match(func(p, q *placed) bool { return p.reading == q.reading && p.on(q) }, changed)
	match(func(p, q *placed) bool { return p.reading == q.reading && p.endsWith(q) }, changed)
	match(func(p, q *placed) bool { return p.kind == q.kind && p.on(q) }, changed)
	match(func(p, q *placed) bool { return p.on(q) }, changed)
	match(func(p, q *placed) bool { return p.kind == q.kind }, changed)
	match(func(p, q *placed) bool { return p.kind != q.kind }, changed)
	c.movedItems(old, new)
	barlinesOfRepeats(old, new)
	barlinesOfRepeats(new, old)
	for i := range old {
		if p := &old[i]; !p.used {
			c.item(p.alone(), p, nil, c.withEnd(c.a, p), "")
		}
	}
	for j := range new {
		if q := &new[j]; !q.used {
			c.item(q.alone(), nil, q, "", c.withEnd(c.b, q))
		}
	}
}

// barlinesOfRepeats leaves out the barline that stays where a sign of repetition
// went: it is the sign's own look, and the sign is told.
func barlinesOfRepeats(lines, signs []placed) {
	gone := map[score.Fraction]bool{}
	for k := range signs {
		if signs[k].kind == Repeat && !signs[k].used {
			gone[signs[k].at] = true
		}
	}
	for k := range lines {
		heavy := strings.HasPrefix(lines[k].reading, "final") || strings.HasPrefix(lines[k].reading, "heavy")
		if lines[k].kind == Barline && heavy && gone[lines[k].at] {
			lines[k].used = true
		}
	}
}

// alone is the kind under which an item is listed that the other side lacks: of
// what only says again what is in force, layout.
func (p *placed) alone() Kind {
	if p.again {
		return Restated
	}
	return p.kind
}

// readings words what stands on both sides: with the end of a line where it
// differs, and with the staff where that does.
func (c *comparison) readings(p, q *placed) (x, y string) {
	x, y = p.reading, q.reading
	if !p.endsWith(q) {
		x, y = c.withEnd(c.a, p), c.withEnd(c.b, q)
	}
	if !p.on(q) && p.kind == q.kind {
		x += ", " + c.a.staffWords(p.item.Part, p.item.Staff)
		y += ", " + c.b.staffWords(q.item.Part, q.item.Staff)
	}
	return x, y
}

func (c *comparison) withEnd(v *view, p *placed) string {
	if e := p.item.End; e != nil {
		return p.reading + " to " + v.momentWords(e.Measure, e.Onset)
	}
	return p.reading
}

// farthestMove is how many quarters an item may have moved to be known again;
// closer than leastMove is an exporter's rounding.
var farthestMove, leastMove = score.Whole(4), score.Frac(1, 32)

// movedItems pairs equal items that stand near each other: the nearest first.
// Lines that end together have their beginning elsewhere.
func (c *comparison) movedItems(old, new []placed) {
	type known struct {
		kind    Kind
		reading string
	}
	left := map[known][]int{}
	for j := range new {
		if !new[j].used {
			k := known{new[j].kind, new[j].reading}
			left[k] = append(left[k], j)
		}
	}
	type candidate struct {
		i, j int
		far  score.Fraction
	}
	var all []candidate
	for i := range old {
		if old[i].used {
			continue
		}
		for _, j := range left[known{old[i].kind, old[i].reading}] {
			far := old[i].at.Sub(new[j].at)
			if far.Sign() < 0 {
				far = score.Fraction{}.Sub(far)
			}
			if old[i].on(&new[j]) && !farthestMove.Less(far) {
				all = append(all, candidate{i, j, far})
			}
		}
	}
	slices.SortStableFunc(all, func(p, q candidate) int {
		return cmp.Or(p.far.Cmp(q.far), cmp.Compare(p.i, q.i), cmp.Compare(p.j, q.j))
	})
	for _, k := range all {
		p, q := &old[k.i], &new[k.j]
		if p.used || q.used {
			continue
		}
		p.used, q.used = true, true
		if k.far.Less(leastMove) {
			continue
		}
		x, y := "at ", "at "
		if p.item.End != nil || q.item.End != nil {
			x, y = "from ", "from "
		}
		x, y = p.reading+" "+x+c.a.momentWords(p.item.Measure, p.item.Onset),
			q.reading+" "+y+c.b.momentWords(q.item.Measure, q.item.Onset)
		if p.ends && q.ends && p.end != q.end {
			x += " to " + c.a.momentWords(p.item.End.Measure, p.item.End.Onset)
			y += " to " + c.b.momentWords(q.item.End.Measure, q.item.End.Onset)
		}
		c.item(p.kind, p, q, x, y)
	}
}

// changeForAll is a change of what all parts have at one moment.
type changeForAll struct {
	kind     Kind
	old, new string
	at       score.Fraction
}

// item adds a change of an item; nil for the side that lacks it. What holds for
// all parts is written in each, and listed once.
func (c *comparison) item(kind Kind, p, q *placed, old, new string) {
	var a, b *Place
	one := p
	if p == nil {
		one = q
	}
	if forAll[one.item.Kind] {
		t := changeForAll{kind, old, new, one.at}
		if part, before := c.partOfChange[t]; before && part != one.item.Part {
			return
		}
		c.partOfChange[t] = one.item.Part
	}
	if p != nil {
		a = c.a.placeOf(p.item)
	}
	if q != nil {
		b = c.b.placeOf(q.item)
	}
	c.atMoment(kind, a, b, old, new)
	ch := &c.changes[len(c.changes)-1]
	switch {
	case kind == StaffSide:
		ch.look = [2]string{p.item.Side.String(), q.item.Side.String()}
	case kind == Look:
		ch.look = [2]string{cmp.Or(p.item.Look, "plain"), cmp.Or(q.item.Look, "plain")}
	case p == nil || q == nil:
		ch.until = one.item.End
	}
}

// placeOf is where an item stands; what stands at a barline names no beat.
func (v *view) placeOf(i *score.Item) *Place {
	switch {
	case i.Part < 0:
		return v.head(i.Line)
	case i.Note >= 0:
		return v.place(i.Note)
	}
	p := v.moment(i.Measure, i.Onset)
	p.Line, p.Staff, p.part = i.Line, i.Staff, i.Part
	if reaches[i.Kind] == atStaff && i.Staff > 0 {
		p.Hand = v.handOfStaff(i.Part, i.Staff)
	}
	if atEdges[i.Kind] && (i.Onset.Sign() == 0 || !i.Onset.Less(v.score.Measures[i.Measure].Length)) {
		p.Beat = ""
	}
	return p
}

// looksOfItems compares on which side equal items stand and how they are set.
func (c *comparison) looksOfItems(p, q *placed) {
	if !c.layout {
		return
	}
	if x, y := p.item.Side, q.item.Side; x != y && x != score.PlacementUnset && y != score.PlacementUnset && !(p.between && q.between) {
		c.item(StaffSide, p, q, p.reading+" "+x.String(), q.reading+" "+y.String())
	}
	if p.item.Look != q.item.Look {
		c.item(Look, p, q, p.reading+": "+cmp.Or(p.item.Look, "plain"), q.reading+": "+cmp.Or(q.item.Look, "plain"))
	}
}

// head compares what stands above the music by what it says: programs keep one
// title in several places.
func (c *comparison) head() {
	gather := func(v *view) (out []*score.Item) {
		for k := range v.score.Items {
			i := &v.score.Items[k]
			if reaches[i.Kind] == atHead && !slices.ContainsFunc(out, func(o *score.Item) bool {
				return o.Kind == i.Kind && o.Reading == i.Reading
			}) {
				out = append(out, i)
			}
		}
		return out
	}
	old, new := gather(c.a), gather(c.b)
	lacks := func(of, in []*score.Item) (out []*score.Item) {
		// Where words stand free on its page, those are what it prints; else what its head says.
		pageless := !slices.ContainsFunc(in, func(o *score.Item) bool { return o.Kind == score.ItemCredit })
		for _, i := range of {
			if !slices.ContainsFunc(in, func(o *score.Item) bool {
				// A title may stand in the head of the file, or free on the page.
				free := (o.Kind == score.ItemCredit) != (i.Kind == score.ItemCredit) && (i.Kind != score.ItemCredit || pageless)
				return o.Kind == i.Kind && o.Reading == i.Reading || free && sayAlike(o.Reading, i.Reading)
			}) {
				out = append(out, i)
			}
		}
		return out
	}
	gone, come := lacks(old, new), lacks(new, old)
	for _, i := range gone {
		k := slices.IndexFunc(come, func(o *score.Item) bool { return o.Kind == i.Kind })
		if k < 0 {
			c.atMoment(Kind(i.Kind), c.a.head(i.Line), nil, i.Reading, "")
			continue
		}
		c.atMoment(Kind(i.Kind), c.a.head(i.Line), c.b.head(come[k].Line), i.Reading, come[k].Reading)
		come = slices.Delete(come, k, k+1)
	}
	for _, i := range come {
		c.atMoment(Kind(i.Kind), nil, c.b.head(i.Line), "", i.Reading)
	}
}

// sayAlike reports that one text stands free on a page and the other, perhaps
// with what its author did, in the head of the file.
func sayAlike(p, q string) bool {
	if len(p) > len(q) {
		p, q = q, p
	}
	rest, same := strings.CutPrefix(q, p)
	return same && (rest == "" || strings.HasPrefix(rest, " (") && strings.HasSuffix(rest, ")"))
}
