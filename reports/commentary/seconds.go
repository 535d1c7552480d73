package commentary

// seconds lists the fingerings that print beside others as an alternative, where the editor said for whom they are: those of one
// measure and hand together.
func (p *pieceRemarks) seconds() (out []string) {
	type like struct {
		measure int
		part    string
		hand    string
		whom    string
	}
	var order []like
	at := map[like][]fingered{}
	for i := range p.result.Notes {
		n := &p.result.Notes[i]
		if n.Second == 0 || n.SecondFor == "" {
			continue
		}
		l := like{n.MeasureIndex, n.Part, n.Hand.String(), n.SecondFor}
		if at[l] == nil {
			order = append(order, l)
		}
		alone := *n
		alone.Substitution = nil // of the first fingering
		at[l] = append(at[l], fingered{&alone, n.Second})
	}
	for _, l := range order {
		first := at[l][0].note
		out = append(out, p.Say("measure", first.Measure)+p.beatOf(first)+", "+p.handOf(first.Part, first.Hand)+p.Say("colon")+
			p.spell(at[l], l.measure)+p.Say("second.for", l.whom))
	}
	return out
}
