package main

import (
	"bytes"
	"io"
	"strings"

	"github.com/spf13/cobra"
)

const completionExample = `  formbuck completion bash >~/.local/share/bash-completion/completions/formbuck
  formbuck completion fish >~/.config/fish/completions/formbuck.fish`

// completionAnswer is what completion says as JSON.
type completionAnswer struct {
	Shell  string `json:"shell"`
	Script string `json:"script"`
}

func newCompletion(a *app) *cobra.Command {
	shells := []string{"bash", "fish", "powershell", "zsh"}
	var asJSON bool
	cmd := &cobra.Command{
		Use:       "completion SHELL",
		Short:     "Write the script by which a shell completes formbuck's words",
		Long:      "Write the script by which a shell completes formbuck's words. SHELL is one of " + strings.Join(shells, ", ") + ".",
		Example:   completionExample,
		Args:      positional("SHELL", 1, 1),
		ValidArgs: shells,
		RunE: func(cmd *cobra.Command, args []string) error {
			write, known := completionOf(cmd.Root(), args[0])
			switch {
			case !known:
				return misuse(cmd, "unknown shell %q; expected one of %s", args[0], strings.Join(shells, ", "))
			case !asJSON:
				return write(a.out)
			}
			var b bytes.Buffer
			if err := write(&b); err != nil {
				return err
			}
			return a.answerJSON(completionAnswer{args[0], b.String()})
		},
	}
	jsonFlag(cmd, &asJSON)
	return cmd
}

// completionOf is what writes the script for a shell.
func completionOf(root *cobra.Command, shell string) (write func(io.Writer) error, known bool) {
	switch shell {
	case "bash":
		return func(w io.Writer) error { return root.GenBashCompletionV2(w, true) }, true
	case "fish":
		return func(w io.Writer) error { return root.GenFishCompletion(w, true) }, true
	case "powershell":
		return root.GenPowerShellCompletionWithDesc, true
	case "zsh":
		return root.GenZshCompletion, true
	}
	return nil, false
}

// takes are the endings of the files that the arguments of each verb name.
var takes = map[string][]string{
	"make": {"toml"}, "watch": {"toml"}, "compare": {"toml"}, "draw": {"toml"}, "layout": {"toml"}, "fixture": {"toml"},
	"profile": {"dxf"}, "batch": {"csv"}, "inspect": {"stl", "3mf"}, "prove": {"ngc"},
}

// offer lets a shell complete a verb's arguments and flags by the files and folders that they are.
func offer(c *cobra.Command) {
	c.ValidArgsFunction = func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		if endings := takes[c.Name()]; endings != nil {
			return endings, cobra.ShellCompDirectiveFilterFileExt
		}
		if c.Name() == "manual" {
			return nil, cobra.ShellCompDirectiveFilterDirs
		}
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	offered := func(name string, directive cobra.ShellCompDirective, endings ...string) {
		if c.Flags().Lookup(name) == nil {
			return
		}
		// An error would be a flag that is not there, or one that was offered twice.
		_ = c.RegisterFlagCompletionFunc(name, func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return endings, directive
		})
	}
	for _, dir := range []string{"output", "ngc"} {
		offered(dir, cobra.ShellCompDirectiveFilterDirs)
	}
	offered("shop", cobra.ShellCompDirectiveFilterFileExt, "toml")
}
