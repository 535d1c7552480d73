package thin

// printWanted prints the digits that editions are likely to print, by the density that is asked for. Each is worth as much as
// it is likely, and costs the same everywhere: a piece in which the hand moves much has more digits than an easy one, as in
// print, and what changes in one measure changes nothing in another.
func (p *planner) printWanted() {
	price := priceOf(p.in.Style.Density)
	for e := range p.line {
		keys, most := p.bestPart(e, price)
		if p.whole(e) {
			continue
		}
		whole := 0
		for k, i := range p.line[e].notes {
			if candidate(p.in, i) && !p.out[i] {
				whole += p.value(e, k) - price
			}
		}
		if whole > most {
			p.printAll(e, Wanted)
		} else {
			p.print(e, Wanted, keys...)
		}
		p.clear(e)
	}
}

// priceOf is what a digit costs, in thousandths: as much as it has to be worth so that over a collection as many notes in a
// hundred have one as are asked for; where no density is asked for, as much as a digit is worth at most. It was chosen on
// every sixth piece of the fingered material; when study came to print what nothing else tells, its price was chosen again on every
// fourth, which density_test looks at too, and seen on every sixth.
func priceOf(density int) int {
	if density == 0 {
		return dearest + decides
	}
	// From all on what is wanted at all is worth it, and then what one would leave bare.
	const none, each, all, beyond = 1070, 14, 75, 92
	return none - each*min(density, all) - beyond*max(density-all, 0)
}

// dearest is what a digit is worth that editions print for certain.
const dearest = 1000
