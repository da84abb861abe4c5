package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"formbuck/buck/bucktest/anyknife"
)

// tryKnives is a program of its own: for each seed it writes the maker's files into a folder and asks the verbs. It says
// what it is about to do, a line each, and what came of a knife.
func tryKnives() {
	dir := os.Args[1]
	for _, text := range os.Args[2:] {
		var seed uint64
		var deep depth
		if _, err := fmt.Sscanf(text, "%d:%d", &seed, &deep); err != nil {
			panic(err)
		}
		tr := &trial{knife: anyknife.New(seed), dir: filepath.Join(dir, fmt.Sprintf("seed-%d", seed)), deep: deep}
		if os.Getenv("FORMBUCK_ONEHAND") != "" {
			tr.knife.State("hands", fmt.Sprintf("[%q]", handNames()[seed%4]))
		}
		tr.met.Seed, tr.met.Knife = seed, tr.knife.String()
		began := time.Now()
		tr.run()
		tr.met.Took = time.Since(began).Seconds()
		line, err := json.Marshal(tr.met)
		if err != nil {
			panic(err)
		}
		fmt.Printf("met %s\n", line)
	}
}

// trial is one knife under trial.
type trial struct {
	knife *anyknife.Knife
	dir   string
	deep  depth
	met   met

	answer []byte // to what was asked last
}

// depth is how much is asked of a knife.
type depth int

// The depths. From making on, properties of what is written are looked at.
const (
	reading depth = iota // the files are read
	laying               // the draw is looked at, and the sheath laid out
	making               // the job is made, and what is written judged
	all                  // every verb, for every hand
)

// run is everything that is asked of a knife.
func (tr *trial) run() {
	tr.must(os.RemoveAll(tr.dir))
	tr.must(os.MkdirAll(tr.dir, 0o777))
	tr.put("knife.dxf", tr.knife.DXF())
	tr.ask("profile", tr.at("knife.dxf"))
	tr.met.Made = tr.stated()
	if tr.met.Made {
		tr.verbs()
	}
	tr.finish()
}

// verbs asks whatever comes after the first answer, as far down as the trial goes.
func (tr *trial) verbs() {
	toml, job := tr.at("knife.toml"), tr.at("job")
	switch tr.deep {
	case reading:
		return
	case laying:
		tr.ask("draw", "--json", "--step", "0.3", toml)
		return
	case all:
		for _, h := range handNames() {
			tr.handed(h, "draw", "--json", "--step", "0.2", toml)
			tr.handed(h, "layout", "--json", toml)
		}
		one := handNames()[tr.knife.Seed%4]
		tr.handed(one, "make", toml, "--paper", "letter", "-o", tr.at("job-"+one))
		tr.handed(one, "make", toml, "--piece", "buck", "-o", tr.at("whole"))
		if code, said := tr.ask("compare", toml, toml); code != exitOK {
			tr.fault("compare: a variant is not as itself: " + firstLine(said))
		}
		tr.turned()
		tr.witness()
	}
	tr.written(job)
}

// handed asks a verb for a hand, where one is named.
func (tr *trial) handed(hand string, args ...string) {
	if hand != "" {
		args = append(args, "--hand", hand)
	}
	tr.ask(args...)
}

// attempts are how often a maker tries again with a key that a refusal names.
const attempts = 10

// stated asks the verb of the trial's depth, with what each refusal asks for, as long as it asks for what the maker knows.
func (tr *trial) stated() bool {
	toml, job := tr.at("knife.toml"), tr.at("job")
	for range attempts {
		tr.put("knife.toml", tr.knife.TOML("knife.dxf"))
		var code int
		var said string
		switch tr.deep {
		case reading:
			code, said = tr.read(toml)
		case laying:
			code, said = tr.ask("layout", "--json", toml)
		default:
			code, said = tr.ask("make", toml, "-o", job)
		}
		if code == exitOK {
			tr.met.Warned = warnings(said)
			return true
		}
		key, ok := tr.knife.Answer(firstLine(said))
		if !ok {
			tr.met.Why, tr.met.Refused = firstLine(said), reasonOf(said)
			return false
		}
		tr.met.Stated = append(tr.met.Stated, key)
	}
	tr.met.Refused = "asks for ever more"
	return false
}

// read reads the variant and its drawing as every verb does, and no more.
func (tr *trial) read(toml string) (code int, said string) {
	fmt.Printf("seed %d: read\n", tr.knife.Seed)
	if _, err := design(order{variant: toml}); err != nil {
		return exitFault, "formbuck: " + err.Error()
	}
	return exitOK, ""
}

// written asks the verbs that judge what was written.
func (tr *trial) written(job string) {
	for _, kind := range []string{"*.stl", "*.3mf"} {
		files, err := filepath.Glob(filepath.Join(job, kind))
		tr.must(err)
		if len(files) == 0 {
			tr.fault("make: wrote no " + kind)
			continue
		}
		if code, said := tr.ask(append([]string{"inspect", "--json"}, files...)...); code != exitOK {
			tr.fault("inspect: " + firstLine(said))
		}
	}
	programs, err := filepath.Glob(filepath.Join(job, "*.ngc"))
	tr.must(err)
	for _, p := range programs {
		if code, said := tr.ask("prove", p); code != exitOK {
			tr.fault("prove: " + firstLine(said))
		}
	}
}

// gateWords are of faults that are the program's own and no maker's.
var gateWords = regexp.MustCompile(`fault of formbuck's own|non-manifold|bodies apart|self-intersection|degenerate|sliver|inverted|not closed|open edge|duplicate triangle|no volume|NaN|Inf\b|index out|nil pointer`)

// ask runs a verb and holds it to what holds for all.
func (tr *trial) ask(args ...string) (code int, said string) {
	short := slices.Clone(args)
	for i, a := range short {
		short[i] = strings.TrimPrefix(a, tr.dir+string(filepath.Separator))
	}
	name := strings.Join(short[:min(len(short), 6)], " ")
	fmt.Printf("seed %d: %s\n", tr.knife.Seed, name)
	before := tr.held()
	var out, errs bytes.Buffer
	code = run(args, &out, &errs)
	tr.answer = out.Bytes()
	said = errs.String()
	if code != exitOK && code != exitFault && !(args[0] == "compare" && code == exitOther) {
		tr.fault(fmt.Sprintf("%s: exit status %d: %s", name, code, firstLine(said)))
	}
	if code == exitFault {
		if !slices.Equal(before, tr.held()) {
			tr.fault(name + ": exit status 1, and files were written")
		}
		if !strings.HasPrefix(said, "formbuck: ") {
			tr.fault(name + ": exit status 1 without a word")
		}
		if line := gateLine(said); line != "" {
			tr.fault(name + ": the program's own fault: " + line)
		}
	}
	if code == exitOK && args[0] == "draw" || args[0] == "layout" {
		if i := strings.Index(out.String(), "NaN"); i >= 0 {
			tr.fault(name + ": NaN in the answer")
		}
	}
	return code, said
}

// held are the files below the trial's folder.
func (tr *trial) held() []string {
	var names []string
	tr.must(filepath.WalkDir(tr.dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			names = append(names, path)
		}
		return err
	}))
	return names
}

func (tr *trial) at(name string) string { return filepath.Join(tr.dir, name) }

func (tr *trial) put(name string, data []byte) { tr.must(os.WriteFile(tr.at(name), data, 0o666)) }

func (tr *trial) must(err error) {
	if err != nil {
		panic(err)
	}
}

func (tr *trial) fault(text string) { tr.met.Faults = append(tr.met.Faults, text) }

// finish keeps the files of a knife that failed, where they are to be kept; all others go.
func (tr *trial) finish() {
	if netFolder() == "" || len(tr.met.Faults) == 0 && os.Getenv("FORMBUCK_SEED") == "" {
		tr.must(os.RemoveAll(tr.dir))
	}
}

// warnings are those among the lines, without what stands before them.
func warnings(said string) []string {
	var texts []string
	for line := range strings.Lines(said) {
		if _, text, ok := strings.Cut(line, "formbuck: warning: "); ok {
			texts = append(texts, strings.TrimSpace(text))
		}
	}
	return texts
}

func firstLine(said string) string {
	for line := range strings.Lines(said) {
		if !strings.Contains(line, "warning: ") {
			return strings.TrimSpace(line)
		}
	}
	return said
}

func gateLine(said string) string {
	for line := range strings.Lines(said) {
		if gateWords.MatchString(line) && !strings.Contains(line, "knife.dxf:") {
			return strings.TrimSpace(line)
		}
	}
	return ""
}

var (
	whereAt = regexp.MustCompile(`^formbuck: \S+?: (\S+line \d+: |\d+: |line \d+: )?`)
	numbers = regexp.MustCompile(`-?\d+(\.\d+)?`)
)

// reasonOf is a refusal without what is this knife's own: its places and figures.
func reasonOf(said string) string {
	text := whereAt.ReplaceAllString(firstLine(said), "")
	text = numbers.ReplaceAllString(text, "#")
	return text[:min(len(text), 110)]
}
