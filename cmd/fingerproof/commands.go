package main

import "github.com/spf13/cobra"

// addCommands lists the commands, in the order in which work is done.
func addCommands(root *cobra.Command, env *environment) {
	root.AddCommand(
		newInitCommand(env),
		newRunCommand(env),
		newLintCommand(env),
		newDiffCommand(env),
		newDecisionsCommand(env),
		newWeighCommand(env),
		newPassCommand(env),
		newFitCommand(env),
		newCheckCommand(env),
		newJoinCommand(env),
		newExplainCommand(env),
		newPolicyCommand(env),
		newTakeBackCommand(env),
		newCacheCommand(env),
		newDefaultsCommand(env),
		newHandbookCommand(env),
		newManCommand(env),
		newCompletionCommand(env),
		newVersionCommand(env),
		newLicencesCommand(env),
		newEngraverCommand(env),
	)
}
