package main

import (
	"formbuck/buck"

	"github.com/spf13/cobra"
)

// versionAnswer is what version says as JSON.
type versionAnswer struct {
	Version string `json:"version"`
}

func newVersion(a *app) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "version",
		Short: "Say which formbuck this is",
		Args:  positional("", 0, 0),
		RunE: func(_ *cobra.Command, _ []string) error {
			if asJSON {
				return a.answerJSON(versionAnswer{buck.Version()})
			}
			a.printf("formbuck %s\n", buck.Version())
			return nil
		},
	}
	jsonFlag(cmd, &asJSON)
	return cmd
}
