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

func newVersion(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Say which formbuck this is",
		Args:  positional("", 0, 0),
		RunE: func(_ *cobra.Command, _ []string) error {
			a.printf("formbuck %s\n", version())
			return nil
		},
	}
}
