package engrave

import (
	"regexp"
	"strings"

	"github.com/beevik/etree"
)

// Music symbols inside text need a music font, which a reader's machine has not and which would weigh on every page.
// They are written with what text fonts have instead: dynamics as letters, note values of a metronome mark as
// characters or words. The code points are those of SMuFL (ranges "Dynamics", "Metronome marks" and "Individual
// notes"), from memory and looked at in pictures.
var symbolTexts = map[rune]string{
	0xE520: "p", 0xE521: "m", 0xE522: "f", 0xE523: "r", 0xE524: "s", 0xE525: "z", 0xE526: "n",
	0xECA2: "𝅝", 0xECA3: "𝅗𝅥", 0xECA5: "♩", 0xECA7: "♪", 0xECA9: "𝅘𝅥𝅯", 0xECB7: ".",
	0xE1D2: "𝅝", 0xE1D3: "𝅗𝅥", 0xE1D5: "♩", 0xE1D7: "♪", 0xE1D9: "𝅘𝅥𝅯", 0xE1E7: ".",
	0xE260: "♭", 0xE261: "♮", 0xE262: "♯",
}

// spaceBeforeDot is the blank that the engraver leaves between a note and its dot, wide in a text font.
var spaceBeforeDot = regexp.MustCompile(`\s+\.`)

// plainSymbols rewrites the music symbols in the text of an element; symbols without a text of their own are left out.
func plainSymbols(element *etree.Element) {
	text := element.Text()
	if !strings.ContainsFunc(text, isMusicSymbol) {
		return
	}
	var plain strings.Builder
	dynamics := false
	for _, r := range text {
		switch symbol, known := symbolTexts[r]; {
		case known:
			plain.WriteString(symbol)
			dynamics = dynamics || 0xE520 <= r && r <= 0xE526
		case !isMusicSymbol(r):
			plain.WriteRune(r)
		}
	}
	element.SetText(spaceBeforeDot.ReplaceAllString(plain.String(), "."))
	element.RemoveAttr("font-family")
	if dynamics {
		element.CreateAttr("font-weight", "bold")
		element.CreateAttr("font-style", "italic")
	}
}

// isMusicSymbol knows the part of the private use area that SMuFL fills.
func isMusicSymbol(r rune) bool { return 0xE000 <= r && r <= 0xF8FF }
