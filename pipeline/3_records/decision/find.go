package decision

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
)

// Landmark is a measure whose music stands in the piece once only, as seen
// from a note: so many measures later (earlier where negative). Landmarks tell
// a passage from its return, which the notes around it cannot.
type Landmark struct {
	By    int    // measures from the note's own
	Music string // fingerprint of the measure's music, shortened
}

// String gives "-3:0f1e2d3c", as files write it.
func (l Landmark) String() string { return fmt.Sprintf("%d:%s", l.By, l.Music) }

const (
	landmarkDigits = 8
	landmarksKept  = 2 // on either side
)

var landmarkForm = regexp.MustCompile(`^(-?[1-9]\d{0,5}):([0-9a-f]{8})$`)

// parseLandmarks reads "-3:0f1e2d3c 2:…".
func parseLandmarks(s string) ([]Landmark, bool) {
	var out []Landmark
	for _, word := range strings.Fields(s) {
		m := landmarkForm.FindStringSubmatch(word)
		if m == nil {
			return nil, false
		}
		by, _ := strconv.Atoi(m[1])
		out = append(out, Landmark{by, m[2]})
	}
	return out, true
}

// Finder places notes in one score. It is read only once made.
type Finder struct {
	score     *score.Score
	index     *align.Index
	addresses []score.Address
	exact     map[score.Address][]int // notes by address without ordinal
	music     []string                // fingerprint by measure, "" where no note stands
	where     map[string][]int        // measures by fingerprint
	once      []int                   // measures whose fingerprint stands once, in order
	byNumber  map[string][]int
	laid      sync.Once // makes the next two, when what stands near a note is asked for
	rows      [][]int   // notes of a part and staff in the order of time
	inRow     [][2]int
	laying    sync.Mutex // guards wholes
	wholes    map[*Table]*whole
}

// NewFinder prepares a score.
func NewFinder(s *score.Score) *Finder {
	index := align.NewIndex(s)
	f := &Finder{
		score: s, index: index, addresses: index.Addresses(), exact: make(map[score.Address][]int, len(s.Notes)),
		music: make([]string, len(s.Measures)), where: map[string][]int{}, byNumber: map[string][]int{},
	}
	for n := range s.Notes {
		if !f.index.Holds(n) { // no pitched note of the keyboard parts
			continue
		}
		a := f.addresses[n]
		a.Ordinal = 0
		f.exact[a] = append(f.exact[a], n)
		if f.music[a.Measure] == "" {
			f.music[a.Measure] = f.index.Music(s.Notes[n].Measure)[:landmarkDigits]
		}
	}
	for i, m := range f.music {
		if m != "" {
			f.where[m] = append(f.where[m], i)
		}
	}
	for i, m := range f.music {
		if m != "" && len(f.where[m]) == 1 {
			f.once = append(f.once, i)
		}
	}
	for i := range s.Measures {
		f.byNumber[s.Measures[i].Number] = append(f.byNumber[s.Measures[i].Number], i)
	}
	return f
}

// Ref describes a note as a decision keeps it.
func (f *Finder) Ref(n int, fingers []int) NoteRef {
	a := f.addresses[n]
	return NoteRef{
		Printed: f.score.Measures[a.Measure].Number, Index: a.Measure, Onset: a.Onset, Midi: a.Midi, Grace: a.Grace,
		Ordinal: a.Ordinal,
		Pitch:   f.score.Notes[n].Pitch.String(), Fingers: fingers, Around: f.index.Context(n),
		Landmarks: f.landmarks(a.Measure), Near: f.near(n), twin: f.twin(n),
		manyNumber: len(f.byNumber[f.score.Measures[a.Measure].Number]) > 1,
	}
}

// Note is a note of the score.
func (f *Finder) Note(n int) *score.Note { return &f.score.Notes[n] }

// Address is the name of a note, Addresses are those of all; they are shared.
func (f *Finder) Address(n int) score.Address { return f.addresses[n] }
func (f *Finder) Addresses() []score.Address  { return f.addresses }

// Name describes a note as a line of music names it, and no more: without what finds it again in another score.
func (f *Finder) Name(n int) NoteRef {
	a := f.addresses[n]
	return NoteRef{
		Index: a.Measure, Onset: a.Onset, Midi: a.Midi, Grace: a.Grace, Ordinal: a.Ordinal,
		Pitch: f.score.Notes[n].Pitch.String(), Around: align.Context{Staff: f.index.Staff(n)}, twin: f.twin(n),
	}
}

// Music is the fingerprint of each measure, "" where nothing is struck; it is shared.
func (f *Finder) Music() []string { return f.music }

func (f *Finder) landmarks(measure int) (out []Landmark) {
	at, is := slices.BinarySearch(f.once, measure)
	behind := at
	if is {
		behind++
	}
	for _, m := range f.once[max(at-landmarksKept, 0):at] {
		out = append(out, Landmark{m - measure, f.music[m]})
	}
	for _, m := range f.once[behind:min(behind+landmarksKept, len(f.once))] {
		out = append(out, Landmark{m - measure, f.music[m]})
	}
	return out
}

// What speaks for a measure being the one meant, and what it takes.
const (
	sameMusicVotes = 2
	leastVotes     = 3
	leastLead      = 2
)

// noteGone is why a reference finds no note where its measure is known.
const noteGone = "its note is gone"

// Find gives the note that a reference means in this score, or -1 with why
// there is none and the nearest candidates. It would rather give none than a
// wrong one.
func (f *Finder) Find(ref *NoteRef) (note int, why string, nearest []align.Candidate) {
	a := ref.Address()
	byPlace := ref.Around.Music == "" && len(ref.Landmarks) == 0
	if a.Measure < 0 {
		measures := f.byNumber[ref.Printed]
		switch {
		case len(measures) == 1:
			a.Measure = measures[0]
		case !byPlace: // its music says which measure it is
		case len(measures) == 0:
			return -1, fmt.Sprintf("there is no measure %s", ref.Printed), nil
		default:
			return -1, fmt.Sprintf(
				"%d measures bear the number %s; write \"index: %d\" or \"index: %d\" for the one that is meant",
				len(measures), ref.Printed, measures[0], measures[1]), nil
		}
	}
	if byPlace {
		return f.byContext(a, ref)
	}
	measure, sure := f.measure(ref)
	if sure {
		a.Measure = measure
		if n := f.inMeasure(a, ref); n >= 0 {
			return n, "", nil
		}
	}
	if sure { // what stands where it stood says more than a like note elsewhere
		nearest = f.inPlace(a, ref)
		if len(nearest) == 0 || apart(f.score.Notes[nearest[0].Note].Midi, ref.Midi) > sameKeyReach { // the other hand's, mostly
			nearest = append(f.inReach(a, ref), nearest...)
			nearest = nearest[:min(len(nearest), 3)]
		}
		if len(nearest) == 0 {
			_, _, nearest = f.byContext(a, ref)
		}
		return -1, noteGone, nearest
	}
	_, _, nearest = f.byContext(a, ref)
	return -1, "its measure cannot be told from others", f.whereItStood(ref, nearest)
}

// whereItStood puts what stands in the measure where a note stood, as the whole text has it, before candidates elsewhere: there it is
// asked what became of it.
func (f *Finder) whereItStood(ref *NoteRef, nearest []align.Candidate) []align.Candidate {
	if ref.table == nil {
		return nearest
	}
	a := ref.Address()
	a.Measure = f.wholeOf(ref.table).near[ref.row]
	first := slices.Concat(f.inPlace(a, ref), f.nearby(a))
	if len(first) == 0 {
		for n := range f.score.Notes { // the first note of the measure, where nothing is struck at its moment
			if f.score.Notes[n].Measure == a.Measure && f.index.Holds(n) {
				first = append(first, align.Candidate{Note: n})
				break
			}
		}
	}
	var out []align.Candidate
	for _, c := range slices.Concat(first, nearest) {
		if !slices.ContainsFunc(out, func(o align.Candidate) bool { return o.Note == c.Note }) {
			out = append(out, c)
		}
	}
	return out[:min(len(out), 3)]
}

// inPlace gives the notes that stand in the place of one that is gone, the nearest key first: none of those that were struck
// with it.
func (f *Finder) inPlace(a score.Address, ref *NoteRef) (out []align.Candidate) {
	struckWith := func(key int) bool {
		return slices.Contains(ref.Around.With, key) || slices.ContainsFunc(ref.Near, func(k Near) bool {
			return k.By == 0 && k.Onset == ref.Onset && k.Grace == ref.Grace && k.Midi == key
		})
	}
	away := func(c align.Candidate) int {
		d := f.score.Notes[c.Note].Midi - ref.Midi
		return max(d, -d)
	}
	for n := range f.score.Notes {
		note := &f.score.Notes[n]
		if note.Measure == a.Measure && note.Onset == a.Onset && note.Grace == a.Grace && f.keyboard(n) && !struckWith(note.Midi) {
			out = append(out, align.Candidate{Note: n})
		}
	}
	slices.SortStableFunc(out, func(a, b align.Candidate) int { return away(a) - away(b) })
	return out[:min(len(out), 3)]
}

// inReach gives the notes of the measure whose keys lie near that of one of which nothing stands at its moment, the nearest in time
// first: they are of its hand.
func (f *Finder) inReach(a score.Address, ref *NoteRef) (out []align.Candidate) {
	for n := range f.score.Notes {
		note := &f.score.Notes[n]
		if note.Measure == a.Measure && note.Onset != a.Onset && f.keyboard(n) && apart(note.Midi, ref.Midi) <= sameKeyReach {
			out = append(out, align.Candidate{Note: n})
		}
	}
	away := func(c align.Candidate) score.Fraction {
		d := f.score.Notes[c.Note].Onset.Sub(a.Onset)
		if d.Sign() < 0 {
			return a.Onset.Sub(f.score.Notes[c.Note].Onset)
		}
		return d
	}
	slices.SortStableFunc(out, func(x, y align.Candidate) int { return away(x).Cmp(away(y)) })
	return out
}

// sameKeyReach is how far, in semitones, a corrected key may lie from the one that it replaces: an octave too high or too low is
// a mistake of print like another; what lies farther is another voice.
const sameKeyReach = 12

// Instead gives the notes that may stand instead of one that is gone, the nearest key first, none where its measure is not sure.
func (f *Finder) Instead(ref *NoteRef) (out []int) {
	a := ref.Address()
	measure, sure := f.measure(ref)
	if !sure {
		return nil
	}
	a.Measure = measure
	for _, c := range f.inPlace(a, ref) {
		if d := f.score.Notes[c.Note].Midi - ref.Midi; max(d, -d) <= sameKeyReach {
			out = append(out, c.Note)
		}
	}
	return out
}

// AsItStands says that the measure of a note has the music with which a decision names it: it was made in the text as it stands.
func (f *Finder) AsItStands(n int, ref *NoteRef) bool {
	return len(ref.Around.Music) >= landmarkDigits && f.music[f.addresses[n].Measure] == ref.Around.Music[:landmarkDigits]
}

// byContext goes by the address and the notes around it alone.
func (f *Finder) byContext(a score.Address, ref *NoteRef) (int, string, []align.Candidate) {
	found := f.index.Place(a, ref.Around)
	switch {
	case found.Note < 0:
		return -1, noteGone, f.nearby(a)
	case !found.Sure || f.score.Notes[found.Note].Midi != ref.Midi:
		return -1, "its note is gone, or cannot be told from others", f.nearestFirst(a, ref, found.Nearest)
	}
	return found.Note, "", found.Nearest
}

// nearestFirst orders candidates for a place written by hand by how many
// measures away they stand: there is nothing else to tell them by.
func (f *Finder) nearestFirst(a score.Address, ref *NoteRef, list []align.Candidate) []align.Candidate {
	if c := ref.Around; len(c.Before)+len(c.After)+len(c.With) > 0 || c.Music != "" {
		return list
	}
	away := func(c align.Candidate) int {
		d := f.score.Notes[c.Note].Measure - a.Measure
		return max(d, -d)
	}
	out := f.nearby(a)
	for _, c := range list {
		if !slices.ContainsFunc(out, func(o align.Candidate) bool { return o.Note == c.Note }) {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b align.Candidate) int { return away(a) - away(b) })
	return out[:min(len(out), 3)]
}

// nearby gives the notes that stand where the one meant stood: what a
// correction put in its place, the nearest key first.
func (f *Finder) nearby(a score.Address) (out []align.Candidate) {
	for n := range f.score.Notes {
		note := &f.score.Notes[n]
		if note.Measure == a.Measure && note.Onset == a.Onset && note.Grace == a.Grace && note.Kind == score.Pitched {
			out = append(out, align.Candidate{Note: n})
		}
	}
	slices.SortStableFunc(out, func(x, y align.Candidate) int {
		return apart(f.score.Notes[x.Note].Midi, a.Midi) - apart(f.score.Notes[y.Note].Midi, a.Midi)
	})
	return out[:min(len(out), 3)]
}

// apart is how many semitones lie between two keys.
func apart(a, b int) int { return max(a-b, b-a) }

// measure finds the measure that is meant: in the alignment of the text in which the decision was made with the score, and where
// that leaves it open or is not known by landmarks, which name no measure that is surely another.
func (f *Finder) measure(ref *NoteRef) (int, bool) {
	if ref.table == nil {
		return f.byLandmarks(ref)
	}
	w := f.wholeOf(ref.table)
	if at := w.at[ref.row]; at >= 0 {
		return at, true
	}
	at, sure := f.byLandmarks(ref)
	return at, sure && !w.doubt[ref.row] && !w.taken[at] && f.music[at] == ref.table.rows[ref.row].music
}

// byLandmarks finds a measure by landmarks, which vote for where they see it, and by its own music, which votes for wherever it
// stands.
func (f *Finder) byLandmarks(ref *NoteRef) (int, bool) {
	votes := map[int]int{}
	for _, l := range ref.Landmarks {
		if at := f.where[l.Music]; len(at) == 1 {
			votes[at[0]-l.By]++
		}
	}
	if ref.Around.Music != "" {
		own := f.where[ref.Around.Music[:landmarkDigits]]
		for _, m := range own {
			votes[m] += sameMusicVotes
			if len(own) == 1 && len(ref.Landmarks) < 2 { // a piece of a few measures has few landmarks
				votes[m]++
			}
		}
	}
	best, second := -1, 0
	for m := range f.music { // in order, so that ties fall alike
		switch v := votes[m]; {
		case best < 0 || v > votes[best]:
			if best >= 0 {
				second = votes[best]
			}
			best = m
		case v > second:
			second = v
		}
	}
	if best >= 0 && votes[best] >= leastVotes && votes[best]-second >= leastLead {
		return best, true
	}
	return ref.Index, f.returns(ref, ref.Index)
}

// returns says of a piece in which all music comes twice, as in two verses that are written out, that it is still one:
// then where the measure has the music that is meant, its place tells it from its like. A measure put in or taken out would
// mostly stand alone; a whole verse put in before the first does not, and the decision then stays at its place, which is
// now in another verse.
func (f *Finder) returns(ref *NoteRef, measure int) bool {
	return len(ref.Landmarks)+len(f.once) == 0 && ref.Around.Music != "" && measure >= 0 && measure < len(f.music) &&
		f.music[measure] == ref.Around.Music[:landmarkDigits]
}

// inMeasure finds the note in its measure. Where the measure's music is not
// what it was, the notes around must still agree.
func (f *Finder) inMeasure(a score.Address, ref *NoteRef) int {
	a.Ordinal = 0
	at := f.exact[a]
	if len(at) > 1 { // one key twice at once: the same staff, then the same order
		same := slices.DeleteFunc(slices.Clone(at),
			func(n int) bool { return f.score.Notes[n].Staff != ref.Around.Staff })
		if len(same) != 1 {
			if !f.sameMusic(at[0], ref) && !f.keeps(at[0], ref) {
				return -1
			}
			// Ordinals count every note of the address, a singer's too, of which no decision speaks.
			same = slices.DeleteFunc(slices.Clone(at), func(n int) bool { return f.addresses[n].Ordinal != ref.Ordinal })
		}
		at = same
	}
	if len(at) != 1 {
		return -1
	}
	if f.sameMusic(at[0], ref) || f.alike(at[0], ref) || f.keeps(at[0], ref) {
		return at[0]
	}
	return -1
}

// keeps says that a note stands in what is surely the measure of the one that is meant, that of the notes that are remembered of it
// nearly all stand there, and that it is on the staff that is told, if one is, and did not come into its place with an octave.
func (f *Finder) keeps(n int, ref *NoteRef) bool {
	if ref.table == nil || ref.Around.Staff > 0 && f.score.Notes[n].Staff != ref.Around.Staff {
		return false
	}
	w, measure := f.wholeOf(ref.table), f.addresses[n].Measure
	if w.at[ref.row] != measure || !w.kept[ref.row] || ref.row >= len(ref.table.known) {
		return false
	}
	known, now := ref.table.known[ref.row], w.now[measure]
	in := func(list []uint64, by int) bool {
		_, is := slices.BinarySearch(list, strokeKey(ref.Onset, ref.Grace, ref.Midi+by))
		return is
	}
	for _, by := range []int{-12, 12} {
		if in(known, by) && !in(now, by) && in(now, -by) && !in(known, -by) {
			return false
		}
	}
	return true
}

func (f *Finder) sameMusic(n int, ref *NoteRef) bool {
	return ref.Around.Music != "" && strings.HasPrefix(f.index.Context(n).Music, ref.Around.Music)
}

// alike reports whether the notes around a note are those around the one
// meant: most of the keys struck with it, and what follows or what comes before; or both of these.
func (f *Finder) alike(n int, ref *NoteRef) bool {
	if c := &ref.Around; len(ref.Near) > 0 && len(c.With)+len(c.Before)+len(c.After) == 0 {
		return f.nearAgree(n, ref)
	}
	c := f.index.Context(n)
	start := func(x, y []int) bool {
		k := min(len(x), len(y), 3)
		return slices.Equal(x[:k], y[:k])
	}
	common := 0
	for _, k := range c.With {
		if slices.Contains(ref.Around.With, k) {
			common++
		}
	}
	before, after := start(c.Before, ref.Around.Before), start(c.After, ref.Around.After)
	// A key struck with it may have been corrected: then what stands on either side has to be as it was.
	told := min(len(c.Before), len(ref.Around.Before), len(c.After), len(ref.Around.After)) >= leastNear
	return 2*common >= max(len(c.With), len(ref.Around.With)) && (before || after) || told && before && after
}
