package main

import (
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// version is the module's version and, where it was built from a checkout, the commit.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	v := info.Main.Version
	if v == "" {
		v = "(devel)"
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			v += " " + s.Value
		}
	}
	return fmt.Sprintf("%s %s", v, info.GoVersion)
}

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
				return a.answerJSON(versionAnswer{version()})
			}
			a.printf("formbuck %s\n", version())
			return nil
		},
	}
	jsonFlag(cmd, &asJSON)
	return cmd
}
