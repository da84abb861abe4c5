package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"formbuck/buck/bucktest/anyknife"
)

// met is what came of one knife.
type met struct {
	Seed    uint64
	Knife   string
	Made    bool
	Refused string   // by what: the key or the class
	Why     string   // in the program's words
	Stated  []string // keys that were stated because a refusal named them
	Faults  []string // what must not be
	Warned  []string
	Took    float64 // s
}

// netFolder keeps the files of knives that failed: FORMBUCK_NET, else nothing is kept.
func netFolder() string { return os.Getenv("FORMBUCK_NET") }

// task is a knife to try, and how deeply.
type task struct {
	seed uint64
	deep depth
}

// tasks are the knives to try: FORMBUCK_SEED names one, FORMBUCK_KNIVES says how many from FORMBUCK_FROM on, with all that
// there is to ask of them, or as much as FORMBUCK_DEPTH says. Without these 300 are read, and fewer are asked more.
func tasks(t *testing.T) (list []task) {
	t.Helper()
	number := func(name string, otherwise int) int {
		text := os.Getenv(name)
		if text == "" {
			return otherwise
		}
		n, err := strconv.Atoi(text)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	deep := depth(number("FORMBUCK_DEPTH", int(all)))
	if seed := number("FORMBUCK_SEED", -1); seed >= 0 {
		return []task{{uint64(seed), deep}}
	}
	n, from := number("FORMBUCK_KNIVES", 0), uint64(max(0, number("FORMBUCK_FROM", 0)))
	for s := range uint64(n) {
		list = append(list, task{from + s, deep})
	}
	if n > 0 {
		return list
	}
	made, read := madeSeeds, uint64(300)
	if testing.Short() {
		made, read = made[:2], 40
	}
	t.Setenv("FORMBUCK_ONEHAND", "1")
	for _, s := range made {
		list = append(list, task{s, making})
	}
	for s := range read {
		if !slices.Contains(made, s) {
			list = append(list, task{s, reading})
		}
	}
	return list
}

// madeSeeds are of knives that are made for one hand each, 2 to 6 s of a processor: every kind of outline, and every layer
// there and absent, is among them, which TestNetIsBroad holds them to. The last two could not be made once: fillers that met
// along a canted draw, and one whose cheeks a tang that stands out of the handle parts from what is beside.
var madeSeeds = []uint64{163, 191, 127, 143, 158, 184, 193, 199, 219, 201, 649}

// TestNetIsBroad holds the knives that are made by default to what there is.
func TestNetIsBroad(t *testing.T) {
	with, without := map[string]bool{}, map[string]bool{}
	optional := []string{"grind", "throat", "edge", "tip", "handle-none", "handle-line", "handle-loop", "unitless"}
	hands := map[uint64]bool{}
	for _, seed := range madeSeeds {
		k := anyknife.New(seed)
		with[k.Kind], hands[seed%4] = true, true
		for _, w := range k.Drawn {
			with[w] = true
		}
		for _, w := range optional {
			if !slices.Contains(k.Drawn, w) {
				without[w] = true
			}
		}
	}
	special := []string{"guard", "ring", "skeleton", "concentric", "hidden-tang", "blade-alone", "dropped-heel", "notch", "frame-own"}
	for _, w := range slices.Concat(anyknife.Kinds(), anyknife.Forms(), optional, special) {
		if !with[w] {
			t.Errorf("no knife is made with %s", w)
		}
	}
	for _, w := range optional {
		if !without[w] {
			t.Errorf("no knife is made without %s", w)
		}
	}
	if len(hands) != len(handNames()) {
		t.Errorf("made for %d hands of %d", len(hands), len(handNames()))
	}
}

// TestKnives draws knives at random and asks every verb of each, as their makers would.
//
//	FORMBUCK_KNIVES=3000 go test -run TestKnives -timeout 12h -v ./cmd/formbuck    as many, every verb, every hand
//	FORMBUCK_SEED=17 go test -run TestKnives -v ./cmd/formbuck                      that one alone
//	FORMBUCK_NET=DIR                                                                keep the files of those that fail
func TestKnives(t *testing.T) {
	list := tasks(t)
	began := time.Now()
	all := tryAll(t, list)
	tally := map[string]int{}
	made, took := 0, 0.0
	for _, m := range all {
		took += m.Took
		for _, f := range m.Faults {
			t.Errorf("%s: %s\n    alone: FORMBUCK_SEED=%d FORMBUCK_NET=DIR go test -run TestKnives -v ./cmd/formbuck", m.Knife, f, m.Seed)
		}
		if m.Made {
			made++
			continue
		}
		tally[m.Refused]++
		if os.Getenv("FORMBUCK_SEED") == "" && os.Getenv("FORMBUCK_KNIVES") == "" && slices.Contains(madeSeeds, m.Seed) {
			t.Errorf("%s: is to be made, and is refused: %s", m.Knife, m.Why)
		}
	}
	t.Logf("%d knives: %d made, %d refused, %.0f s, %.2f s each", len(all), made, len(all)-made, time.Since(began).Seconds(), took/float64(len(all)))
	for _, why := range slices.SortedFunc(maps.Keys(tally), func(a, b string) int { return tally[b] - tally[a] }) {
		t.Logf("%5d refused by %s", tally[why], why)
	}
}

// tryAll tries the knives in processes of their own, so that a crash ends the one and names it.
func tryAll(t *testing.T, list []task) []met {
	t.Helper()
	const crews = 2
	var lock sync.Mutex
	var all []met
	var wait sync.WaitGroup
	for crew := range crews {
		var mine []task
		for i, s := range list {
			if i%crews == crew {
				mine = append(mine, s)
			}
		}
		wait.Go(func() {
			for len(mine) > 0 {
				got := tryRow(t, mine)
				lock.Lock()
				all = append(all, got...)
				lock.Unlock()
				mine = mine[min(len(got), len(mine)):]
			}
		})
	}
	wait.Wait()
	slices.SortFunc(all, func(a, b met) int { return int(a.Seed) - int(b.Seed) })
	return all
}

// tryRow tries knives in one process, up to the first that crashes it.
func tryRow(t *testing.T, list []task) []met {
	dir := netFolder()
	if dir == "" {
		dir = t.TempDir()
	}
	args := []string{dir}
	for _, s := range list {
		args = append(args, fmt.Sprintf("%d:%d", s.seed, s.deep))
	}
	cmd := exec.Command("formbuck-knives", args...)
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Error(err)
		return make([]met, len(list))
	}
	var all []met
	doing := ""
	for lines := bufio.NewScanner(out); lines.Scan(); {
		text, isMet := strings.CutPrefix(lines.Text(), "met ")
		if !isMet {
			doing = lines.Text()
			continue
		}
		var m met
		if err := json.Unmarshal([]byte(text), &m); err != nil {
			t.Error(err)
		}
		if os.Getenv("FORMBUCK_TELL") != "" {
			fmt.Fprintf(os.Stderr, "%s\n", text)
		}
		all = append(all, m)
	}
	if err := cmd.Wait(); err != nil && len(all) < len(list) {
		seed := list[len(all)].seed
		m := met{Seed: seed, Knife: fmt.Sprintf("seed %d", seed), Refused: "crash", Faults: []string{doing + ": crashes: " + crash(errs.String())}}
		if os.Getenv("FORMBUCK_TELL") != "" {
			text, _ := json.Marshal(m)
			fmt.Fprintf(os.Stderr, "%s\n", text)
		}
		all = append(all, m)
	}
	return all
}

// crash is what a panic says, with the first places of our own.
func crash(text string) string {
	var lines []string
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		place := strings.Contains(line, ".go:") && (strings.Contains(line, "/buck/") || strings.Contains(line, "/profile/") || strings.Contains(line, "/mesh/") || strings.Contains(line, "/cmd/formbuck/"))
		if strings.HasPrefix(line, "panic") || strings.HasPrefix(line, "fatal") || place {
			lines = append(lines, filepath.Base(line))
		}
		if len(lines) > 5 {
			break
		}
	}
	return strings.Join(lines, " < ")
}
