package variant

import (
	"math/big"
	"slices"
	"strings"

	"formbuck/buck/measures"
)

// moreTable is the table of the further bosses: each is a table of its own in it, with a name of the user's.
const moreTable = "standoff.more"

// maxMore is how many further bosses there may be.
const maxMore = 6

// MoreKeys are the keys of a further boss of the name; there are as many as bosses are named.
func MoreKeys(name string) []Key {
	rows := moreRows(name)
	keys := make([]Key, len(rows))
	for i, r := range rows {
		keys[i] = r.Key
	}
	return keys
}

// mountOf is the further boss of the name.
func mountOf(v *Variant, name string) *measures.Mount {
	all := &v.Spec.Standoff.More
	i := slices.IndexFunc(*all, func(m measures.Mount) bool { return m.Name == name })
	if i < 0 {
		i = len(*all)
		*all = append(*all, measures.Mount{Name: name, Plate: v.Spec.Plate})
	}
	return &(*all)[i]
}

// moreRows are the keys of the further boss of a name. What is not its own is as it is for the first.
func moreRows(name string) []row {
	path := func(key string) string { return join(join(moreTable, name), key) }
	plate := func(key, from, doc string, most float64, into func(*measures.Plate) *float64) row {
		return row{
			Key: Key{
				Path: path(key), Kind: Length, Unset: "as " + from, Example: `"20 mm"`, Range: Range{Max: most, Above: true},
				Doc: doc, Source: given,
			},
			into:   func(v *Variant) any { return into(&mountOf(v, name).Plate) },
			reckon: func(n numbers) *big.Rat { return n[from] },
		}
	}
	placement := placementRows(join(moreTable, name), placed{
		x:    "where the further boss of that name has its middle, along the blade from the throat towards the tip",
		y:    "where it has its middle, across the blade from its axis towards the spine",
		cant: "turn of its long axis, from the tip's direction towards the spine's",
		fit:  "added to the gap between its underside and the blade; less than 0 is tighter",
	}, func(v *Variant) *measures.Placement { return &mountOf(v, name).Placement })
	x := &placement[0]
	x.Required, x.Default, x.Example, x.Range.Max = true, "", `"75 mm"`, 600
	return append(
		placement,
		row{
			Key: Key{
				Path: path("height"), Kind: Length, Default: "0", Range: Range{Max: 80},
				Doc:    "height of its top over the knife's middle; 0: as the plate and the clip ask",
				Source: given,
			},
			into: func(v *Variant) any { return &mountOf(v, name).Height },
		},
		plate("plate_length", "plate.length", "length of its plate", 150, func(p *measures.Plate) *float64 { return &p.Length }),
		plate("plate_width", "plate.width", "width of its plate", 60, func(p *measures.Plate) *float64 { return &p.Width }),
		plate("post_spacing", "plate.post_spacing", "distance of its plate's posts", 150, func(p *measures.Plate) *float64 { return &p.PostSpacing }),
	)
}

// boss takes in the further boss that a path belongs to, if it is the path of one or of something in its table.
func (s *schema) boss(path string) {
	name, inside := strings.CutPrefix(path, moreTable+".")
	name, _, _ = strings.Cut(name, ".")
	if !inside || faultOfBoss(name) != "" {
		return
	}
	if _, known := s.more[name]; known || len(s.more) == maxMore {
		return
	}
	rows := moreRows(name)
	s.more[name] = rows
	for i := range rows {
		s.byPath[rows[i].Path] = &rows[i]
	}
}

// bosses are the names of the further bosses, sorted.
func (s *schema) bosses() []string {
	names := make([]string, 0, len(s.more))
	for name := range s.more {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// all are the rows of every key, those of the further bosses last.
func (s *schema) all() []*row {
	var all []*row
	for i := range s.rows {
		all = append(all, &s.rows[i])
	}
	for _, name := range s.bosses() {
		for i := range s.more[name] {
			all = append(all, &s.more[name][i])
		}
	}
	return all
}

// faultOfBoss says why a text cannot be a further boss's name, or "".
func faultOfBoss(name string) string {
	plain := func(r rune) bool { return r >= 'a' && r <= 'z' || r >= '0' && r <= '9' }
	if name == "" || len(name) > 20 || strings.ContainsFunc(name, func(r rune) bool { return !plain(r) }) {
		return "a further boss has a name of small letters and digits, at most 20"
	}
	return ""
}

// refuseBoss tells, of an unknown path in the table of the further bosses, what is wrong with it; "" elsewhere.
func (s *schema) refuseBoss(path string) string {
	name, inside := strings.CutPrefix(path, moreTable+".")
	if !inside {
		return ""
	}
	name, _, _ = strings.Cut(name, ".")
	if why := faultOfBoss(name); why != "" {
		return why
	}
	if _, known := s.more[name]; !known {
		return "more than " + short(maxMore) + " further bosses"
	}
	return ""
}
