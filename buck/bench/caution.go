package bench

// Test is what the finished sheath is told to be, on every paper that tells of it.
const Test = "Test each sheath; nothing here promises that it holds"

// First is over the cautions of every paper.
const First = "makers' instructions, local codes and licensed practice go before this sheet"

// Pointer is on papers that do not carry all cautions.
const Pointer = "cautions and the steps one by one stand on the set-up sheet of the knife's job folder: read them before you heat, drill, split or set anything"

// Caution is what to mind, and how.
type Caution struct{ What, Say string }

// Cautions are the usual ones; makers' instructions, local codes and licensed practice go before them.
func Cautions() []Caution {
	return []Caution{
		{"blade", "use a mock-up or a blunted one where you can; if it is sharp, cover the edge, mark it, point it away, never press down on it by hand"},
		{"hot sheet", "sticks to skin and burns: heat-proof gloves, long sleeves, a clear way from heat to press; plates stay hot for long, and no hot plate is left alone"},
		{"fumes", "overheated PVC gives off hydrogen chloride: if it smokes, browns or smells sharp, leave, air the room, let it cool. Thermometer and exhaust; stay inside the sheet maker's window; no oven for food; never laser or flame on it"},
		{"glue", "gloves and moving air: its fumes, and cyanoacrylate bonds skin"},
		{"press", "hands out before it shuts; it pinches like a vice"},
		{"spindles", "eye protection; no gloves, loose sleeves, hair or jewellery near drill and cutter; clamp the work; drills and countersinks grab as they break through: a backing board under them; stop the spindle to clear chips"},
		{"saw, sander", "push stick, covers on; no fingers in line with the blade; nothing that the belt can pull in"},
		{"splitting", "the blade moves away from every hand; the pair is in a vice, not in a palm"},
		{"eyelet press", "fingers out of the die; eye protection: an eyelet that splits flies"},
		{"dust", "extract it and wear a mask when sanding or milling"},
		{"finished", "never leave a sheath in a hot car: it opens. " + Test},
		{"carry", "how a knife may be worn or sold is set by local law"},
	}
}
