package main

import (
	"strings"

	"github.com/spf13/cobra"
)

const completionExample = `  formbuck completion bash >~/.local/share/bash-completion/completions/formbuck
  formbuck completion fish >~/.config/fish/completions/formbuck.fish`

func newCompletion(a *app) *cobra.Command {
	shells := []string{"bash", "fish", "powershell", "zsh"}
	return &cobra.Command{
		Use:       "completion SHELL",
		Short:     "Write the script by which a shell completes formbuck's words",
		Long:      "Write the script by which a shell completes formbuck's words. SHELL is one of " + strings.Join(shells, ", ") + ".",
		Example:   completionExample,
		Args:      positional("SHELL", 1, 1),
		ValidArgs: shells,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch root := cmd.Root(); args[0] {
			case "bash":
				return root.GenBashCompletionV2(a.out, true)
			case "fish":
				return root.GenFishCompletion(a.out, true)
			case "powershell":
				return root.GenPowerShellCompletionWithDesc(a.out)
			case "zsh":
				return root.GenZshCompletion(a.out)
			}
			return misuse(cmd, "unknown shell %q; expected one of %s", args[0], strings.Join(shells, ", "))
		},
	}
}
