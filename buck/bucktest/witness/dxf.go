package witness

import (
	"strconv"
	"strings"
)

// Entity is one entity of a drawing: its kind, its layer, and its figures by their group codes, of several the last.
type Entity struct {
	Kind, Layer string
	Figures     map[int]float64
}

// DXF reads the entities of a drawing's text.
func DXF(data []byte) []Entity {
	lines := strings.Split(strings.ReplaceAll(string(data), "\r", ""), "\n")
	var all []Entity
	inside := false
	for i := 0; i+1 < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		value := strings.TrimSpace(lines[i+1])
		switch {
		case err != nil:
			return all
		case code == 2 && value == "ENTITIES":
			inside = true
		case code == 0 && value == "ENDSEC":
			inside = false
		case !inside:
		case code == 0:
			all = append(all, Entity{Kind: value, Figures: map[int]float64{}})
		case len(all) > 0 && code == 8:
			all[len(all)-1].Layer = value
		case len(all) > 0:
			if v, err := strconv.ParseFloat(value, 64); err == nil {
				all[len(all)-1].Figures[code] = v
			}
		}
	}
	return all
}

// Circles are the circles of a layer.
func Circles(all []Entity, layer string) (list []Entity) {
	for _, e := range all {
		if e.Kind == "CIRCLE" && e.Layer == layer {
			list = append(list, e)
		}
	}
	return list
}
