package engine

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// handbookRow is a row of a table of scales or arpeggios: tonic pitch class, right and left hand upwards. Variants
// are told apart by a bar; a digit in brackets of the row's beginning may be any.
type handbookRow struct {
	tonics      []int
	right, left []string
}

// FACTS §4.1 [S]; second octaves of the minors [M], checked [D].
var majorScales = []handbookRow{
	{[]int{0, 7, 2, 9, 4}, []string{"123123412312345"}, []string{"543213214321321"}},
	{[]int{11}, []string{"123123412312345"}, []string{"432143213214321"}},
	{[]int{6}, []string{"234123123412312"}, []string{"432132143213214"}},
	{[]int{1}, []string{"231234123123412"}, []string{"321432132143213"}},
	{[]int{8}, []string{"341231234123123"}, []string{"321432132143213"}},
	{[]int{3}, []string{"312341231234123"}, []string{"321432132143213"}},
	{[]int{10}, []string{"412312341231234"}, []string{"321432132143213"}},
	{[]int{5}, []string{"123412312341234"}, []string{"543213214321321"}},
}

var minorScales = []handbookRow{
	{[]int{0, 7, 2, 9, 4}, []string{"123123412312345"}, []string{"543213214321321"}},
	{[]int{11}, []string{"123123412312345"}, []string{"432143213214321"}},
	{[]int{6}, []string{"341231234123123"}, []string{"432132143213214"}},
	{[]int{1}, []string{"341231234123123"}, []string{"321432132143213"}},
	{[]int{8}, []string{"341231234123123"}, []string{"321432132143213", "321321432132143"}},
	{[]int{3}, []string{"312341231234123"}, []string{"214321321432132"}},
	{[]int{10}, []string{"412312341231234"}, []string{"213214321321432"}},
	{[]int{5}, []string{"123412312341234"}, []string{"543213214321321"}},
}

var steps = map[string][]int{
	"major": {0, 2, 4, 5, 7, 9, 11}, "harmonic": {0, 2, 3, 5, 7, 8, 11}, "natural": {0, 2, 3, 5, 7, 8, 10},
	"melodic": {0, 2, 3, 5, 7, 9, 11},
}

// upAndDown lays a scale or broken chord over two octaves up and down; melodic minor comes down as natural.
func upAndDown(base int, up, down []int) (keys []int) {
	n := len(up)
	for i := 0; i <= 2*n; i++ {
		keys = append(keys, base+12*(i/n)+up[i%n])
	}
	for i := 2*n - 1; i >= 0; i-- {
		keys = append(keys, base+12*(i/n)+down[i%n])
	}
	return keys
}

func reverse(s string) string {
	b := []byte(s)
	for i, j := 0, len(b)-1; i < j; i, j = i+1, j-1 {
		b[i], b[j] = b[j], b[i]
	}
	return string(b)
}

// matches compares with a row up and its way down. Free, as FACTS §4.1 finds variants: the first and last note at the
// start and at the turn; on a black start also the second.
func matches(got string, up []string, down []string) bool {
	n := (len(got) + 1) / 2
	ok := func(got, row string, free ...int) bool {
		for i := range row {
			skip := false
			for _, f := range free {
				skip = skip || i == f
			}
			if !skip && got[i] != row[i] {
				return false
			}
		}
		return true
	}
	a, b := false, false
	for _, row := range up {
		a = a || ok(got[:n], row, 0, n-1)
	}
	for _, row := range down {
		b = b || ok(reverse(got[n-1:]), row, 0, n-1)
	}
	return a && b
}

func runScales(t *testing.T, kind string, rows []handbookRow) (right, all int) {
	for _, r := range rows {
		for _, tonic := range r.tonics {
			for _, h := range []fingering.Hand{fingering.Right, fingering.Left} {
				base, up, down := 60+tonic, r.right, r.right
				if h == fingering.Left {
					base, up, down = 36+tonic, r.left, r.left
				}
				descending := steps[kind]
				if kind == "melodic" {
					descending = steps["natural"]
				}
				if h == fingering.Right && kind == "melodic" && (tonic == 6 || tonic == 1) {
					up = []string{"231234123123412"}
				}
				got := digits(Finger(
					h, hand.NinthHand, effort.Delivered(), line(upAndDown(base, steps[kind], descending)...), asUsed,
				))
				all++
				if matches(got, up, down) {
					right++
				} else {
					t.Logf("%s on %d, %v: %s, handbook %s", kind, tonic, h, got, strings.Join(up, " or "))
				}
			}
		}
	}
	return right, all
}

// asUsed are the options under which the handbook's digits are asked for: the table alone, and with all aims, as the
// program asks, the network among them.
var asUsed = Options{}

// Both hold under the aims of the program, too.
func TestHandbookAsTheProgramAsks(t *testing.T) {
	asUsed.Aims = effort.PlainAims()
	defer func() { asUsed = Options{} }()
	t.Run("scales", TestHandbookScales)
	t.Run("arpeggios", TestHandbookArpeggios)
}

// FACTS §4.1: scales over two octaves up and down.
func TestHandbookScales(t *testing.T) {
	for _, c := range []struct {
		kind string
		rows []handbookRow
	}{{"major", majorScales}, {"harmonic", minorScales}, {"natural", minorScales}, {"melodic", minorScales}} {
		t.Run(c.kind, func(t *testing.T) {
			right, all := runScales(t, c.kind, c.rows)
			require.Equal(t, all, right)
		})
	}
}

// FACTS §4.2 [S], minors [CP]/[S]; seventh chords by the rule of FACTS §4.3 [D]. Nine in ten.
func TestHandbookArpeggios(t *testing.T) {
	white, white3, black := handbookRow{
		nil, []string{"1231235"}, []string{"5421421", "5321321"},
	}, handbookRow{nil, []string{"1231235"}, []string{"5321321", "5421421"}},
		handbookRow{nil, []string{"4124124"}, []string{"2142142"}}
	with := func(r handbookRow, tonics ...int) handbookRow { r.tonics = tonics; return r }
	sevenths := []handbookRow{}
	for _, c := range []struct {
		name  string
		steps []int
		rows  []handbookRow
	}{
		{
			"major", []int{0, 4, 7},
			[]handbookRow{
				with(white, 0, 5, 7), with(white3, 2, 9, 4, 11, 6), with(black, 1, 8, 3),
				{[]int{10}, []string{"4124124"}, []string{"3213213"}},
			},
		},
		{
			"minor", []int{0, 3, 7},
			[]handbookRow{
				with(white, 9, 2, 4, 11, 0, 5, 7, 3), with(black, 6, 1, 8),
				{[]int{10}, []string{"2312312"}, []string{"3213213"}},
			},
		},
		{"dominant seventh", []int{0, 4, 7, 10}, sevenths}, {"diminished seventh", []int{0, 3, 6, 9}, sevenths},
	} {
		t.Run(c.name, func(t *testing.T) {
			rows := c.rows
			if len(c.steps) == 4 {
				for root := range 12 {
					rows = append(rows, seventhByRule(c.steps, root))
				}
			}
			right, all := 0, 0
			for _, r := range rows {
				for _, tonic := range r.tonics {
					for _, h := range []fingering.Hand{fingering.Right, fingering.Left} {
						base, want := 60+tonic, r.right
						if h == fingering.Left {
							base, want = 36+tonic, r.left
						}
						got := digits(Finger(
							h, hand.NinthHand, effort.Delivered(), line(upAndDown(base, c.steps, c.steps)...),
							asUsed,
						))
						all++
						if matches(got, want, want) {
							right++
						} else {
							t.Logf("%s on %d, %v: %s, handbook %s", c.name, tonic, h, got, strings.Join(want, " or "))
						}
					}
				}
			}
			require.GreaterOrEqual(t, 10*right, 9*all, "%d of %d", right, all)
		})
	}
}

// seventhByRule lays out nine digits: from white 1234 and 5432; from black the right thumb on the first white key
// after the start, the left thumb as far on as it falls on white (FACTS §4.3 [T], applied [D]).
func seventhByRule(steps []int, root int) handbookRow {
	thumbs := func(left bool) string {
		at := 0
		if hand.Black(root) {
			order := []int{1, 2, 3}
			if left {
				order = []int{3, 2, 1}
			}
			for _, i := range order {
				if !hand.Black(root + steps[i]) {
					at = i
					break
				}
			}
		}
		var b strings.Builder
		for i := range 9 {
			d := (i - at + 4) % 4
			if left {
				d = (at - i + 8) % 4
			}
			fmt.Fprint(&b, d+1)
		}
		return b.String()
	}
	return handbookRow{[]int{root}, []string{thumbs(false)}, []string{thumbs(true)}}
}
