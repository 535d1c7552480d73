package engrave

import (
	"regexp"
	"strings"
)

// slimmed takes out of a drawing what only makes it larger: a whole score has tens of thousands of elements, and the
// page that holds it has to stay one file to send. Notes, digits, staves, measures and systems keep their elements.
var slimmed = []struct {
	what *regexp.Regexp
	with string
}{
	{regexp.MustCompile(` stroke-linecap="round" stroke-linejoin="round"`), ""},
	{regexp.MustCompile(`<g class="[^"]*"/>`), ""},
	// What holds one thing only is that thing.
	{regexp.MustCompile(` data-related="[^"]*"`), ""},
	{regexp.MustCompile(`<g class="(?:stem|lineDash|notehead|flag|artic|accid|keyAccid|dots|barLine)">` +
		`(<(?:path|use|ellipse|rect|polygon)[^>]*/>)</g>`), "$1"},
	{regexp.MustCompile(`<g class="(?:ledgerLines[^"]*|stem|barLine)">((?:<(?:path|use)[^>]*/>)+)</g>`), "$1"},
	{regexp.MustCompile(`translate\((-?[\d.]+), (-?[\d.]+)\)`), "translate($1 $2)"},
	{regexp.MustCompile(`scale\(0?(\.\d+), 0?(\.\d+)\)`), "scale($1 $2)"},
	// A text of one size says it once.
	{regexp.MustCompile(`font-size="0px"><tspan class="text"><tspan font-size="(\d+px)">([^<]*)</tspan></tspan></text>`),
		`font-size="$1"><tspan>$2</tspan></text>`},
	{regexp.MustCompile(`(M-?\d+) (-?\d+) L(-?\d+) (-?\d+)"`), `${1} ${2}L${3} ${4}"`},
}

func slim(svg string) string {
	for _, s := range slimmed {
		svg = s.what.ReplaceAllString(svg, s.with)
	}
	return straightRun.ReplaceAllStringFunc(svg, joined)
}

var (
	straightRun = regexp.MustCompile(`(?:<path d="M[-\d ]+L[-\d ]+" stroke-width="\d+"/>){2,}`)
	straight    = regexp.MustCompile(`<path d="(M[-\d ]+L[-\d ]+)" stroke-width="(\d+)"/>`)
)

// joined makes one path of straight lines that stand side by side and are equally thick, as those of a staff.
func joined(run string) string {
	var b strings.Builder
	lines, width := "", ""
	flush := func() {
		if lines != "" {
			b.WriteString(`<path d="` + lines + `" stroke-width="` + width + `"/>`)
		}
	}
	for _, line := range straight.FindAllStringSubmatch(run, -1) {
		if line[2] != width {
			flush()
			lines, width = "", line[2]
		}
		lines += line[1]
	}
	flush()
	return b.String()
}
