package variant

import (
	"fmt"
	"strings"
)

// Starter is a variant file to begin with: the required keys with sample values, and every other
// key commented out, with what it means, what it may be and what holds without it. The drawing that
// it names is the variant's name with .dxf. The error is a *Fault without a place, for a name that
// cannot begin file names.
func Starter(name string) ([]byte, error) {
	if reason := faultOfName(name); reason != "" {
		return nil, &Fault{Key: "name", Problem: BadText, Found: quoted(name), Hint: reason}
	}
	var b strings.Builder
	b.WriteString(preface)
	table := ""
	for _, key := range Keys() {
		if key.Table() != table {
			table = key.Table()
			b.WriteString("\n" + comment(intro(table)) + "[" + table + "]\n")
		}
		writeKey(&b, key, name)
		if key.Path == "standoff.mark" {
			b.WriteString(furtherBoss())
		}
	}
	return []byte(b.String()), nil
}

// furtherBoss is a further boss, commented out.
func furtherBoss() string {
	const sample = "low"
	var b strings.Builder
	b.WriteString("\n" + comment("Further bosses on the same faces, as many as "+short(maxMore)+": each is a table with a name of yours, in small letters and digits."))
	fmt.Fprintf(&b, "#   [%s.%s]\n", moreTable, sample)
	for _, key := range MoreKeys(sample) {
		b.WriteString(comment(key.Name() + ": " + meaningOf(key)))
		fmt.Fprintf(&b, "#   %s = %s\n", key.Name(), key.Sample())
	}
	return b.String()
}

// writeKey writes one key of the starter file for a variant of the name.
func writeKey(b *strings.Builder, key Key, name string) {
	b.WriteString("\n" + comment(meaningOf(key)))
	value := key.Sample()
	switch key.Path {
	case "name":
		value = quoted(name)
	case "drawing.file":
		value = quoted(name + ".dxf")
	}
	off := "#"
	if key.Required {
		off = ""
	}
	fmt.Fprintf(b, "%s%s = %s\n", off, key.Name(), value)
}

// meaningOf is what the key is, which values it takes, and what holds without it where that is not
// the value shown.
func meaningOf(key Key) string {
	text := upper(key.Doc)
	switch key.Kind {
	case Length, Angle, Share, Count, Feed, Speed:
		text += " (" + strings.TrimSpace(key.Range.phrase(inUnit(key.Kind, ""))) + ")"
	case Direction, Choice, List, YesNo:
		text += " (" + key.Allowed() + ")"
	}
	text += "."
	if key.Unset != "" {
		text += " Unset: " + key.Unset + "."
	}
	return text
}

func upper(text string) string { return strings.ToUpper(text[:1]) + text[1:] }

// comment is the text in lines of TOML comment, each at most 100 characters long.
func comment(text string) string {
	const width = 100
	var b strings.Builder
	line := "#"
	for _, word := range strings.Fields(text) {
		if len(line)+1+len(word) > width && line != "#" {
			b.WriteString(line + "\n")
			line = "#"
		}
		line += " " + word
	}
	b.WriteString(line + "\n")
	return b.String()
}

// preface opens the starter file.
const preface = `# A variant: one knife, the sheath for it, and the pieces of its forming buck.
#
# Three keys are needed: the drawing, the blade's thickness and the handle's. For all others the
# value shown holds, or what is said after "Unset", until you take off the # before the key and
# write your own.
#
# Lengths are mm, or a quantity in quotes:   3.2   "3.2 mm"   "1/8 in"   "0.125 in"   "1 1/2 in"
# Angles are degrees, or a quantity in quotes:   5   "5 deg"
# Shares are percent, or a quantity in quotes:   0.4   "0.4 %"
#
# x runs along the blade to the tip, y across it from the edge to the spine. The right face is the
# one that you look at with the tip to your right and the spine up.
`

// intro is what the table of the path is about.
func intro(table string) string {
	switch table {
	case "drawing":
		return "Where the knife's plan is, and how to read it."
	case "drawing.layers":
		return "The drawing's layers by what is on them."
	case "blade":
		return "The blade: bare steel, without tape."
	case "swedge":
		return "A false edge at the spine, where the drawing has a line for it on layer SWEDGE."
	case "handle":
		return "The handle, over the whole of its outline."
	case "guard":
		return "A guard or bolster ahead of the handle, with a thickness of its own. It is part of the outline."
	case "throat":
		return "Where the sheath's mouth lies."
	case "sheet":
		return `The thermoforming sheet. Common gauges are "0.080 in" (2.032 mm) and "0.093 in" (2.3622 mm).`
	case "print":
		return "How the printer's plastic behaves. It has nothing to do with the sheet."
	case "tape":
		return "Tape on the blade's faces, which leaves the blade its play in the sheath."
	case "plate":
		return "The steel plate in the boss with the two threaded posts that hold the belt clip."
	case "clip":
		return "The belt clip on the posts."
	case "screw":
		return "The screws that hold the clip to the plate's posts."
	case "hole":
		return "The holes for the posts, drilled by hand from the nubs' dimples."
	case "eyelet":
		return "The eyelets that join the two halves."
	case "standoff":
		return "The mount boss: a piece on the blade that leaves the cavity for the plate."
	case "ramp":
		return "The throat draw ramp: fills what the knife would hook behind on its way out."
	case "drain":
		return "The tip drain insert: leaves an open channel at the tip."
	case "nub":
		return "The nubs on the boss: each leaves a dimple that the drill's point drops into."
	case "layout":
		return "The sheath around the buck: its eyelets, its trim line, its blank."
	case "mill":
		return "What the programs that drill and trim the sheath are written for."
	default:
		return ""
	}
}
