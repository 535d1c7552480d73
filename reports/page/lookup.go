package page

import (
	"strconv"

	"fingerproof/pipeline/3_records/state"
)

// lookup finds notes and measures of a piece's results, which a page asks for again and again.
type lookup struct {
	of      *state.Result
	size    int
	notes   state.ByNumber
	numbers map[int]string // of measures in which notes stand, by index, as printed
	inside  map[int][]int  // by measure: places in Result.Notes, in their order
}

// look gives the lookup of the results, which is made when it is first asked for.
func (m *Material) look() *lookup {
	if l := m.lookup; l != nil && l.of == m.Result && l.size == len(m.Result.Notes) {
		return l
	}
	l := &lookup{
		of: m.Result, size: len(m.Result.Notes), notes: m.Result.ByNumber(),
		numbers: map[int]string{}, inside: map[int][]int{},
	}
	for i := range m.Result.Notes {
		n := &m.Result.Notes[i]
		if n.Measure != "" && l.numbers[n.MeasureIndex] == "" {
			l.numbers[n.MeasureIndex] = n.Measure
		}
		l.inside[n.MeasureIndex] = append(l.inside[n.MeasureIndex], i)
	}
	m.lookup = l
	return l
}

// number is the number of a measure as printed; of one without notes it is counted.
func (m *Material) number(measure int) string {
	if number := m.look().numbers[measure]; number != "" {
		return number
	}
	return strconv.Itoa(measure + 1)
}
