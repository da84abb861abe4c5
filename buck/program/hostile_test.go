package program_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"formbuck/buck/program"
	"formbuck/buck/program/ngc"
	"formbuck/buck/program/runs"

	"gonum.org/v1/gonum/spatial/r2"
)

// What a program or run may take to be read and proved or refused. A busy machine, or the race detector, makes it ten
// times as long: the time itself is held to where FORMBUCK_HOSTILE asks for it.
const (
	mostTime   = 2 * time.Second
	busy       = 10
	mostMemory = 512 << 20 // bytes that are asked for in all, which is more than is held at once
)

// hostile is how many mutations are tried: as many as FORMBUCK_HOSTILE says, else a few.
func hostile(t *testing.T) int {
	if text := os.Getenv("FORMBUCK_HOSTILE"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil {
			t.Fatalf("FORMBUCK_HOSTILE=%s is no number", text)
		}
		return n
	}
	if testing.Short() {
		return 300
	}
	return 2000
}

// mutator changes the text of programs, knowing what they are made of.
type mutator struct{ *rand.Rand }

var (
	number = regexp.MustCompile(`-?[0-9]*\.?[0-9]+`)
	odd    = []string{
		"G0 Z-50", "G0", "G1 X0 Y0", "G1 Z-0.3 F100", "G2 I5", "G3 X1 Y1 R-9", "X", "Y-1e3", "Z-12", "F99999", "F1", "S1", "S0", "S99999", "M3", "M5", "M6", "T7", "T7 M6",
		"M0", "M2", "M30", "%", "G91", "G90.1", "G20", "G18", "G64", "G64 P9", "G61", "G92 Z9", "G10 L2", "G28", "G53 G0 Z0", "G54", "G55", "G41 D1", "G80", "G81 X9 Y9 Z-9 R9", "G83 Q0",
		"(", ")", ";", "(MSG, x)", "(LOGOPEN,x)", ";py,1", "(SET-UP SAFE Z0)", "(WORK 1 OF 1: a)", "(WORK 2 OF 2: b) G0 Z-9", "\rG0 Z-50\r", "\x00", "µ", "#1=2", "O1 call", "[1+1]", "/", "N1", "$H", "G4 P1", "M7", "M9", "", " ",
	}
	letter = regexp.MustCompile(`[A-Z]`)
)

// change makes one change to a line of the text; with all, also to the set-up.
func (m mutator) change(text string, all bool) string {
	lines := strings.Split(text, "\n")
	k := m.IntN(len(lines))
	for range 50 {
		if all || !strings.HasPrefix(lines[k], "(SET-UP") && !strings.HasPrefix(lines[k], "(WORK") {
			break
		}
		k = m.IntN(len(lines))
	}
	other := odd[m.IntN(len(odd))]
	switch m.IntN(9) {
	case 0:
		lines[k] = m.replaced(number, lines[k], m.number())
	case 1:
		lines[k] = m.replaced(letter, lines[k], string(rune('A'+m.IntN(26))))
	case 2:
		lines[k] += " " + other
	case 3:
		lines[k] = other + " " + lines[k]
	case 4:
		lines[k] += "\n" + other
	case 5:
		lines = append(lines[:k], lines[k+1:]...)
	case 6:
		j := m.IntN(len(lines))
		if all || !strings.HasPrefix(lines[j], "(SET-UP") {
			lines[k], lines[j] = lines[j], lines[k]
		}
	case 7:
		lines[k] = strings.Repeat(lines[k]+"\n", 1+m.IntN(5))
	default:
		lines[k] = lines[k][:m.IntN(len(lines[k])+1)]
	}
	return strings.Join(lines, "\n")
}

// replaced puts a word in place of one that is found.
func (m mutator) replaced(what *regexp.Regexp, line, by string) string {
	at := what.FindAllStringIndex(line, -1)
	if len(at) == 0 {
		return line
	}
	one := at[m.IntN(len(at))]
	return line[:one[0]] + by + line[one[1]:]
}

// number is one that a hand may have mistyped, or meant harm with.
func (m mutator) number() string {
	switch m.IntN(4) {
	case 0:
		return strconv.FormatFloat(400*(m.Float64()-0.5), 'f', m.IntN(5), 64)
	case 1:
		return strconv.FormatFloat(20*(m.Float64()-0.3), 'f', 3, 64)
	case 2:
		return strconv.Itoa(m.IntN(200) - 50)
	}
	return []string{"0", "-0", "1e9", "99999999", "0.0000001", "-.5", "."}[m.IntN(7)]
}

// bounded reads and proves a text, and fails where that takes too much.
func bounded(t *testing.T, text string) (works []runs.Work, err error) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	begun := time.Now()
	works, err = runs.Read("a.ngc", strings.NewReader(text))
	for _, w := range works {
		_, fault := program.Prove(w.Program)
		err = errors.Join(err, fault)
	}
	took := time.Since(begun)
	runtime.ReadMemStats(&after)
	var faults ngc.Faults
	if err != nil && !errors.As(err, &faults) {
		t.Errorf("no fault of a line: %v", err)
	}
	limit := mostTime
	if os.Getenv("FORMBUCK_HOSTILE") == "" {
		limit *= busy
	}
	if took > limit || after.TotalAlloc-before.TotalAlloc > mostMemory {
		t.Errorf("%d bytes took %v and %d MB", len(text), took, (after.TotalAlloc-before.TotalAlloc)>>20)
	}
	return works, err
}

// TestHostile changes programs and runs again and again, knowing what they are made of. None takes long, and of those
// whose set-up was left as it was and that prove, none does harm, as a reader of its own finds that knows nothing of
// the proof.
func TestHostile(t *testing.T) {
	drill, trim := drillText(t), trimText(t)
	run, err := runs.Join("two", []runs.Work{{Name: "a", Text: []byte(drill)}, {Name: "b", Text: []byte(trim)}})
	if err != nil {
		t.Fatal(err)
	}
	n, held := hostile(t), 0
	m := mutator{rand.New(rand.NewPCG(11, uint64(n)))}
	for i := range n {
		all := i%3 == 2
		text := []string{drill, trim, string(run)}[m.IntN(3)]
		for range 1 + m.IntN(3) {
			text = m.change(text, all)
		}
		works, err := bounded(t, text)
		if err != nil || all {
			continue
		}
		held++
		for _, w := range works {
			harmless(t, text, w)
		}
		if t.Failed() {
			t.Fatalf("change %d:\n%s", i, text)
		}
	}
	if held < n/50 {
		t.Errorf("only %d of %d changed programs prove: nothing was held to the reader apart", held, n)
	}
}

// harmless carries out the lines of a work, apart from ngc, and looks at every half mm below the safe height: no
// rapid across, and a drill over its holes alone, a cutter outside the line alone.
func harmless(t *testing.T, text string, w runs.Work) {
	t.Helper()
	lines := strings.Split(text, "\n")
	to := min(w.Program.Lines, len(lines))
	line, holes := sheath(), setup().Holes
	words := regexp.MustCompile(`([A-Z])[ \t]*([-+]?[0-9.]+)`)
	comments := regexp.MustCompile(`\([^)]*\)|;.*`)
	at := [3]float64{math.NaN(), math.NaN(), math.NaN()}
	mode, drill, speed, turning := -1.0, strings.Contains(strings.Join(lines[w.Line-1:to], "\n"), "(SET-UP DRILL"), 0.0, false
	for i := w.Line - 1; i < to; i++ {
		given := map[string]float64{}
		cycle := false
		for _, m := range words.FindAllStringSubmatch(strings.ToUpper(comments.ReplaceAllString(lines[i], "")), -1) {
			v, _ := strconv.ParseFloat(m[2], 64)
			switch {
			case m[1] == "G" && (v <= 3 || v >= 80 && v <= 83):
				mode = v
			case m[1] == "G" && v == 20:
				t.Errorf("line %d: in inches, and the set-up is in mm", i+1)
			case m[1] == "S":
				speed = v
			case m[1] == "M" && v == 3:
				turning = true
			case m[1] == "M" && (v == 5 || v == 6):
				turning = false
			}
			given[m[1]] = v
		}
		end := at
		for k, axis := range []string{"X", "Y", "Z"} {
			if v, ok := given[axis]; ok {
				end[k], cycle = v, mode >= 81
			}
		}
		low := min(at[2], end[2])
		if !(low < 20-1e-6) || mode == 80 || mode < 0 {
			at = end
			continue
		}
		here := r2.Vec{X: end[0], Y: end[1]}
		if cycle {
			end[2] = at[2]
		}
		switch {
		case mode == 0 && (end[0] != at[0] || end[1] != at[1]):
			t.Errorf("line %d: a rapid across at Z %g", i+1, low)
		case mode > 0 && (!turning || speed < 2499):
			t.Errorf("line %d: feeds at %g rpm", i+1, speed)
		case drill && mode > 0 && !over(holes, here):
			t.Errorf("line %d: drills at %v", i+1, here)
		case !drill && low < 14:
			for _, q := range walk(mode, r2.Vec{X: at[0], Y: at[1]}, here, r2.Vec{X: at[0] + given["I"], Y: at[1] + given["J"]}) {
				if line.Contains(q) || line.Distance(q) < 3.175-0.0051 {
					t.Errorf("line %d: the cutter is at %v, %.3f mm from the line", i+1, q, line.Distance(q))
					break
				}
			}
		}
		at = end
	}
}

func over(holes []program.Hole, at r2.Vec) bool {
	for _, h := range holes {
		if r2.Norm(r2.Sub(h.At, at)) < 0.0101 {
			return true
		}
	}
	return false
}

// walk are places along a line or an arc, half a mm apart.
func walk(mode float64, from, to, centre r2.Vec) (places []r2.Vec) {
	if mode < 2 {
		n := math.Ceil(r2.Norm(r2.Sub(to, from))/0.5) + 1
		for k := range int(n) + 1 {
			places = append(places, r2.Add(from, r2.Scale(float64(k)/n, r2.Sub(to, from))))
		}
		return places
	}
	a, b := r2.Sub(from, centre), r2.Sub(to, centre)
	first, last := math.Atan2(a.Y, a.X), math.Atan2(b.Y, b.X)
	if mode == 2 && last >= first-1e-12 {
		last -= 2 * math.Pi
	} else if mode == 3 && last <= first+1e-12 {
		last += 2 * math.Pi
	}
	radius := r2.Norm(a)
	n := math.Ceil(math.Abs(last-first)*radius/0.5) + 1
	for k := range int(n) + 1 {
		sin, cos := math.Sincos(first + (last-first)*float64(k)/n)
		places = append(places, r2.Add(centre, r2.Vec{X: radius * cos, Y: radius * sin}))
	}
	return places
}

// cut is the whole lines of a text's beginning.
func cut(text string, size int) string {
	text = text[:min(size, len(text))]
	return text[:strings.LastIndexByte(text, '\n')+1]
}

// TestLarge reads and proves, or refuses, what is made to take long: a few MB of motions, comments or set-up.
func TestLarge(t *testing.T) {
	drill, trim := drillText(t), trimText(t)
	into := func(at, lines string) string { return strings.Replace(trim, at, at+lines, 1) }
	var feeds, turns, corners strings.Builder
	for k := range 250_000 {
		fmt.Fprintf(&feeds, "G1 X%d.%d Y-%d\n", -20-k%9, k%10, 20+k%7)
		fmt.Fprintf(&turns, "G2 X225 Y-30 I%d J0\n", -1-k%4)
		fmt.Fprintf(&corners, "(SET-UP LINE TO X%g Y0 BULGE B0.1)\n", 6+float64(k)*1e-4)
	}
	down := "G0 X-20 Y-20\nG0 Z4.4\nG1 Z1 F500\n"
	for _, c := range []struct{ name, text, want string }{
		{"motions", into("(finish)\n", down+feeds.String()+"G0 Z20\n"), "too long for a program: at most 200000 motions, settings and comments are read"},
		{"fewer motions", into("(finish)\n", down+cut(feeds.String(), 2_000_000)+"G0 Z20\n"), "too much to be proved"},
		{"turns", into("(finish)\n", "G0 X225 Y-30\nG0 Z4.4\nG1 Z1 F500\n"+cut(turns.String(), 3_000_000)+"G0 Z20\n"), "too "},
		{"wide ways", into("(finish)\n", down+strings.Repeat("G1 X-20 Y90\nX-21 Y-30\n", 90_000)+"G0 Z20\n"), "too much to be proved"},
		{"comments", strings.Repeat("(a)\n", 1_500_000), "too long for a program"},
		{"one line", strings.Repeat("(a)", 1_500_000), "256 are allowed"},
		{"settings", strings.Repeat("G21 G90\n", 600_000), "too long for a program"},
		{"line", into("(SET-UP RAPID F3000)\n", cut(corners.String(), 4_000_000)), "more than 2000 set-up comments"},
		{"holes", into("(SET-UP RAPID F3000)\n", strings.Repeat("(SET-UP HOLE X60 Y52 D6.35 FROM Z2.4 TO Z0)\n", 90_000)), "more than 2000 set-up comments"},
		{"pecks", strings.ReplaceAll(drill, "Q3.175", "Q0.0002"), "makes more than 10000 pecks"},
		{"pecks of many holes", into("(finish)\n", "G98\n"+strings.Repeat("G83 X-20 Y-20 Z-9 R2 Q0.0012\n", 40_000)), "too long for a program"},
		{"stops", strings.Repeat("M0\n", 1_500_000), "too long for a program"},
		{"faults", strings.Repeat("U\n", 2_000_000), "and more from here on"},
		{"nothing", strings.Repeat("\x00", 8<<20), "is no printable ASCII character"},
		{"too long", strings.Repeat("\n", 9<<20), "too long for a program: at most 8 MB are read"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := bounded(t, c.text); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("\n     %.300v\nwant %s", err, c.want)
			}
		})
	}
}
