package main

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"formbuck/buck/variant"

	"github.com/google/go-cmp/cmp"
)

const (
	readme     = "../../README.md"
	transcript = "```console\n"
	prompt     = "$ formbuck "
)

// TestReadmeTranscript runs the commands that the README shows and compares what they say. With
// UPDATE set it rewrites the README instead.
func TestReadmeTranscript(t *testing.T) {
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(data), transcript)
	shown, after, closed := strings.Cut(rest, "```")
	if !found || !closed || !strings.HasPrefix(shown, prompt) {
		t.Fatalf("README.md shows no transcript that begins with %q", prompt)
	}
	real := replay(t, shown)
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(readme, []byte(before+transcript+real+"```"+after), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(shown, real); diff != "" {
		t.Errorf("-README +real\n%s", diff)
	}
}

// TestReadmeKeys compares the README's table of keys with the keys that a variant file takes. With
// UPDATE set it rewrites the README instead.
func TestReadmeKeys(t *testing.T) {
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	const head = "| key | what it is | takes | without it |\n|---|---|---|---|\n"
	before, rest, found := strings.Cut(string(data), head)
	if !found {
		t.Fatal("README.md has no table of keys")
	}
	shown, after, _ := strings.Cut(rest, "\n\n")
	var real []string
	for _, k := range variant.Keys() {
		without := k.Default
		switch {
		case k.Required:
			without = "required"
		case without == "":
			without = k.Unset
		default:
			without = "`" + without + "`"
		}
		real = append(real, fmt.Sprintf("| `%s` | %s | %s | %s |", k.Path, k.Doc, k.Allowed(), without))
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(readme, []byte(before+head+strings.Join(real, "\n")+"\n\n"+after), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(strings.Split(shown, "\n"), real); diff != "" {
		t.Errorf("-README +real\n%s", diff)
	}
}

// replay runs the commands of a transcript in an empty folder and writes down what comes out.
func replay(t *testing.T, shown string) string {
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	defer t.Chdir(dir)
	var out bytes.Buffer
	for line := range strings.Lines(shown) {
		words, isCommand := strings.CutPrefix(line, prompt)
		if !isCommand {
			continue
		}
		out.WriteString(line)
		if status := run(strings.Fields(words), &out, &out); status != exitOK {
			t.Errorf("%s exits %d", strings.TrimSpace(line), status)
		}
	}
	return out.String()
}
