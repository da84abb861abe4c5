package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"formbuck/cmd/internal/disk"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

const manLong = `Write the pages of the manual into a folder, one for formbuck and one for each verb, in the
form that man reads. They are made from the very words that -h shows. Nothing is overwritten
without --force.`

const manExample = `  formbuck manual ~/.local/share/man/man1
  man formbuck-make`

func newManual(a *app) *cobra.Command {
	var asJSON, force bool
	cmd := &cobra.Command{
		Use:     "manual DIR",
		Short:   "Write the pages of the manual",
		Long:    manLong,
		Example: manExample,
		Args:    positional("DIR", 1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			written, err := manual(cmd.Root(), args[0], force)
			if err != nil {
				return err
			}
			if asJSON {
				return a.answerJSON(writtenAnswer{Written: written})
			}
			a.done("%s: %s written\n", args[0], count(len(written), "page"))
			return nil
		},
	}
	cmd.Flags().BoolVar(&force, "force", false, "overwrite files that are there already")
	jsonFlag(cmd, &asJSON)
	return cmd
}

// manual writes a page for the root and for every verb that is shown.
func manual(root *cobra.Command, dir string, force bool) (written []string, err error) {
	if err := disk.MakeDir(dir); err != nil {
		return nil, fmt.Errorf("%s: %w", dir, disk.Reason(err))
	}
	verbs := []*cobra.Command{root}
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() && c.Name() != "help" {
			verbs = append(verbs, c)
		}
	}
	for _, c := range verbs {
		path := filepath.Join(dir, pageName(c)+".1")
		if force {
			err = disk.Remove(path)
			if errors.Is(err, fs.ErrNotExist) {
				err = nil
			}
			if err != nil {
				return nil, fmt.Errorf("%s: %w", path, disk.Reason(err))
			}
		}
		if err := create(path, []byte(page(c, verbs)), "use --force to overwrite it"); err != nil {
			return nil, err
		}
		written = append(written, path)
	}
	return written, nil
}

// pageName is the name of a command's page: its path with hyphens.
func pageName(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

// manualDate is when the words of the manual were last read over: the same for the same program.
const manualDate = "2026-12-01"

// page is a command's page, in the macros of man(7).
func page(c *cobra.Command, all []*cobra.Command) string {
	var b strings.Builder
	section := func(title string) { fmt.Fprintf(&b, ".SH %s\n", title) }
	fmt.Fprintf(&b, ".TH %s 1 %s formbuck\n", strings.ToUpper(roff(pageName(c))), manualDate)
	section("NAME")
	fmt.Fprintf(&b, "%s \\- %s\n", roff(pageName(c)), roff(c.Short))
	section("SYNOPSIS")
	fmt.Fprintf(&b, ".B %s\n", roff(c.UseLine()))
	section("DESCRIPTION")
	for i, paragraph := range strings.Split(cmp.Or(c.Long, c.Short+"."), "\n\n") {
		if i > 0 {
			b.WriteString(".PP\n")
		}
		b.WriteString(roff(strings.TrimSpace(paragraph)) + "\n")
	}
	section("OPTIONS")
	options := func(f *pflag.Flag) { b.WriteString(option(f)) }
	c.NonInheritedFlags().VisitAll(options)
	c.InheritedFlags().VisitAll(options)
	if c.Example != "" {
		section("EXAMPLES")
		fmt.Fprintf(&b, ".nf\n%s\n.fi\n", roff(c.Example))
	}
	section("EXIT STATUS")
	b.WriteString("0 when all is well, 1 when the input is at fault, 2 when the command line is, and 3 when compare finds that a piece changed.\n")
	section("SEE ALSO")
	var others []string
	for _, o := range all {
		if o != c {
			others = append(others, roff(pageName(o))+"(1)")
		}
	}
	b.WriteString(strings.Join(others, ", ") + "\n")
	return b.String()
}

// option is one flag as an entry of a list.
func option(f *pflag.Flag) string {
	name := "--" + f.Name
	if f.Shorthand != "" {
		name = "-" + f.Shorthand + ", " + name
	}
	value, usage := pflag.UnquoteUsage(f)
	if value != "" {
		name += " " + value
	}
	return fmt.Sprintf(".TP\n.B %s\n%s\n", roff(name), roff(usage))
}

// roff is a text as it is written into a page: no sign of it is taken for a request.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, `-`, `\-`).Replace(text)
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, ".") || strings.HasPrefix(line, "'") {
			lines[i] = `\&` + line
		}
	}
	return strings.Join(lines, "\n")
}
