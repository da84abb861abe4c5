package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"formbuck/buck/variant"
	"formbuck/cmd/internal/disk"
	"formbuck/testdata"

	"github.com/spf13/cobra"
)

const newLong = `Write a variant file to start from, NAME.toml, with every key explained, and beside it a
drawing, NAME.dxf. The pair can be made as it is; put your own drawing and measures in
their place. The variant is named for its file, so that a copy under another name is a variant
of its own. NAME may lead with a folder. Nothing is overwritten: where NAME.dxf is your drawing,
give another NAME, and write file = "..." under [drawing].`

const newExample = `  formbuck new hunter
  formbuck make hunter.toml
  formbuck new "orders/order 17"`

// starterDrawing is the demo drawing that a new variant begins with.
const starterDrawing = "thistle.dxf"

func newNew(a *app) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "new NAME",
		Short:   "Write a variant file and a drawing to start from",
		Long:    newLong,
		Example: newExample,
		Args:    positional("NAME", 1, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			stem := strings.TrimSuffix(args[0], ".toml")
			if end := filepath.Ext(stem); isKnown(end) {
				return fmt.Errorf("%s: NAME is written without %s: formbuck new %s", args[0], end, shellWord(strings.TrimSuffix(stem, end)))
			}
			defer a.hold()() // both files, or neither
			if err := starter(stem); err != nil {
				return err
			}
			if asJSON {
				return a.answerJSON(writtenAnswer{Written: []string{stem + ".toml", stem + ".dxf"}})
			}
			a.done("wrote %s.toml and %s.dxf; next: formbuck make %s\n", stem, stem, shellWord(stem+".toml"))
			return nil
		},
	}
	jsonFlag(cmd, &asJSON)
	return cmd
}

// writtenAnswer is what a verb that writes files says as JSON.
type writtenAnswer struct {
	Written []string `json:"written"`
}

// jsonFlag gives a verb the flag by which it answers as JSON.
func jsonFlag(cmd *cobra.Command, on *bool) {
	cmd.Flags().BoolVar(on, "json", false, "answer with one line of JSON")
}

// starter writes the pair of files that begins with stem, or neither.
func starter(stem string) error {
	text, err := variant.Starter(filepath.Base(stem))
	if err != nil {
		return fmt.Errorf("%s: %w", stem, err)
	}
	drawing, err := testdata.FS.ReadFile(starterDrawing)
	if err != nil {
		return err
	}
	advice := "give another name"
	if _, err := os.Stat(stem + ".toml"); err != nil {
		advice += fmt.Sprintf("; if it is your drawing, write file = %q under [drawing] in the new variant file", filepath.Base(stem)+".dxf")
	}
	if err := create(stem+".dxf", drawing, advice); err != nil {
		return err
	}
	if err := create(stem+".toml", text, "give another name"); err != nil {
		return errors.Join(err, disk.Remove(stem+".dxf"))
	}
	return nil
}

// shellWord is the word as it is typed into a shell.
func shellWord(word string) string {
	plain := func(r rune) bool {
		return r > 127 || strings.ContainsRune("-_./+:@%,", r) || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z'
	}
	if word != "" && strings.IndexFunc(word, func(r rune) bool { return !plain(r) }) < 0 {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}
