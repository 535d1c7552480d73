package main

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/strictyaml"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"gopkg.in/yaml.v3"
)

// optionKind says how the value of an option is read where a manifest gives it.
type optionKind int

const (
	asWord    optionKind = iota // as it stands
	asPath                      // a path from the manifest's folder
	asReports                   // FORMAT=PATH, the path likewise; one or a list
)

// defaultable are the options for which a manifest may give a collection's own value, by command. What says who decides,
// or what is printed, is not among them: people say that each time, or the house style does.
var defaultable = map[string]map[string]optionKind{
	"run": {
		"out": asPath, "excerpts": asWord, "workers": asWord, "fail-on": asWord, "report": asReports, "progress": asWord,
		"cache": asPath, "no-cache": asWord, "path-prefix": asWord,
	},
	"lint": {
		"workers": asWord, "fail-on": asWord, "report": asReports, "progress": asWord, "baseline": asPath, "results": asPath,
		"cache": asPath, "no-cache": asWord, "path-prefix": asWord,
	},
	"check": {
		"workers": asWord, "report": asReports, "cache": asPath, "no-cache": asWord, "path-prefix": asWord,
	},
	"pass":           {"out": asPath, "workers": asWord},
	"decisions take": {"workers": asWord, "excerpts": asWord},
}

// setDefault is one option's value as a manifest gives it.
type setDefault struct {
	values []string
	place  string // collection.yaml:12
}

// defaultsOf reads what a manifest says of options, by command and option; nil where there is no manifest. All commands
// are looked at, so that a slip shows whatever is run.
func defaultsOf(root *cobra.Command, manifest string) (map[string]map[string]setDefault, error) {
	data, err := strictyaml.ReadFile(manifest)
	if err != nil {
		return nil, nil // whoever opens the collection says why
	}
	r, top, err := strictyaml.Parse(manifest, data)
	if err != nil || top == nil || top.Kind != yaml.MappingNode {
		return nil, nil
	}
	out := map[string]map[string]setDefault{}
	for i := 0; i+1 < len(top.Content); i += 2 {
		if top.Content[i].Value != corpus.DefaultsKey {
			continue
		}
		r.Mapping(top.Content[i+1], corpus.DefaultsKey, func(command string, k, v *yaml.Node) {
			if defaultable[command] == nil {
				r.Unknown(k, slices.Sorted(maps.Keys(defaultable)))
				return
			}
			out[command] = optionsOf(r, root, command, v)
		})
	}
	return out, r.Err()
}

// optionsOf reads what stands below one command.
func optionsOf(r *strictyaml.Reader, root *cobra.Command, command string, n *yaml.Node) map[string]setDefault {
	cmd, _, err := root.Find(strings.Fields(command))
	if err != nil {
		panic(err) // a test holds the table against the commands
	}
	out := map[string]setDefault{}
	r.Mapping(n, command, func(option string, k, v *yaml.Node) {
		kind, known := defaultable[command][option]
		if !known {
			r.Unknown(k, slices.Sorted(maps.Keys(defaultable[command])))
			return
		}
		d := setDefault{place: fmt.Sprintf("%s:%d", r.File, k.Line)}
		take := func(n *yaml.Node) {
			if value, ok := optionValue(r, n, cmd, option, kind); ok {
				d.values = append(d.values, value)
			}
		}
		if v.Kind == yaml.SequenceNode && kind == asReports {
			r.List(v, option, take)
		} else {
			take(v)
		}
		out[option] = d
	})
	return out
}

// optionValue reads one value, and refuses what the option could not be.
func optionValue(r *strictyaml.Reader, n *yaml.Node, cmd *cobra.Command, option string, kind optionKind) (string, bool) {
	if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
		r.Fault(n, option+" has no value that the command line could take", "write one value, as on the command line")
		return "", false
	}
	value, flag := n.Value, cmd.Flag(option)
	wrong := func(hint string) (string, bool) {
		r.Fault(n, fmt.Sprintf("%s cannot be %s", option, strictyaml.Quote(value)), hint)
		return "", false
	}
	switch kind {
	case asPath:
		return fromManifest(r.File, value), true
	case asReports:
		format, path, _ := strings.Cut(value, "=")
		if _, err := parseRequests([]string{value}, reportsOf(cmd.Name()), "json=findings.json"); err != nil {
			return wrong("FORMAT=PATH with a format of " + strings.Join(reportsOf(cmd.Name()), ", "))
		}
		if path == "-" {
			return value, true
		}
		return format + "=" + fromManifest(r.File, path), true
	}
	was := flag.Value.String()
	if err := flag.Value.Set(value); err != nil {
		return wrong("`fingerproof " + cmd.Name() + " --help` says what it takes")
	}
	if err := flag.Value.Set(was); err != nil {
		panic(err) // it was so before
	}
	if o := offers["*"][option]; o != nil && option != "policy" {
		if list, _ := o(cmd, nil); !slices.Contains(list, value) {
			return wrong(strings.Join(list, ", "))
		}
	}
	return value, true
}

// reportsOf are the forms of a command's reports.
func reportsOf(command string) []string {
	if command == "check" {
		return checkFormats
	}
	return reportFormats
}

// fromManifest is a path that starts from the manifest's folder, as it is named from the working folder.
func fromManifest(manifest, path string) string {
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(filepath.Dir(manifest), filepath.FromSlash(path))
}

// manifestOfCommand finds the manifest of the collection that a command works on, "" where there is none.
func manifestOfCommand(cmd *cobra.Command, args []string) string {
	path := "."
	if in := cmd.Flags().Lookup("in"); in != nil {
		path = in.Value.String()
	} else if len(args) > 0 {
		path = args[0]
	}
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return ""
	case info.IsDir():
		path = filepath.Join(path, corpus.ManifestName)
		if info, err = os.Stat(path); err != nil || !info.Mode().IsRegular() {
			return ""
		}
		return path
	case corpus.IsScore(path):
		return ""
	}
	return path
}

// takeDefaults gives a command's options the values that the manifest of its collection has for them, where the command
// line says nothing.
func takeDefaults(cmd *cobra.Command, args []string) error {
	command := strings.TrimPrefix(cmd.CommandPath(), programName+" ")
	if defaultable[command] == nil {
		return nil
	}
	manifest := manifestOfCommand(cmd, args)
	if manifest == "" {
		return nil
	}
	set, err := defaultsOf(cmd.Root(), manifest)
	if err != nil {
		return err
	}
	for option, d := range set[command] {
		flag := cmd.Flags().Lookup(option)
		if flag.Changed {
			continue
		}
		for _, value := range d.values {
			if err := flag.Value.Set(value); err != nil {
				return fmt.Errorf("%s: %s cannot be %q: %w", d.place, option, value, err)
			}
		}
	}
	return nil
}

const defaultsHelp = `defaults lists the options for which a collection may have a value of its own, with
the value that holds in PATH (the working folder where none is named) and where it
comes from. A collection's own values stand in its manifest, by command and option:

  defaults:
    run:
      excerpts: 4
      report: [sarif=findings.sarif, summary=summary.md]
    lint:
      fail-on: warning

What the command line says goes before them. Paths start from the manifest's folder.
Options that say who decides or what is printed are no defaults: people say those each
time, or the house style does.
`

func newDefaultsCommand(env *environment) *cobra.Command {
	return &cobra.Command{
		Use:     "defaults [PATH]",
		Short:   "Show which options a collection's manifest sets, and what holds",
		Long:    defaultsHelp + exitStatusHelp,
		Example: "  fingerproof defaults\n  fingerproof defaults collection.yaml",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			manifest := ""
			if len(args) == 1 {
				if _, err := corpus.Open(args[0]); err != nil {
					return err
				}
			}
			if manifest = manifestOfCommand(cmd, args); manifest == "" {
				fmt.Fprintf(env.Stderr, "there is no manifest here: what the program comes with holds\n")
			}
			set, err := defaultsOf(cmd.Root(), manifest)
			if err != nil {
				return err
			}
			for _, command := range slices.Sorted(maps.Keys(defaultable)) {
				of, _, err := cmd.Root().Find(strings.Fields(command))
				if err != nil {
					return err
				}
				for _, option := range slices.Sorted(maps.Keys(defaultable[command])) {
					value, from := inForce(of.Flags().Lookup(option), set[command][option])
					fmt.Fprintf(env.Stdout, "%-14s --%-12s %-28s %s\n", command, option, value, from)
				}
			}
			return nil
		},
	}
}

// inForce is the value of an option in words, and where it comes from.
func inForce(flag *pflag.Flag, d setDefault) (value, from string) {
	if d.place != "" {
		return strings.Join(d.values, " "), asTyped(d.place)
	}
	if flag.DefValue == "" || flag.DefValue == "[]" {
		return "-", "program"
	}
	return flag.DefValue, "program"
}
