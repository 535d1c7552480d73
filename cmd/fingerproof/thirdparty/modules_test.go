package thirdparty

import (
	"os"
	"os/exec"
	"strings"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/stretchr/testify/require"
)

// Each module that the project asks for is named in the contributors' guide, with what it is for.
func TestTheGuideSaysWhatEachModuleIsFor(t *testing.T) {
	guide, err := os.ReadFile(shared.InProject("DEVELOPERS.md"))
	require.NoError(t, err)
	_, list, found := strings.Cut(string(guide), "### What it is built on")
	require.True(t, found)
	list, _, _ = strings.Cut(list, "\n## ")
	out, err := exec.Command("go", "list", "-m", "-f", "{{if not (or .Main .Indirect)}}{{.Path}}{{end}}", "all").Output()
	require.NoError(t, err)
	modules := strings.Fields(string(out))
	require.Greater(t, len(modules), 10)
	for _, module := range modules {
		require.Contains(t, list, "`"+module+"`")
	}
}
