// Package anyknife invents fixed-blade knives as their makers' files show them: a drawing (DXF) and a variant file
// (TOML), drawn at random from a seed. The shape is random, not only its measures, and whatever a drawing may leave
// out is left out now and then. Nothing here knows the code that reads the files.
package anyknife

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"formbuck/buck/bucktest/sketch"
)

// Knife is one knife with its files.
type Knife struct {
	Seed  uint64
	Kind  string   // of the blade's shape
	Drawn []string // what the drawing shows and how, a word each
	Bare  bool     // the variant file states what it must, and what was asked for

	shape   *shape
	marks   marks
	form    form
	pose    sketch.Pose
	units   int
	stated  []setting
	further []setting // what the maker would answer, if he were asked
}

// setting is a key of the variant file with its value as it is written there.
type setting struct{ key, value string }

// New is the knife of a seed: the same one every time.
func New(seed uint64) *Knife {
	r := random{rand.New(rand.NewPCG(seed, 0x6b6e697665))}
	k := &Knife{Seed: seed, Bare: seed%2 == 0}
	k.shape = newShape(r)
	k.Kind = k.shape.kind
	k.marks = newMarks(r, k.shape)
	k.form = form(r.IntN(int(forms)))
	k.pose, k.units = newPose(r)
	k.Drawn = append(k.marks.words(), k.form.String())
	k.Drawn = append(k.shape.words, k.Drawn...)
	k.measures(r)
	return k
}

// Posed is the same knife with its drawing in another place, turned by deg, and mirrored where that is asked for.
func (k *Knife) Posed(deg float64, mirror bool) *Knife {
	out := *k
	out.pose.Deg += deg
	out.pose.Mirror = out.pose.Mirror != mirror
	out.pose.X, out.pose.Y = 31.7, -12.9
	out.further = append(out.direction(), k.further...)
	out.stated = slices.Clone(k.stated)
	for i, s := range out.stated {
		for _, d := range out.direction() {
			if s.key == d.key {
				out.stated[i] = d
			}
		}
	}
	return &out
}

// TOML is the variant file; its drawing lies beside it under the name.
func (k *Knife) TOML(drawing string) []byte {
	tables := map[string][]setting{"drawing": {{"file", fmt.Sprintf("%q", drawing)}}}
	names := []string{"drawing"}
	var top []setting
	for _, s := range k.stated {
		at := strings.LastIndex(s.key, ".")
		if at < 0 {
			top = append(top, s)
			continue
		}
		table := s.key[:at]
		if !slices.Contains(names, table) {
			names = append(names, table)
		}
		tables[table] = append(tables[table], setting{s.key[at+1:], s.value})
	}
	var b strings.Builder
	fmt.Fprintf(&b, "# seed %d: %s, %s\n", k.Seed, k.Kind, strings.Join(k.Drawn, ", "))
	for _, s := range top {
		fmt.Fprintf(&b, "%s = %s\n", s.key, s.value)
	}
	for _, name := range names {
		fmt.Fprintf(&b, "\n[%s]\n", name)
		for _, s := range tables[name] {
			fmt.Fprintf(&b, "%s = %s\n", s.key, s.value)
		}
	}
	return []byte(b.String())
}

// Answer states a key that a refusal names and that the maker knows, in the refusal's order; false where it names
// none that is not stated yet.
func (k *Knife) Answer(refusal string) (key string, ok bool) {
	best := len(refusal)
	var take setting
	for _, s := range k.further {
		at := strings.Index(refusal, s.key)
		stated := slices.ContainsFunc(k.stated, func(o setting) bool { return o.key == s.key })
		if at >= 0 && at < best && !stated {
			best, take = at, s
		}
	}
	if take.key == "" {
		return "", false
	}
	k.stated = append(k.stated, take)
	return take.key, true
}

// Turn is an angle in degrees by which the drawing may be turned further and still be read alike: a
// quarter where it lies along its sheet's axes or near them, since it is then taken to be meant so;
// else to where it lies as far from both as can be, and a little beside that.
func (k *Knife) Turn() float64 {
	const near = 25 // degrees: a long axis that droops comes no nearer to 15, within which it is taken to lie along an axis
	beside := math.Remainder(k.pose.Deg, 90)
	if math.Abs(beside) <= near {
		return 90
	}
	return math.Copysign(45.3, beside) - beside + 90
}

// State lets the variant file state a key, whatever it stated before.
func (k *Knife) State(key, value string) {
	for i, s := range k.stated {
		if s.key == key {
			k.stated = slices.Clone(k.stated)
			k.stated[i].value = value
			return
		}
	}
	k.stated = append(slices.Clone(k.stated), setting{key, value})
}

// Stated is the value of a key as the variant file has it; empty where it does not state it.
func (k *Knife) Stated(key string) string {
	for _, s := range k.stated {
		if s.key == key {
			return s.value
		}
	}
	return ""
}

// String says in a line what kind of knife it is.
func (k *Knife) String() string {
	return fmt.Sprintf("seed %d: %s, %s", k.Seed, k.Kind, strings.Join(k.Drawn, ", "))
}

// random draws figures.
type random struct{ *rand.Rand }

// in is a figure between two.
func (r random) in(low, high float64) float64 { return low + r.Float64()*(high-low) }

// one tells whether one of n holds.
func (r random) one(n int) bool { return r.IntN(n) == 0 }

// share tells whether what holds for a share of all holds here.
func (r random) share(p float64) bool { return r.Float64() < p }
