package commentary

import (
	"html/template"
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// The specimens of the legend show every trait of a look; what encloses a digit stands in the specimen itself.
func TestEveryTraitOfALookIsShownInTheLegend(t *testing.T) {
	shown := map[template.CSS]bool{"": true}
	for _, style := range score.EachTrait() {
		if style.Enclosure != score.NoEnclosure {
			continue
		}
		require.False(t, shown[look(style)], "%+v is shown like another look", style)
		shown[look(style)] = true
	}
	require.Greater(t, len(shown), 3)
}
