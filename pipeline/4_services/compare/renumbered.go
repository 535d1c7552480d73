package compare

import (
	"strconv"
	"strings"

	"fingerproof/corpus/wording"
)

// renumbered are measures with other numbers than they had, in the order of the music: those that follow each other with
// numbers as far apart are told as one.
type renumbered []renumberedRun

type renumberedRun struct {
	place      int // of the last of them among the spans
	count      int
	old, now   [2]string // the first number and the last
	apart      int       // the number of now less that of old; counted says that both are numbers
	counted    bool
	from       string // the number of the measure before them in the old score
	put, taken int    // measures put in and missing just before them
}

func (r *renumbered) add(c *comparison, place int, old, now string) {
	x, errX := strconv.Atoi(old)
	y, errY := strconv.Atoi(now)
	counted := errX == nil && errY == nil
	if k := len(*r) - 1; k >= 0 {
		if last := &(*r)[k]; counted && last.counted && last.apart == y-x && last.place == place-1 {
			last.place, last.count, last.old[1], last.now[1] = place, last.count+1, old, now
			return
		}
	}
	run := renumberedRun{place: place, count: 1, old: [2]string{old, old}, now: [2]string{now, now}, apart: y - x, counted: counted}
	k := place - 1
	for ; k >= 0 && !c.al.Spans[k].Paired(); k-- {
		run.put, run.taken = run.put+c.al.Spans[k].B.Len(), run.taken+c.al.Spans[k].A.Len()
	}
	if k >= 0 {
		run.from = strings.TrimSpace(c.a.score.Measures[c.al.Spans[k].A.To-1].Number)
	}
	*r = append(*r, run)
}

// mostRenumbered is how many runs of measures with other numbers are told one by one.
const mostRenumbered = 3

func (r renumbered) words() string {
	if len(r) == 0 {
		return ""
	}
	var said []string
	rest := 0
	for i := range r {
		if i < mostRenumbered {
			said = append(said, r[i].words())
		} else {
			rest += r[i].count
		}
	}
	if rest > 0 {
		said = append(said, wording.Count(rest, "measure")+" more")
	}
	return "numbers of measures, which not both files say that they print (" + strings.Join(said, "; ") + ")"
}

func (r *renumberedRun) words() string {
	said := "m. " + r.old[0] + " is now " + r.now[0]
	if r.count > 1 {
		said = "mm. " + r.old[0] + "–" + r.old[1] + " are now " + r.now[0] + "–" + r.now[1]
	}
	where := ", at the beginning"
	if r.from != "" {
		where = " after m. " + r.from
	}
	switch {
	case r.put > 0 && r.taken == 0:
		said = wording.Count(r.put, "measure") + " put in" + where + ": " + said
	case r.taken > 0 && r.put == 0:
		said = wording.Count(r.taken, "measure") + " taken out" + where + ": " + said
	}
	return said
}
