package main

import (
	"fmt"
	"io"
	"runtime"
	"runtime/debug"

	"fingerproof/cmd/fingerproof/thirdparty"
	"fingerproof/pipeline"
	"fingerproof/rules/hands"

	"github.com/spf13/cobra"
)

func newLicencesCommand(env *environment) *cobra.Command {
	return &cobra.Command{
		Use:   "licences",
		Short: "Print the licences of all that this program holds",
		Long: `licences prints under which terms this program may be passed on: its own
licence, where its fitted tables come from, and the licences and notices of all
modules that it was built from.
` + exitStatusHelp,
		Args: cobra.NoArgs,
		RunE: func(_ *cobra.Command, _ []string) error {
			return writeLicences(env.Stdout)
		},
	}
}

func writeLicences(w io.Writer) error {
	fmt.Fprint(w, "=== fingerproof\nThe program, its house styles, its facts and the demo collection: MIT licence, in the file LICENSE.\n")
	fmt.Fprintf(w, "\n=== The notice\n%s\n=== The fingered scores behind the tables\n%s", thirdparty.Notice, thirdparty.Sources)
	table := pipeline.ShippedWeights().Table()
	fmt.Fprintf(w, "\n=== The fitted table of weights %q\n%s.\n", table.Name, table.Provenance)
	for _, line := range table.Attribution {
		fmt.Fprintln(w, line)
	}
	fmt.Fprintf(w, "\n=== The fitted table of the hands\n%s.\n", hands.Provenance())
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return fmt.Errorf("this build does not record its modules, so their licences cannot be listed\n" +
			"hint: build it with the go command, or see cmd/fingerproof/thirdparty/texts in the source")
	}
	fmt.Fprintf(w, "\n=== The Go library %s\n", runtime.Version())
	writeTexts(w, "go")
	for _, module := range info.Deps {
		texts := thirdparty.Of(module.Path)
		if len(texts) == 0 {
			fmt.Fprintf(w, "\n=== %s %s\nnot collected: see the module's own files\n", module.Path, module.Version)
			continue
		}
		fmt.Fprintf(w, "\n=== %s %s\n", module.Path, module.Version)
		writeTexts(w, module.Path)
	}
	return nil
}

func writeTexts(w io.Writer, module string) {
	for _, t := range thirdparty.Of(module) {
		fmt.Fprintf(w, "--- %s\n%s\n", t.File, t.Text)
	}
}
