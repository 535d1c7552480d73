package main

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/cmd/fingerproof/handbook"
	"fingerproof/corpus"
	"fingerproof/pipeline/4_stages/14_redistribute"
	"fingerproof/policies"
	"fingerproof/rules/lint/all"

	"github.com/spf13/cobra"
)

// shells are those that completion writes a script for, and how each loads it.
var shells = []struct{ name, load string }{
	{"bash", "source <(fingerproof completion bash)   # in ~/.bashrc"},
	{"zsh", "fingerproof completion zsh > \"${fpath[1]}/_fingerproof\"   # once; then a new shell"},
	{"fish", "fingerproof completion fish > ~/.config/fish/completions/fingerproof.fish   # once"},
	{"powershell", "fingerproof completion powershell | Out-String | Invoke-Expression   # in $PROFILE"},
}

func newCompletionCommand(env *environment) *cobra.Command {
	var names, loads []string
	for _, s := range shells {
		names = append(names, s.name)
		loads = append(loads, fmt.Sprintf("  %-11s %s", s.name, s.load))
	}
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "Print the script by which a shell completes commands, options, pieces, rules and keys",
		Long: `completion prints a script for bash, zsh, fish or powershell. With it the shell completes commands and
options, the forms of reports, the pieces of the collection, the rules of lint and the keys of house
styles. To load it:

` + strings.Join(loads, "\n") + "\n" + exitStatusHelp,
		Example:   "  fingerproof completion bash",
		ValidArgs: names,
		Args:      cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			root := cmd.Root()
			switch args[0] {
			case "bash":
				return root.GenBashCompletionV2(env.Stdout, true)
			case "zsh":
				return root.GenZshCompletion(env.Stdout)
			case "fish":
				return root.GenFishCompletion(env.Stdout, true)
			case "powershell":
				return root.GenPowerShellCompletionWithDesc(env.Stdout)
			}
			return fmt.Errorf("there is no completion for %q\nhint: bash, zsh, fish or powershell", args[0])
		},
	}
}

// offer gives what a shell offers: words, and whether files are offered beside them.
type offer func(cmd *cobra.Command, args []string) (words []string, files bool)

// offers are what options are completed with, by command ("*" for every command that has the option) and option.
var offers = map[string]map[string]offer{
	"*": {
		"piece": pieceIDs, "fail-on": words("error", "warning", "note", "never"), "progress": words(progressJSON, progressNone),
		"policy": styleNames,
	},
	"run":            {"report": reportForms(reportFormats), "hand": handSizes},
	"lint":           {"report": reportForms(reportFormats), "hand": handSizes},
	"check":          {"report": reportForms(slices.Concat(checkFormats, []string{"page"})), "hand": handSizes},
	"pass":           {"hand": handSizes},
	"diff":           {"report": reportForms(diffFormats), "only": words("fingering", "text", "layout")},
	"explain":        {"hand": words("R", "L", "both")},
	"decisions take": {"rule": ruleNames, "reason": reasonNames, "hand": handSizes},
}

// arguments are what the words of commands are completed with.
var arguments = map[string]offer{
	"explain":            explained,
	"handbook":           chapterNames,
	"policy show":        styleNames,
	"policy verify":      styleNames,
	"decisions template": idsInFolder,
	"decisions enter":    idsInFolder,
	"decisions show":     idsInFolder,
}

// completeAll puts completion to all commands.
func completeAll(root *cobra.Command) {
	for _, cmd := range visibleCommands(root) {
		path := strings.TrimPrefix(strings.TrimPrefix(cmd.CommandPath(), programName), " ")
		if o := arguments[path]; o != nil {
			cmd.ValidArgsFunction = complete(o)
		}
		for _, group := range []string{"*", path} {
			for option, o := range offers[group] {
				if cmd.LocalNonPersistentFlags().Lookup(option) == nil {
					continue
				}
				if group == "*" && offers[path][option] != nil {
					continue
				}
				if err := cmd.RegisterFlagCompletionFunc(option, complete(o)); err != nil {
					panic(err) // the option is there
				}
			}
		}
	}
}

func complete(o offer) cobra.CompletionFunc {
	return func(cmd *cobra.Command, args []string, begun string) ([]cobra.Completion, cobra.ShellCompDirective) {
		list, files := o(cmd, args)
		var fit []cobra.Completion
		joined := false
		for _, word := range list {
			if strings.HasPrefix(word, begun) {
				fit = append(fit, word)
				joined = joined || strings.HasSuffix(word, "=")
			}
		}
		switch {
		case joined:
			return fit, cobra.ShellCompDirectiveNoSpace
		case files:
			return fit, cobra.ShellCompDirectiveDefault
		}
		return fit, cobra.ShellCompDirectiveNoFileComp
	}
}

func words(list ...string) offer {
	return func(*cobra.Command, []string) ([]string, bool) { return list, false }
}

var handSizes = words("octave", "ninth", "tenth")

func reportForms(formats []string) offer {
	var list []string
	for _, f := range formats {
		list = append(list, f+"=")
	}
	return func(*cobra.Command, []string) ([]string, bool) { return list, true }
}

func styleNames(*cobra.Command, []string) ([]string, bool) { return policies.Shipped(), true }

func ruleNames(*cobra.Command, []string) (names []string, files bool) {
	for _, r := range all.Rules() {
		names = append(names, r.Name)
	}
	return names, false
}

func reasonNames(*cobra.Command, []string) (names []string, files bool) {
	for _, r := range redistribute.Reasons {
		names = append(names, string(r))
	}
	return names, false
}

func chapterNames(*cobra.Command, []string) (names []string, files bool) {
	for _, c := range handbook.Chapters() {
		names = append(names, c.Name)
	}
	return append(names, referenceChapter), false
}

// explained are the rules and the keys that explain tells of, and scores; behind a collection its pieces.
func explained(_ *cobra.Command, args []string) ([]string, bool) {
	if len(args) > 0 {
		return idsOfPath(args[0]), false
	}
	names, _ := ruleNames(nil, nil)
	for _, k := range policies.Keys() {
		names = append(names, k.Path)
	}
	return append(names, idsOfPath(".")...), true
}

// pieceIDs are the pieces of the collection that the command line names so far: its first word, or --in.
func pieceIDs(cmd *cobra.Command, args []string) ([]string, bool) {
	if in := cmd.Flags().Lookup("in"); in != nil {
		return idsOfPath(in.Value.String()), false
	}
	if len(args) > 0 {
		return idsOfPath(args[0]), false
	}
	return idsOfPath("."), false
}

// idsInFolder are the pieces that a command takes as its first word.
func idsInFolder(cmd *cobra.Command, args []string) ([]string, bool) {
	if len(args) > 0 {
		return nil, true
	}
	return pieceIDs(cmd, nil)
}

// idsOfPath are the ids of a collection, none where it cannot be read.
func idsOfPath(path string) []string {
	c, err := corpus.Open(path)
	if err != nil {
		return nil
	}
	return idsOf(c)
}
