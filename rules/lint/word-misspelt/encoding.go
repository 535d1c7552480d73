package wordmisspelt

import (
	"fmt"
	"regexp"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// broken reads letters whose two bytes were taken for two letters: “Ã¤” for “ä” (UTF-8 read as Latin-1).
var broken = regexp.MustCompile(`[ÃÂ][\x{80}-\x{BF}]|Ã[ŸŠŽœžšƒ„…†‡ˆ‰‹‘’“”•–—™›]|â€|Å[\x{80}-\x{BF}‚›„]`)

// encoding reports words and syllables whose letters were broken on the way from one program to another.
func encoding(p *lint.Inspection) {
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		switch i.Kind {
		case score.ItemWords, score.ItemTempo, score.ItemLyric, score.ItemTitle, score.ItemCreator, score.ItemCredit:
			if broken.MatchString(i.Reading) {
				p.ReportItem(i, lint.Finding{
					Message: fmt.Sprintf("the letters of “%.40s” were broken by their encoding", i.Reading), Fix: "write the letters anew", Together: "encoding",
				})
			}
		}
	}
}
