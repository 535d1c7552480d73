package pipeline_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fingerproof/pipeline"

	"github.com/stretchr/testify/require"
)

// A storey of the house. Imports point only down: a room may use the rooms of lower storeys, and none of its own.
type storey struct {
	number int
	name   string
	rooms  []roomOf
}

// roomOf is a folder with all packages below it. Where path ends in "/*" each folder below is a room of its own.
type roomOf struct {
	path string
	// steps orders rooms within a storey: a room may use those of its storey with a lower step. Stages have their numbers.
	step int
	// what the guide says of it; "" takes the first sentence of the package's documentation.
	what string
}

// afterStages is the step of rooms that may use every stage, and that no stage may use.
const afterStages = 100

// house is the table of storeys, from the roof down. The guide's table is drawn from it.
var house = []storey{
	{7, "commands", []roomOf{
		{path: "cmd/fingerproof", what: "the program: one file a command, with its options, its text and its exit status"},
		{path: "cmd/workbench", what: "measurements: fits the tables, evaluates, plants faults, takes times"},
	}},
	{6, "reports and checks", []roomOf{
		{path: "reports/*", what: "one package a form of report, writing only"},
		{path: "pipeline/6_checks/*"},
	}},
	{5, "the pipeline", []roomOf{
		{path: "pipeline", what: "the list of stages, the run of one piece, the run of a collection, working out again"},
	}},
	{4, "stages and services", []roomOf{
		{path: "pipeline/4_stages/*", what: "one stage a package, in their order (below); a stage uses only those before it"},
		{path: "pipeline/4_services/*", step: afterStages},
	}},
	{3, "records, lint, the engine", []roomOf{
		{path: "pipeline/3_records/*"},
		{path: "rules/lint", what: "the frame of the rules, and below it one rule a folder"},
		{path: "rules/engine"},
		{path: "rules/fit"},
	}},
	{2, "the search and what it costs", []roomOf{
		{path: "rules/effort"},
		{path: "rules/learned"},
		{path: "rules/lattice"},
		{path: "rules/parallel"},
		{path: "rules/places"},
		{path: "rules/hands"},
	}},
	{1, "formats, hands, house styles", []roomOf{
		{path: "corpus"},
		{path: "corpus/musicxml"},
		{path: "corpus/mei", step: 1},
		{path: "corpus/format", step: 2},
		{path: "corpus/align"},
		{path: "corpus/demo", what: "the invented collection that tests and documentation use"},
		{path: "policies"},
		{path: "rules/fingering"},
		{path: "rules/hand"},
	}},
	{0, "values", []roomOf{
		{path: "corpus/score"},
		{path: "corpus/source"},
		{path: "corpus/files"},
		{path: "corpus/strictyaml"},
		{path: "corpus/wording"},
		{path: "corpus/printwords"},
		{path: "corpus/shared"},
	}},
}

// neighbours are the uses within a storey that are allowed all the same, with the reason.
var neighbours = map[[2]string]string{
	{"reports/diffpage", "reports/engrave"}:  "a page embeds the notation that is drawn for it",
	{"reports/page", "reports/engrave"}:      "a page embeds the notation that is drawn for it",
	{"reports/personal", "reports/engrave"}:  "a page embeds the notation that is drawn for it",
	{"reports/personal", "reports/internal"}: "every report carries the same line of caution",
	{"reports/page", "reports/internal"}:     "every report carries the same line of caution",
	{"rules/effort", "rules/learned"}:        "the network is a part of a table of weights",
}

// room is a folder of the house with its place.
type room struct {
	path, what string
	height     int // the storey's number in thousands, and the step
}

var numbered = regexp.MustCompile(`^(\d\d)_[a-z]+$`)

// rooms lists every room, those of "/*" one by one.
func rooms(t *testing.T) []room {
	t.Helper()
	var out []room
	for _, s := range house {
		for _, r := range s.rooms {
			height := 1000*s.number + r.step
			parent, each := strings.CutSuffix(r.path, "/*")
			if !each {
				require.DirExists(t, filepath.Join("..", r.path), "a room that is not there")
				out = append(out, room{r.path, r.what, height})
				continue
			}
			entries, err := os.ReadDir(filepath.Join("..", parent))
			require.NoError(t, err)
			for _, e := range entries {
				if !e.IsDir() {
					continue
				}
				step := 0
				if m := numbered.FindStringSubmatch(e.Name()); m != nil {
					step, err = strconv.Atoi(m[1])
					require.NoError(t, err)
				}
				out = append(out, room{path.Join(parent, e.Name()), "", height + step})
			}
		}
	}
	return out
}

// roomIn gives the room of a package: the longest path that its own begins with.
func roomIn(t *testing.T, all []room, pkg string) room {
	t.Helper()
	var best room
	for _, r := range all {
		if (pkg == r.path || strings.HasPrefix(pkg, r.path+"/")) && len(r.path) > len(best.path) {
			best = r
		}
	}
	require.NotEmpty(t, best.path, "%s stands on no storey", pkg)
	return best
}

// eachFile visits the Go files of the project that are no tests. Tests may look at other rooms: they hold them
// against each other.
func eachFile(t *testing.T, visit func(file, pkg string)) {
	t.Helper()
	require.NoError(t, filepath.WalkDir("..", func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			hidden := strings.HasPrefix(d.Name(), ".") && d.Name() != ".."
			if d.Name() == "node_modules" || d.Name() == "testdata" || hidden {
				return filepath.SkipDir
			}
			return nil
		}
		if strings.HasSuffix(file, ".go") && !strings.HasSuffix(file, "_test.go") {
			visit(file, strings.TrimPrefix(filepath.ToSlash(filepath.Dir(file)), "../"))
		}
		return nil
	}))
}

func TestImportsPointOnlyDown(t *testing.T) {
	const module = "fingerproof/"
	all, fset, checked := rooms(t), token.NewFileSet(), 0
	unused := map[[2]string]bool{}
	for pair := range neighbours {
		unused[pair] = true
	}
	eachFile(t, func(file, pkg string) {
		f, err := parser.ParseFile(fset, file, nil, parser.ImportsOnly)
		require.NoError(t, err)
		from := roomIn(t, all, pkg)
		for _, i := range f.Imports {
			name, err := strconv.Unquote(i.Path.Value)
			require.NoError(t, err)
			other, ours := strings.CutPrefix(name, module)
			if !ours {
				continue
			}
			checked++
			to := roomIn(t, all, other)
			pair := [2]string{from.path, to.path}
			delete(unused, pair)
			if from.path == to.path || to.height < from.height || neighbours[pair] != "" {
				continue
			}
			require.Fail(t, "an import that does not point down", "%s (%s, %d) imports %s (%s, %d)",
				file, from.path, from.height, other, to.path, to.height)
		}
	})
	require.Empty(t, unused, "neighbours that do not use each other any more")
	require.Greater(t, checked, 500, "the walk saw too little to mean anything")
}

// The stages in the list are the folders in their order: a reader sees them from the tree alone.
func TestEachStageIsAFolderInItsOrder(t *testing.T) {
	entries, err := os.ReadDir("4_stages")
	require.NoError(t, err)
	var folders, stages []string
	for _, e := range entries {
		folders = append(folders, e.Name())
	}
	for i, s := range pipeline.Stages {
		number := strconv.Itoa(i + 1)
		stages = append(stages, strings.Repeat("0", 2-len(number))+number+"_"+s.Name)
	}
	require.Equal(t, stages, folders)
	require.True(t, slices.IsSorted(folders))
}
