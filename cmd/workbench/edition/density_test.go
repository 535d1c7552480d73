package edition

import (
	"testing"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/opendatatest"

	"github.com/stretchr/testify/require"
)

// The densities of the handbook (policies, key density) are those of much music: 44 notes in a hundred in study, 24 in
// performance. Over every fourth fingered piece, as if no digit stood in it, the page stays near them, and a denser style has
// more. What a reader needs comes on top of what editors are likely to print, and pieces differ much, so the bound is wide.
func TestThePageIsAboutAsDenseAsIsAskedFor(t *testing.T) {
	c, err := opendata.EveryNth(opendata.Place(opendatatest.Folder(t), "fingered"), 4)
	require.NoError(t, err)
	m := newThinning()
	for i := range c.Pieces {
		w := m.thin(c, &c.Pieces[i])
		require.NoError(t, w.failed)
		m.add(&w)
	}
	require.Zero(t, m.lost)
	share := map[string]float64{}
	for _, d := range m.densities {
		require.Greater(t, d.struck, 20000, "enough notes to mean anything")
		share[d.name] = 100 * float64(d.printed) / float64(d.struck)
	}
	t.Logf("%d pieces: %v", len(c.Pieces), share)
	require.InDelta(t, 44, share["study"], 6)
	require.InDelta(t, 24, share["performance"], 6)
	require.Less(t, share["sparse"], share["performance"])
	require.Less(t, share["performance"], share["study"])
}
