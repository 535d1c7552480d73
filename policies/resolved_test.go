package policies_test

import (
	"os"
	"path/filepath"
	"testing"

	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// A piece in a shipped style knows the volume's people, and it is told what of the volume's own style does not hold there.
func TestAPieceOfAnotherStyleKnowsTheVolumesPeople(t *testing.T) {
	file := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(file, []byte("extends: study\ntitle: Ours\nhand: tenth\nagents:\n  AB: Anna Berg\n  CD: Carl Dorn\n"), 0o644))
	volume, err := policies.Load(file)
	require.NoError(t, err)
	shipped, err := policies.Open("performance", "")
	require.NoError(t, err)
	require.Contains(t, volume.LostTo(shipped), "hand")

	own := shipped.Knowing(volume)
	require.Equal(t, "Anna Berg", own.Agent("AB"))
	require.Equal(t, "AB", shipped.Agent("AB"), "the style itself is as it was")
	require.Equal(t, []string{"hand"}, volume.LostTo(own), "no names, and no title")
	require.NoError(t, os.WriteFile(file, []byte("extends: performance\nagents: {AB: A. B.}\n"), 0o644))
	theirs, err := policies.Load(file)
	require.NoError(t, err)
	require.Equal(t, "A. B.", theirs.Knowing(volume).Agent("AB"), "a name of its own stands")
}
