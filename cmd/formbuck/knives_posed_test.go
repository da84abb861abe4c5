package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// turned draws the same knife in another place, turned and mirrored: its pieces have to be the same. A drawing along the
// sheet's axes stays along them, since it is taken to be meant so.
func (tr *trial) turned() {
	named := *tr.knife
	named.State("name", `"same"`) // it is engraved
	tr.put("there.toml", named.TOML("knife.dxf"))
	there, ok := tr.volumes("there.toml")
	if !ok {
		return
	}
	other := named.Posed(tr.knife.Turn(), true)
	tr.put("turned.dxf", other.DXF())
	tr.put("turned.toml", other.TOML("turned.dxf"))
	here, ok := tr.volumes("turned.toml")
	if !ok {
		tr.fault("make: refused where the drawing is turned and mirrored")
		return
	}
	if len(here) != len(there) {
		tr.fault(fmt.Sprintf("make: %d pieces where the drawing is turned and mirrored, else %d", len(here), len(there)))
	}
	for name, v := range there {
		if w, ok := here[name]; !ok || math.Abs(w-v) > sameVolume*v {
			tr.fault(fmt.Sprintf("make: %s has %.6f mm3, and %.6f where the drawing is turned and mirrored", name, v, w))
		}
	}
}

// sameVolume is the share by which the volume of a piece may be another where only its drawing lies otherwise: its outline
// begins and ends in other digits, and so the mesh takes other points, up to 0.01 mm off the piece, in places.
const sameVolume = 1e-5

// volumes are those of a variant's pieces by name; false where it is refused.
func (tr *trial) volumes(toml string) (map[string]float64, bool) {
	code, _ := tr.ask("make", tr.at(toml), "--json", "--piece", "standoff,ramp,drain", "-o", tr.at("pieces-"+strings.TrimSuffix(toml, ".toml")))
	if code != exitOK {
		return nil, false
	}
	var made struct {
		Pieces []struct {
			Piece  string  `json:"piece"`
			Hand   string  `json:"hand"`
			File   string  `json:"file"`
			Volume float64 `json:"volume_mm3"`
		} `json:"pieces"`
	}
	tr.must(json.Unmarshal(tr.answer, &made))
	all := map[string]float64{}
	for _, p := range made.Pieces {
		_, name, _ := strings.Cut(filepath.Base(p.File), "-")
		all[name] = p.Volume
	}
	return all, len(all) > 0
}

// witness looks at the knife's files alone, where it is drawn straight out and nothing is to lock.
func (tr *trial) witness() {
	k := tr.knife
	for _, key := range []string{"ramp.cant", "ramp.lock", "layout.flare", "layout.clearance"} {
		if k.Stated(key) != "" {
			return
		}
	}
	m := usual()
	for key, to := range map[string]*float64{
		"sheet.thickness": &m.sheet, "clip.length": &m.clipLong, "clip.width": &m.clipWide, "clip.clearance": &m.clearance, "eyelet.flange": &m.flange,
	} {
		if text := k.Stated(key); text != "" {
			*to = millimetresOf(text)
		}
	}
	k.State("tape.layers", "0")
	k.State("whole.bed", "600")
	k.State("standoff.mark", `"no"`)
	k.State("ramp.mark", `"no"`)
	dir := tr.at("seen")
	tr.must(os.MkdirAll(dir, 0o777))
	tr.put("witness.toml", k.TOML("knife.dxf"))
	fmt.Printf("seed %d: witness\n", k.Seed)
	e, err := gather(dir, tr.at("witness.toml"), m)
	if err != nil {
		return // without tape, or in one body, it is refused
	}
	for _, f := range e.faults() {
		tr.fault("witness: " + f)
	}
}

// millimetresOf is a length as the variant files of random knives have it: a number of mm, or text in inches.
func millimetresOf(text string) float64 {
	unit := 1.0
	text = strings.Trim(text, `"`)
	if inches, ok := strings.CutSuffix(text, " in"); ok {
		unit, text = 25.4, inches
	}
	over, under, fraction := strings.Cut(text, "/")
	v, err := strconv.ParseFloat(over, 64)
	if fraction && err == nil {
		var d float64
		d, err = strconv.ParseFloat(under, 64)
		v /= d
	}
	if err != nil {
		panic(err)
	}
	return v * unit
}
