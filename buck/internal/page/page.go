// Package page makes the page of a job: one file that a browser shows without a network, with the buck and its sheath
// to turn about, the knife to draw out of it, tables, and links to the other files of the job.
//
// Shapes are packed as whole steps of 0.005 mm, each told from the one before, deflated and written in base 64; web holds
// the page's own template, style and script. Where a browser has no WebGL2, cannot inflate or runs no script, the page shows a
// still picture and the tables. All texts are escaped. The same content gives the same bytes.
package page

import (
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"image/color"
	"io"
	"strconv"
	"strings"

	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/mesh"
	"formbuck/profile/plain"
)

// Content is what a page shows.
type Content struct {
	Title    string
	Still    []byte // a PNG of the buck
	Hands    []measures.Hand
	Parts    []Part // the knife first
	Draw     *path.Report
	Sheath   *layout.Sheath // nil: it could not be laid out, and is not shown
	Warnings []string
	Tables   []Table
	Files    []string // names of the other files of the job
	Cautions []string

	told   *told // packed already
	shapes []byte
}

// Pack does the most of Write's work ahead of it. It needs neither the still picture nor the names of files; the rest must not
// change any more.
func (c *Content) Pack() (err error) {
	c.told, c.shapes, err = pack(*c)
	return err
}

// Part is one body that can be shown and hidden.
type Part struct {
	Name   string
	Label  string
	Mesh   *mesh.Mesh // where it sits on the knife
	Hands  []measures.Hand
	Colour color.NRGBA
	Hidden bool // at first
	Draws  bool // it leaves with the knife
}

// Table is a table under the scene.
type Table struct {
	Name  string
	About string // a line before it
	Shown []byte // a picture before it, as SVG; nil: none
	Head  []string
	Rows  [][]Cell
}

// Source is the table's picture for the page.
func (t Table) Source() template.URL {
	return template.URL("data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(t.Shown))
}

// Cell is one field of a table.
type Cell struct {
	Text   string
	Link   string // name of a file beside the page
	Number bool
}

// raised has the powers of units as a page can show them.
var raised = strings.NewReplacer("mm2", "mm²", "mm3", "mm³", "cm3", "cm³")

// Row is a row of texts.
func Row(texts ...string) []Cell {
	cells := make([]Cell, len(texts))
	for i, t := range texts {
		_, err := strconv.ParseFloat(t, 64)
		cells[i] = Cell{Text: plain.Text(raised.Replace(t)), Number: err == nil}
	}
	return cells
}

//go:embed web
var web embed.FS

// scripts are the parts of the page's script, in order.
var scripts = []string{"unpack.js", "shape.js", "sheath.js", "camera.js", "scene.js", "map.js", "handling.js", "page.js", "start.js"}

// Write writes the page.
func Write(w io.Writer, c Content) error {
	if c.told == nil {
		if err := c.Pack(); err != nil {
			return err
		}
	}
	text, err := web.ReadFile("web/page.html")
	if err != nil {
		return err
	}
	form, err := template.New("page").Parse(string(text))
	if err != nil {
		return err
	}
	style, err := web.ReadFile("web/page.css")
	if err != nil {
		return err
	}
	var script strings.Builder
	script.WriteString("(() => {\n\"use strict\";\n")
	for _, name := range scripts {
		part, err := web.ReadFile("web/" + name)
		if err != nil {
			return err
		}
		script.Write(part)
	}
	script.WriteString("})();\n")
	return form.Execute(w, map[string]any{
		"Title": plain.Text(c.Title), "Free": c.Draw.Free(), "Verdict": "The knife " + c.Draw.Verdict() + ".",
		"Warnings": plainly(c.Warnings), "Tables": c.Tables, "Files": links(c.Files), "Cautions": plainly(c.Cautions),
		"Felt": fmt.Sprint(path.Felt), "SidePlay": fmt.Sprint(path.SidePlay), "Told": c.told, "Holds": "The sheath " + c.Draw.Held.String() + ".", "Carry": c.Draw.With.Buck.Knife.Spec.Carry.Said(),
		// What follows is the program's own: not a word of it comes from the variant or the drawing.
		"Style":  template.CSS(style),
		"Script": template.JS(script.String()),
		"Packed": template.HTML(base64.StdEncoding.EncodeToString(c.shapes)),
		"Still":  template.URL("data:image/png;base64," + base64.StdEncoding.EncodeToString(c.Still)),
	})
}

// plainly are texts with what is not seen written out.
func plainly(texts []string) []string {
	all := make([]string, len(texts))
	for i, t := range texts {
		all[i] = plain.Text(t)
	}
	return all
}

// links are files as they are linked to from beside them.
func links(names []string) []Cell {
	var all []Cell
	for _, name := range names {
		all = append(all, Cell{Text: plain.Text(name), Link: Beside(name)})
	}
	return all
}

// Beside is the relative address of a file beside the page. The dot keeps a name with a colon from being read
// as an address of another kind.
func Beside(name string) string {
	return "./" + strings.NewReplacer("%", "%25", "#", "%23", "?", "%3F", "\\", "%5C").Replace(name)
}
