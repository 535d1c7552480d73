package compare

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"fingerproof/pipeline/3_records/register"
)

// Correction is one line of a correction sheet: what the engraver is asked to
// do so that the typeset side reads like the approved one.
type Correction struct {
	ID     string `json:"id"` // the same for the same correction in every proof
	Piece  string `json:"piece"`
	At     *Place `json:"at,omitempty"`     // nil for a piece that could not be compared
	Do     Action `json:"do,omitempty"`     // whether something comes in, goes out or changes
	Reads  string `json:"reads,omitempty"`  // what the proof has
	Should string `json:"should,omitempty"` // what it is to have
	Ask    string `json:"ask"`              // in words: "F4 → F#4", "put in digit 4 at G4"
	State  State  `json:"state"`
	Kind   Kind   `json:"kind,omitempty"`
	Class  Class  `json:"class"`
	// Comment is what readers remarked on it, By who they are, where a register is kept.
	Comment string `json:"comment,omitempty"`
	By      string `json:"by,omitempty"`

	// Before says that an earlier proof had it right already, and this one has still.
	Before bool `json:"done_before,omitempty"`

	// Cause is what runs through, of which this correction is one place; nil where it stands alone.
	Cause *Cause `json:"-"`

	known       bool // in the register already, with its id
	first, done int  // numbers of proofs, where a register is kept
	past        []register.Spell
	site, part  string
	place       string // as the register has it, where the proofs that were compared do not
	kept        string // the reading that was to stand
	keptAsk     string
	from        *register.Entry // of one that is unseen, where a register is kept
}

// Place names where a correction stands, in the few signs of a sheet.
func (c *Correction) Place() string {
	if c.At == nil {
		return c.place
	}
	return c.At.Short(false)
}

// State says how a correction stands against the proof before.
type State string

// The states. Without a proof before, every correction is open.
const (
	ToDo   State = "open"
	Missed State = "missed" // asked for in the last proof and still not done
	Broken State = "new"    // right in the last proof, wrong in this one
	Done   State = "done"   // asked for in the last proof and done
	Kept   State = "kept"   // a reader let the proof's reading stand
	Unkept State = "unkept" // a reading that was to stand is another now
	Unread State = "unread" // the piece could not be compared
	Unseen State = "unseen" // asked for before; this time its kind or its measure could not be compared
)

// Action says what the engraver does.
type Action string

// The actions.
const (
	PutIn   Action = "put in"
	TakeOut Action = "take out"
	Alter   Action = "change"
	Move    Action = "move"
)

// asked is a correction that was asked for in an earlier proof.
type asked struct {
	exact, loose string
	change       *Change // of the diff against the proof before
	entry        *register.Entry
	matched      bool
}

// about names the kind and the site of a correction.
func (a *asked) about() (Kind, string) {
	if a.entry != nil {
		return Kind(a.entry.What), a.entry.Site
	}
	return a.change.Kind, a.change.site
}

// looks reports whether an earlier proof was looked at for a difference; nil for a proof that was not read.
type looks func(kind Kind, site string) bool

// state is that of a correction which nobody has asked for yet.
func (l looks) state(kind Kind, site string) State {
	if l != nil && l(kind, site) {
		return Broken
	}
	return ToDo
}

func everywhere(Kind, string) bool { return true }

// Sheet makes the corrections of a diff of approved (old) against typeset
// (new). previous is the diff of approved against the proof before, nil if
// there is none. Each correction asked for then is found again among those of
// now, so that it is done, or missed, once; a place where the engraver did
// something else wrong is missed, not new. A piece that could not be compared
// is listed as such, and nothing of it is ticked off; nor is what was not looked
// at this time, and what the proof before was not looked at for is not new.
func Sheet(current, previous *Diff) []Correction {
	if previous == nil {
		return current.corrections(nil)
	}
	return current.corrections(func(id string) (list []*asked, seen looks) {
		before := previous.piece(id)
		if before == nil {
			return nil, everywhere
		}
		for k := range before.Changes {
			c := &before.Changes[k]
			list = append(list, &asked{exact: exactKey(c), loose: looseKey(c), change: c})
		}
		if before.Problem != "" {
			return nil, nil
		}
		return list, before.lookedAt
	}, previous.ids()...)
}

// corrections lists the corrections piece by piece. earlier gives what was
// asked for in a piece before, and what was looked at; nil where there is
// no proof before. Pieces named further that are not compared now have nothing
// left to correct.
func (d *Diff) corrections(earlier func(id string) ([]*asked, looks), further ...string) []Correction {
	var out []Correction
	for i := range d.Pieces {
		p := &d.Pieces[i]
		if p.Problem != "" {
			problem, _, _ := strings.Cut(p.Problem, "\n") // the hint is for the terminal
			out = append(out, Correction{Piece: p.ID, Ask: problem, State: Unread})
			continue
		}
		var list []*asked
		var seen looks
		if earlier != nil {
			list, seen = earlier(p.ID)
		}
		out = append(out, p.corrections(list, seen)...)
	}
	for _, id := range further {
		if d.piece(id) == nil {
			list, seen := earlier(id)
			if empty := (&Piece{ID: id}); seen != nil {
				out = append(out, empty.corrections(list, seen)...)
			}
		}
	}
	return out
}

func (d *Diff) piece(id string) *Piece {
	for i := range d.Pieces {
		if d.Pieces[i].ID == id {
			return &d.Pieces[i]
		}
	}
	return nil
}

func (d *Diff) ids() []string {
	out := make([]string, len(d.Pieces))
	for i := range d.Pieces {
		out[i] = d.Pieces[i].ID
	}
	return out
}

// corrections lists the corrections of one piece, then what became of those
// asked for before that are wrong no more, or were not looked at. seen is what
// the proof before was looked at for.
func (p *Piece) corrections(before []*asked, seen looks) []Correction {
	found := make([]*asked, len(p.Changes))
	for _, match := range []struct {
		then func(*asked) string
		now  func(*Change) string
	}{
		{func(a *asked) string { return a.exact }, exactKey},
		{func(a *asked) string { return a.loose }, looseKey},
	} {
		waiting := map[string][]*asked{}
		for _, a := range before {
			if !a.matched {
				waiting[match.then(a)] = append(waiting[match.then(a)], a)
			}
		}
		for k := range p.Changes {
			id := match.now(&p.Changes[k])
			if found[k] == nil && len(waiting[id]) > 0 {
				found[k], waiting[id] = waiting[id][0], waiting[id][1:]
				found[k].matched = true
			}
		}
	}
	ids, causes := p.ids(), p.CauseOf()
	var out []Correction
	for k := range p.Changes {
		fresh := seen.state(p.Changes[k].Kind, p.Changes[k].site)
		c := p.correction(&p.Changes[k], ids[k], fresh)
		c.Cause = causes[k]
		if a := found[k]; a != nil {
			c.State = Missed
			if a.entry != nil {
				c.follow(a.entry, fresh)
			}
		}
		out = append(out, c)
	}
	for _, a := range before {
		if a.matched {
			continue
		}
		var c Correction
		if a.entry != nil {
			c = fromEntry(a.entry)
		} else {
			c = p.correction(a.change, idOf(p.ID, exactKey(a.change), 0), Done)
		}
		if !p.lookedAt(a.about()) {
			c.State, c.from = Unseen, a.entry
		}
		out = append(out, c)
	}
	return out
}

func (p *Piece) correction(c *Change, id string, s State) Correction {
	return Correction{
		ID: id, Piece: p.ID, At: c.At(), Do: action(c), Reads: c.New, Should: c.Old, Ask: ask(c), State: s,
		Kind: c.Kind, Class: c.Kind.Class(), site: c.site, part: family(c.Kind),
	}
}

// ids names the corrections of a piece: equal ones at one place are numbered.
func (p *Piece) ids() []string {
	seen := map[string]int{}
	out := make([]string, len(p.Changes))
	for k := range p.Changes {
		key := exactKey(&p.Changes[k])
		out[k] = idOf(p.ID, key, seen[key])
		seen[key]++
	}
	return out
}

// IDs names each change of a piece as its correction is named.
func (p *Piece) IDs() []string { return p.ids() }

func idOf(piece, key string, number int) string {
	sum := sha256.Sum256([]byte(fmt.Sprint(piece, "|", key, "|", number)))
	return hex.EncodeToString(sum[:8]) // half as many are too few: of 100,000 corrections two would be called the same
}

// exactKey names a correction by what is asked for at which place of the
// approved copy; what the proof wrongly shows may change from proof to proof.
func exactKey(c *Change) string { return c.site + "|" + string(c.Kind) + "|" + c.Old }

// looseKey names a correction by its place and by what part of the note it is
// about: a digit that was missing and is now another is the same fault.
func looseKey(c *Change) string { return c.site + "|" + family(c.Kind) }

func family(k Kind) string {
	switch k {
	case DigitMissing, DigitChanged, DigitMoved, DigitAdded, Substitution, Alternative:
		return "digit"
	case NoteMissing, Pitch, Octave, Spelling, Unison:
		return "note"
	case Onset, Duration, Tie, GraceSize:
		return "time"
	}
	return string(k)
}
