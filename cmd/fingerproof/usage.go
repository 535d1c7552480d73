package main

import (
	"errors"
	"fmt"
	"strings"

	"fingerproof/corpus/strictyaml"
	"fingerproof/corpus/wording"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// takeWords goes through all commands and sees to it that a wrong use of each ends in words of ours and in a hint.
func takeWords(cmd *cobra.Command) {
	for _, c := range cmd.Commands() {
		takeWords(c)
	}
	switch check := cmd.Args; {
	case cmd.Parent() == nil: // it hints at commands itself
	case cmd.HasSubCommands():
		cmd.Args = func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return noSuchCommand(cmd, args[0])
		}
	case check != nil:
		cmd.Args = func(cmd *cobra.Command, args []string) error {
			err := check(cmd, args)
			if err == nil || strings.Contains(err.Error(), "\nhint: ") {
				return err
			}
			return fmt.Errorf("%s, with %s given\nhint: %s", usedAs(cmd), wording.Count(len(args), "word"), firstExample(cmd))
		}
	}
}

// usedAs says how a command is used.
func usedAs(cmd *cobra.Command) string {
	_, words, takes := strings.Cut(strings.TrimSuffix(cmd.Use, " [flags]"), " ")
	if !takes {
		return fmt.Sprintf("`%s` takes nothing but options", cmd.CommandPath())
	}
	return fmt.Sprintf("`%s` is used with %s", cmd.CommandPath(), words)
}

// firstExample is the first example of a command, else its help.
func firstExample(cmd *cobra.Command) string {
	if first, _, _ := strings.Cut(strings.TrimSpace(cmd.Example), "\n"); first != "" {
		return "as in: " + first
	}
	return fmt.Sprintf("`%s --help` says more", cmd.CommandPath())
}

// noSuchCommand says that a command has no command below it of that name, and which it has.
func noSuchCommand(cmd *cobra.Command, word string) error {
	var names []string
	for _, c := range cmd.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	hint := "it has " + wording.List(names)
	if near := strictyaml.Nearest(word, names); near != "" {
		hint = "did you mean `" + cmd.CommandPath() + " " + near + "`? " + strings.ToUpper(hint[:1]) + hint[1:]
	}
	return fmt.Errorf("%s has no command %q\nhint: %s", strings.TrimPrefix(cmd.CommandPath(), programName+" "), word, hint)
}

// wrongOption says in words of ours what is wrong with an option, and what it may have meant.
func wrongOption(cmd *cobra.Command, err error) error {
	hint := fmt.Sprintf("`%s --help` lists the options", cmd.CommandPath())
	var unknown *pflag.NotExistError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		var names []string
		cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		if near := strictyaml.Nearest(unknown.GetSpecifiedName(), names); near != "" {
			hint = fmt.Sprintf("did you mean --%s? ", near) + hint
		}
		if unknown.GetSpecifiedName() == "policy" && strings.HasPrefix(cmd.CommandPath(), programName+" policy ") {
			hint = fmt.Sprintf("a style or its file is named without an option, as in: %s performance", cmd.CommandPath())
		}
	case errors.As(err, &invalid):
		f := invalid.GetFlag()
		err = fmt.Errorf("--%s cannot be %q", f.Name, invalid.GetValue())
		if f.Value.Type() == "int" {
			hint = "it takes a whole number; " + hint
		}
	}
	return fmt.Errorf("%w\nhint: %s", err, hint)
}

const programName = "fingerproof"
