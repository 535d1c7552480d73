package keying

import (
	"slices"

	"fingerproof/pipeline/3_records/decision"
)

// forReturns lets digits that a line gives by their place hold for returns as those do that a line gives by the number of
// their passage: what the sheet asks in one place only is answered with it, however it is answered.
func (k *Keying) forReturns(f *decision.Finder, decided []decision.Decision) (out []decision.Decision) {
	goes := map[int]bool{}
	for i := range k.Passages {
		if p := &k.Passages[i]; p.ForReturns {
			for _, n := range p.Notes {
				goes[n] = p.Taken == nil || slices.Contains(p.Taken, n)
			}
		}
	}
	for i := range decided {
		d := decided[i]
		if d.On != decision.Notes || d.Verb != decision.Take && d.Verb != decision.Amend || d.Returns || len(goes) == 0 {
			out = append(out, d)
			continue
		}
		there, here := d, d
		there.Returns, there.Notes, here.Notes = true, nil, nil
		for k := range d.Notes {
			if n, _, _ := f.Find(&d.Notes[k]); goes[n] {
				there.Notes = append(there.Notes, d.Notes[k])
			} else {
				here.Notes = append(here.Notes, d.Notes[k])
			}
		}
		if len(there.Notes) > 0 {
			here.Except = nil
		}
		for _, part := range []decision.Decision{here, there} {
			if len(part.Notes) > 0 {
				out = append(out, part)
			}
		}
	}
	return out
}
