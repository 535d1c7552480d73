package pipeline_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// storeys says on which storey each room stands; the longest name that a
// package's path begins with counts, and all packages below it are one room.
//
// Four rooms stand elsewhere than first drawn: reports/engrave one storey down, since pages embed what it draws; rules/hand one storey down,
// since effort prices spans of a hand; rules/engine beside lint, as the door
// that joins lattice and effort, which may not know each other, with rules/fit
// beside it, which fits its weights.
var storeys = map[string]int{
	"cmd/fingerproof": 7, "cmd/workbench": 7,
	"reports/account": 6, "reports/page": 6, "reports/commentary": 6, "reports/results": 6, "reports/text": 6, "reports/sarif": 6, "reports/junit": 6, "reports/annotations": 6, "reports/summary": 6, "reports/folder": 6, "reports/engrave": 5, "reports/corrections": 6,
	"reports/difftext": 6, "reports/diffjson": 6, "reports/diffpage": 6, "reports/internal": 5,
	"pipeline": 5, "pipeline/6_checks": 6,
	"pipeline/4_stages":           4,
	"pipeline/4_services/compare": 4, "pipeline/4_services/habits": 4, "pipeline/4_services/reasons": 4, "pipeline/4_services/keying": 4, "pipeline/4_services/passed": 5,
	"rules/lint": 3, "pipeline/3_records": 3, "rules/engine": 3, "rules/fit": 3,
	"rules/effort": 2, "rules/lattice": 2, "rules/runs": 2, "rules/parallel": 2, "rules/hands": 2,
	"corpus/musicxml": 1, "corpus/align": 1, "rules/fingering": 1, "rules/hand": 1, "policies": 1, "corpus": 1, "corpus/demo": 1,
	"corpus/score": 0, "corpus/source": 0, "corpus/strictyaml": 0, "corpus/wording": 0, "corpus/shared": 0,
}

// room gives the room a package belongs to.
func room(t *testing.T, pkg string) string {
	best := ""
	for r := range storeys {
		if (pkg == r || strings.HasPrefix(pkg, r+"/")) && len(r) > len(best) {
			best = r
		}
	}
	require.NotEmpty(t, best, "%s stands on no storey", pkg)
	return best
}

func TestImportsPointOnlyDown(t *testing.T) {
	const module = "fingerproof/"
	fset, checked := token.NewFileSet(), 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "node_modules" || d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && d.Name() != "..") {
			return filepath.SkipDir
		}
		// Tests may look at other rooms: they hold them against each other.
		if d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(fset, path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		pkg := strings.TrimPrefix(filepath.ToSlash(filepath.Dir(path)), "../")
		from := room(t, pkg)
		for _, i := range f.Imports {
			name, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			other, ours := strings.CutPrefix(name, module)
			if !ours {
				continue
			}
			checked++
			to := room(t, other)
			require.True(t, to == from || storeys[to] < storeys[from], "%s (storey %d) imports %s (storey %d)", path, storeys[from], other, storeys[to])
		}
		return nil
	})
	require.NoError(t, err)
	require.Greater(t, checked, 50, "the walk saw too little to mean anything")
}
