package mill_test

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/program/ngc"
	"formbuck/buck/program/runs"
	"formbuck/testdata/size"
)

// group is the modal group of each word that small open controllers know, by the word list of one of them: wiki page
// "G code Quick Reference" of github.com/fra589/grbl-Mega-5X; groups as in NIST RS274/NGC, table 4 (from memory).
var group = map[string]string{
	"G4": "once", "G10": "once", "G28": "once", "G30": "once", "G53": "once", "G92": "once",
	"G0": "motion", "G1": "motion", "G2": "motion", "G3": "motion", "G80": "motion",
	"G17": "plane", "G18": "plane", "G19": "plane", "G90": "distance", "G91": "distance", "G91.1": "arcs",
	"G93": "feed", "G94": "feed", "G20": "units", "G21": "units", "G40": "radius", "G43.1": "length", "G49": "length",
	"G54": "system", "G55": "system", "G56": "system", "G57": "system", "G58": "system", "G59": "system", "G61": "path",
	"M0": "stop", "M2": "stop", "M30": "stop", "M3": "spindle", "M4": "spindle", "M5": "spindle", "M8": "coolant", "M9": "coolant",
}

var (
	inBrackets = regexp.MustCompile(`\([^()]*\)`)
	oneWord    = regexp.MustCompile(`^([A-Z])(-?[0-9]*\.?[0-9]+)`)
)

// strictly reads a program as a small open controller does: line by line, and the first line that it would refuse is
// the error. It shares nothing with the writer nor with formbuck's own reader.
func strictly(text string) error {
	var mode, feed string
	for n, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		rest := strings.ReplaceAll(inBrackets.ReplaceAllString(line, ""), " ", "")
		var groups []string
		words := map[string]float64{}
		for rest != "" {
			w := oneWord.FindStringSubmatch(rest)
			if w == nil {
				return fmt.Errorf("line %d: %q: a letter and a number expected", n+1, line)
			}
			rest = rest[len(w[0]):]
			value, err := strconv.ParseFloat(w[2], 64)
			if err != nil {
				return err
			}
			if w[1] != "G" && w[1] != "M" {
				if _, twice := words[w[1]]; twice || !strings.Contains("FIJKNPSXYZ", w[1]) {
					return fmt.Errorf("line %d: %q: word %s", n+1, line, w[0])
				}
				words[w[1]] = value
				continue
			}
			g, known := group[w[1]+strconv.FormatFloat(value, 'f', -1, 64)]
			if !known || slices.Contains(groups, g) {
				return fmt.Errorf("line %d: %q: %s is not known, or its group is there twice", n+1, line, w[0])
			}
			if groups = append(groups, g); g == "motion" {
				mode = w[0]
			}
		}
		if err := moves(words, groups, mode, &feed); err != nil {
			return fmt.Errorf("line %d: %q: %w", n+1, line, err)
		}
	}
	return nil
}

// moves looks whether a line has the words that its motion needs.
func moves(words map[string]float64, groups []string, mode string, feed *string) error {
	has := func(letter string) bool { _, is := words[letter]; return is }
	if has("F") {
		*feed = "set"
	}
	axes := has("X") || has("Y") || has("Z")
	switch {
	case slices.Contains(groups, "once") && !has("P"):
		return fmt.Errorf("P is missing")
	case has("P") && !slices.Contains(groups, "once"):
		return fmt.Errorf("P serves nothing")
	case axes && (mode == "" || mode == "G80"):
		return fmt.Errorf("axes without a motion")
	case slices.Contains(groups, "motion") && mode != "G80" && !axes:
		return fmt.Errorf("a motion without axes")
	case axes && mode != "G0" && *feed == "":
		return fmt.Errorf("no feed was ever set")
	case axes && (mode == "G2" || mode == "G3") && !has("I") && !has("J"):
		return fmt.Errorf("an arc without its centre")
	case (has("I") || has("J")) && mode != "G2" && mode != "G3":
		return fmt.Errorf("a centre without an arc")
	}
	return nil
}

// TestPlain writes the demos' programs in the plain dialect: the strict reader takes each, and the runs they are joined
// to; it refuses the same programs in full, at a word that it does not know. Both go the same ways, but for how far a
// peck's rapid comes back down.
func TestPlain(t *testing.T) {
	for _, name := range bucktest.Demos()[:size.Of(1, len(bucktest.Demos()), len(bucktest.Demos()))] {
		full := programs(t, of(t, name, nil))
		plain := programs(t, of(t, name, func(s *measures.Spec) {
			s.Mill.Dialect, s.Mill.ToolChange = measures.PlainDialect, measures.ByHand
		}))
		if len(plain) != len(full) {
			t.Errorf("%s: %d programs, %d in full", name, len(plain), len(full))
		}
		for title, p := range plain {
			if err := strictly(string(p.Text)); err != nil {
				t.Errorf("%s %s: %v", name, title, err)
			}
			if err := strictly(string(full[title].Text)); err == nil {
				t.Errorf("%s %s: the program in full was taken", name, title)
			}
			if !bytes.Contains(p.Text, []byte("M3\nG4 P")) {
				t.Errorf("%s %s does not wait for the spindle", name, title)
			}
			run, err := runs.Join("two", []runs.Work{{Name: "a", Text: p.Text}, {Name: "b", Text: p.Text}})
			if err != nil {
				t.Fatal(err)
			}
			if err := strictly(string(run)); err != nil {
				t.Errorf("%s %s, run: %v", name, title, err)
			}
			sameFeeds(t, name+" "+title, read(t, full[title]), read(t, p))
		}
	}
}

// sameFeeds compares where two programs feed.
func sameFeeds(t *testing.T, name string, a, b *ngc.Program) {
	t.Helper()
	feeds := func(p *ngc.Program) (list []ngc.Motion) {
		for _, m := range p.Motions {
			if m.Kind != ngc.Rapid && m.Kind != ngc.Dwell {
				list = append(list, m)
			}
		}
		return list
	}
	one, other := feeds(a), feeds(b)
	if len(one) != len(other) {
		t.Errorf("%s: %d feeds, %d in the plain dialect", name, len(one), len(other))
		return
	}
	for i := range one {
		p, q := one[i].To, other[i].To
		if math.Abs(p.X-q.X)+math.Abs(p.Y-q.Y)+math.Abs(p.Z-q.Z) > 1e-9 || one[i].Kind != other[i].Kind {
			t.Errorf("%s: feed %d goes to %v, plainly to %v", name, i+1, p, q)
			return
		}
	}
}
