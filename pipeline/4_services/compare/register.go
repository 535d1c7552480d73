package compare

import (
	"fmt"
	"maps"
	"slices"

	"fingerproof/pipeline/3_records/register"
)

// Keep brings a register up to a proof: the diff of approved against it. It
// gives the sheet of the proof against all proofs before, and changes the
// register: entries of pieces that were not, or could not be, compared stay as
// they are, and so do those of classes that were not compared, of kinds that a
// file does not give, and of measures that the proof lacks. The same proof compared again gives the same sheet.
func Keep(r *register.Register, d *Diff, proof register.Proof) []Correction {
	pieces, gone := map[string][]*asked{}, map[string]bool{}
	proof.Pieces = withLone(d, proof.Pieces)
	number := func(piece string) int { return r.Number(proof, piece) }
	looked := func(e *register.Entry) bool {
		kind := Kind(e.What)
		return len(d.Compared) == 0 || slices.Contains(d.Compared, kind.Class()) || kind.ofPiece()
	}
	for i := range r.Entries {
		e := &r.Entries[i]
		if Kind(e.What) == PieceMissing && (e.State != register.Done || e.Done == number(e.Piece)) {
			gone[e.Piece] = true // from the last proof
		}
		if !looked(e) {
			continue
		}
		pieces[e.Piece] = append(pieces[e.Piece], &asked{
			exact: e.Site + "|" + e.What + "|" + e.Want, loose: e.Site + "|" + e.Part, entry: e,
		})
	}
	seen := func(piece string) looks {
		before := number(piece) - 1
		if before == 0 {
			return nil
		}
		left := r.NotCompared(piece, before)
		return func(kind Kind, site string) bool {
			return lookedAt(left, kind, site) && (!gone[piece] || kind.ofPiece())
		}
	}
	sheet := d.corrections(func(id string) ([]*asked, looks) { return pieces[id], seen(id) })
	nameApart(sheet, r)
	next := register.Register{Approved: d.Old, Texts: r.Texts, Proofs: r.Proofs}
	compared := map[string]bool{}
	for i := range sheet {
		c := &sheet[i]
		if c.State == Unread {
			continue
		}
		compared[c.Piece] = true
		if c.State == Unseen {
			next.Entries = append(next.Entries, *c.from)
			continue
		}
		now := number(c.Piece)
		if c.State == Missed && c.first == now { // this very proof was compared before
			c.State = seen(c.Piece).state(c.Kind, c.site)
		}
		c.Before = c.State == Done && c.done > 0 && c.done < now
		next.Entries = append(next.Entries, c.entry(now))
	}
	for _, e := range r.Entries {
		if !compared[e.Piece] || !looked(&e) {
			next.Entries = append(next.Entries, e)
		}
	}
	next.Sort()
	proof.NotCompared = map[string][]string{}
	for i := range d.Pieces {
		if p := &d.Pieces[i]; p.Problem == "" && len(p.notLooked) > 0 {
			proof.NotCompared[p.ID] = p.notLooked
		}
	}
	next.Add(proof)
	*r = next
	return slices.DeleteFunc(sheet, func(c Correction) bool { // what is done or kept stays so
		return c.State == Unseen && (c.from.State == register.Done || c.from.State == register.Kept)
	})
}

// withLone are the pieces of a proof with those that it lacks, or has beyond the approved ones.
func withLone(d *Diff, sums map[string]string) map[string]string {
	out := map[string]string{}
	maps.Copy(out, sums)
	for i := range d.Pieces {
		if p := &d.Pieces[i]; slices.ContainsFunc(p.Changes, func(c Change) bool { return c.Kind.ofPiece() }) {
			out[p.ID] = ""
		}
	}
	return out
}

// nameApart gives each correction that the register does not know yet an id that nothing else in it has: one that is
// followed keeps its id also where it has come to ask for something else, and another may come to ask for what it did.
func nameApart(sheet []Correction, r *register.Register) {
	taken := map[string]bool{}
	for i := range r.Entries {
		taken[r.Entries[i].ID] = true
	}
	for i := range sheet {
		c := &sheet[i]
		if c.known || c.State == Unread {
			continue
		}
		for number := 0; taken[c.ID]; number++ {
			c.ID = idOf(c.Piece, c.site+"|"+string(c.Kind)+"|"+c.Should, number)
		}
		taken[c.ID] = true
	}
}

// follow takes over what a register knows of a correction that is still, or
// again, wrong; fresh is the state of one that was right meanwhile.
func (c *Correction) follow(e *register.Entry, fresh State) {
	c.known, c.ID, c.Comment, c.By, c.first, c.done = true, e.ID, e.Comment, e.By, e.First, e.Done
	c.past = e.Past
	switch {
	case e.State == register.Kept && c.Reads == e.Reads:
		c.State = Kept
	case e.State == register.Kept:
		c.State, c.kept, c.keptAsk = Unkept, e.Reads, e.Ask
		c.Ask += fmt.Sprintf(" (%s was to stay as it was)", said(e.Reads))
	case e.State == register.Done:
		c.State, c.first, c.done, c.past = fresh, 0, 0, append(slices.Clone(e.Past), register.Spell{First: e.First, Done: e.Done})
	}
}

// fromEntry is a correction that is wrong no more.
func fromEntry(e *register.Entry) Correction {
	c := Correction{
		ID: e.ID, Piece: e.Piece, Reads: e.Reads, Should: e.Want, State: Done, Kind: Kind(e.What), Comment: e.Comment,
		By: e.By, known: true, first: e.First, done: e.Done, past: e.Past, site: e.Site, part: e.Part, place: e.At,
	}
	c.Class = c.Kind.Class()
	asDiffers := Change{Kind: c.Kind, Old: e.Want, New: e.Reads}
	c.Do, c.Ask = action(&asDiffers), e.Ask
	if c.Ask == "" {
		c.Ask = ask(&asDiffers)
	}
	if e.State == register.Kept {
		c.State, c.kept, c.keptAsk = Unkept, e.Reads, e.Ask
		c.Ask = fmt.Sprintf("%s was to stay as it was, and reads now as approved: %s", said(e.Reads), said(e.Want))
	}
	return c
}

func said(reading string) string {
	if reading == "" {
		return "nothing"
	}
	return reading
}

// entry is a correction as the register has it after proof number.
func (c *Correction) entry(number int) register.Entry {
	e := register.Entry{
		ID: c.ID, Piece: c.Piece, At: c.Place(), Ask: c.Ask, What: string(c.Kind), Reads: c.Reads, Want: c.Should,
		First: c.first, Past: c.past, Comment: c.Comment, By: c.By, Site: c.site, Part: c.part,
	}
	if e.First == 0 {
		e.First = number
	}
	switch c.State {
	case Done:
		e.State, e.Done = register.Done, c.done
		if e.Done == 0 {
			e.Done = number
		}
	case Kept:
		e.State = register.Kept
	case Unkept: // as it was, until a reader decides otherwise
		e.State, e.Reads, e.Ask = register.Kept, c.kept, c.keptAsk
		if c.At != nil { // else it reads as approved
			e.Now = &c.Reads
		}
	default:
		e.State = register.Open
		if e.First < number {
			e.State = register.Missed
		}
	}
	return e
}
