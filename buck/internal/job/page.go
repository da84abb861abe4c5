package job

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"formbuck/buck/bench"
	"formbuck/buck/fixture"
	"formbuck/buck/internal/page"
	"formbuck/buck/internal/plastic"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/buck/picture"
)

// PageName is the name of the page in every job folder.
const PageName = "index.html"

// page is the page that shows the job, whose other files are there already.
func (s *Set) page(c *page.Content, files []File) (File, error) {
	for _, file := range files {
		c.Files = append(c.Files, file.Name)
		if file.Name == s.Knife.Spec.Name+"-buck.png" {
			c.Still = file.Data
		}
	}
	var b bytes.Buffer
	if err := page.Write(&b, *c); err != nil {
		return File{}, fmt.Errorf("page: %w", err)
	}
	return File{Name: PageName, Data: b.Bytes()}, nil
}

// content is what the page tells, but for the other files.
func (s *Set) content(f Format, r *path.Report, hands []measures.Hand) (*page.Content, error) {
	c := &page.Content{Title: s.Knife.Spec.Name, Hands: hands, Draw: r, Sheath: s.Sheath, Warnings: s.told(r)}
	var err error
	if c.Parts, err = s.parts(hands); err != nil {
		return nil, err
	}
	pieces, err := s.pieceTable(f)
	if err != nil {
		return nil, err
	}
	c.Tables = []page.Table{pieces, s.printTable(), drawTable(r)}
	if s.Sheath != nil {
		c.Tables = append(c.Tables, sheathTable(s.Sheath), eyeletTable(s.Sheath))
		if p := fixture.Of(s.Sheath); p != nil {
			t, err := plateTable(p)
			if err != nil {
				return nil, err
			}
			c.Tables = append(c.Tables, t)
		}
	}
	for _, caution := range bench.Cautions() {
		c.Cautions = append(c.Cautions, caution.What+": "+caution.Say+".")
	}
	c.Cautions = append(c.Cautions, "Makers' instructions, local codes and licensed practice go before this page. "+bench.Test+".")
	return c, c.Pack()
}

// told are the warnings of the job, on page and papers in the words of the console.
func (s *Set) told(r *path.Report) []string { return slices.Concat(s.Warnings, r.Warnings()) }

// parts are the knife and the pieces, each where it sits on it.
func (s *Set) parts(hands []measures.Hand) ([]page.Part, error) {
	knife, err := s.steel()
	if err != nil {
		return nil, fmt.Errorf("knife: %w", err)
	}
	parts := []page.Part{{Name: "knife", Label: "knife", Mesh: knife, Colour: grey, Draws: true}}
	var labels []string
	for _, p := range s.Pieces {
		if p.Kind == Whole {
			continue
		}
		part := page.Part{Name: p.Name, Label: p.Label(), Mesh: p.Mesh, Hands: []measures.Hand{}, Hidden: p.Kind == Nub || p.Kind == Locator}
		for _, h := range hands {
			if p.Serves(h) || p.Kind == Nub && len(s.Knife.Spec.Faces(h)) > 0 || p.Kind == Locator && slices.Contains(s.Knife.Spec.Faces(h), p.Face) {
				part.Hands = append(part.Hands, h)
			}
		}
		if p.Kind == Nub {
			part.Label += ", loose"
		}
		if !slices.Contains(labels, part.Label) {
			labels = append(labels, part.Label)
		}
		part.Colour = picture.Colour(1 + slices.Index(labels, part.Label)) // as on the still picture, where the knife is the first
		parts = append(parts, part)
	}
	return parts, nil
}

// pieceTable tells of the pieces what make says of them, and how they are printed.
func (s *Set) pieceTable(f Format) (page.Table, error) {
	t := page.Table{
		Name:  "Pieces",
		About: fmt.Sprintf("Sizes as they stand on the printer's bed; masses of solid polylactide, %.2f g/cm³.", Density),
		Head:  []string{"piece", "hand", "size mm", "volume mm³", "mass g", "governed by", "to print", "picture"},
	}
	if s.NoLocator != "" {
		t.About += " No " + s.NoLocator + "."
	}
	for _, p := range s.Pieces {
		m, err := f.InFile(p)
		if err != nil {
			return t, err
		}
		file := s.Knife.Spec.Name + "-" + p.Name
		size := m.Bounds().Size()
		row := page.Row(p.Label(), p.Hand, fmt.Sprintf("%.2f\u00a0x\u00a0%.2f\u00a0x\u00a0%.2f", size.X, size.Y, size.Z),
			fmt.Sprintf("%.1f", m.Volume()), fmt.Sprintf("%.2f", m.Volume()*Density/1000), p.Governed, "STL", "PNG")
		row[6].Link, row[7].Link = page.Beside(file+".stl"), page.Beside(file+".png")
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}

// printTable tells how the pieces are best printed.
func (s *Set) printTable() page.Table {
	holds, softens := plastic.Sorted(plastic.SheetTemp)
	t := page.Table{
		Name: "Printing",
		About: fmt.Sprintf("A sheet of %d °C softens the surface of %s, not of %s. For filament printers; common practice, no source, but for what is measured.",
			plastic.SheetTemp, strings.Join(softens, ", "), strings.Join(holds, ", ")),
		Head: []string{"piece", "hand", "lies on its", "supports", "hangs over air mm²", "walls", "infill %"},
	}
	for _, p := range s.Pieces {
		a := p.Advice()
		supports := "no"
		if a.Supports {
			supports = "yes"
		}
		t.Rows = append(t.Rows, page.Row(p.Label(), p.Hand, a.Down, supports, fmt.Sprintf("%.0f", a.Hangs), fmt.Sprint(a.Walls), fmt.Sprint(a.Infill)))
	}
	return t
}

// drawTable tells how the knife draws.
func drawTable(r *path.Report) page.Table {
	t := page.Table{Name: "Draw", Head: []string{"what", "found", "asked"}}
	if b := r.With.Buck; b.Standoff != nil {
		t.About = "On a half with a boss and one without; places are (x, y) in mm: x from the mouth to the tip, " + b.Knife.Spec.Blade.Told("y from the edge to the spine") + "."
	}
	for _, row := range r.Rows() {
		t.Rows = append(t.Rows, page.Row(row.What, row.Found, row.Asked))
	}
	return t
}

// sheathTable tells what there is to cut and to drill.
func sheathTable(s *layout.Sheath) page.Table {
	t := page.Table{Name: "Sheath", Head: []string{"what", "measures"}}
	add := func(what, format string, args ...any) {
		t.Rows = append(t.Rows, page.Row(what, fmt.Sprintf(format, args...)))
	}
	size := s.Trim.Bounds().Size()
	add("trimmed", "%.1f x %.1f mm; trim line %.0f mm long, its hollows of %.4g mm radius and more", size.X, size.Y, s.TrimLength(), s.Hollow())
	add("blanks", "two of %.1f x %.1f mm, extruded %s the blade", s.Blank.Length, s.Blank.Width, s.Blank.Extrusion)
	for _, r := range s.Runs {
		add(s.Knife.Spec.Blade.Told(r.Side), "%d eyelets, %.2f mm apart along their line", r.Count, r.Pitch)
	}
	add("mouth", "straight for %.1f mm", s.MouthWidth())
	add("drain", "%s", s.OutletSaid())
	var pins []string
	for _, p := range s.Pins {
		pins = append(pins, p.String())
	}
	if len(s.Pins) > 0 {
		add("pins", "Ø %.4g mm in the holes of eyelets %s", s.Pins[0].Diameter, strings.Join(pins, ", "))
	}
	for _, p := range s.Posts {
		add("post, "+string(p.Hand)+" hand", "Ø %.4g mm at (%.2f, %.2f) in the %s half", p.Diameter, p.At.X, p.At.Y, p.Face)
	}
	return t
}

// plateTable tells of the plate that the sheath is made on, and shows it.
func plateTable(d *fixture.Design) (page.Table, error) {
	t := page.Table{
		Name:  "The plate",
		About: "The sheath is drilled and trimmed on a plate that serves it: its programs are the plate's, byte for byte. A work is put on and taken off by two screws, the halves by three bushes.",
		Head:  []string{"what", "measures"},
	}
	for _, row := range d.Told() {
		t.Rows = append(t.Rows, page.Row(row[0], row[1]))
	}
	var b bytes.Buffer
	err := d.Overview().SVG(&b)
	t.Shown = b.Bytes()
	return t, err
}

// eyeletTable lists the eyelets.
func eyeletTable(s *layout.Sheath) page.Table {
	t := page.Table{
		Name:  "Eyelets",
		About: fmt.Sprintf("Holes of %.4g mm through both halves; margins are from the knife or the piece to an eyelet's centre.", s.Knife.Spec.Eyelet.Hole),
		Head:  []string{"eyelet", "side", "x mm", "y mm", "margin mm", "governed by", "to the trim line mm"},
	}
	two := func(v float64) string { return fmt.Sprintf("%.2f", v) }
	told := s.Knife.Spec.Blade.Told
	for i, e := range s.Eyelets {
		t.Rows = append(t.Rows, page.Row(fmt.Sprint(i+1), told(e.Side), two(e.At.X), two(e.At.Y), two(e.Need), told(string(e.Governs)), two(e.Edge)))
	}
	return t
}
