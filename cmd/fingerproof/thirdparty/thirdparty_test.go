package thirdparty

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Each module that a binary holds, on each system it is built for, has its licence here. The list is the Go command's.
func TestEveryModuleOfABinaryHasItsLicence(t *testing.T) {
	for _, system := range []string{"linux", "darwin", "windows"} {
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}{{end}}{{end}}", "fingerproof/cmd/fingerproof")
		list.Env = append(list.Environ(), "GOOS="+system, "CGO_ENABLED=0")
		out, err := list.Output()
		require.NoError(t, err)
		modules := strings.Fields(string(out))
		require.NotEmpty(t, modules)
		for _, module := range append(modules, "go") {
			require.NotEmpty(t, Of(module), "%s (%s): run .ci/licences", module, system)
			require.Contains(t, Of(module)[0].File, "LICEN", module)
		}
	}
}
