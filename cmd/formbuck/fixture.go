package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"formbuck/buck"
	"formbuck/buck/fixture"
	shop "formbuck/buck/paper/drawing"
	"formbuck/cmd/internal/folder"

	pretty "github.com/jedib0t/go-pretty/v6/table"
	"github.com/spf13/cobra"
)

const fixtureLong = `Design one plate that the sheaths of all variants given are drilled and trimmed on: variants of
one outline, which may differ in hands, handle, gauge, clip and whatever else its pieces ask.

At its first station the pair lies right face up, the buck in it, on supports under its flat rim;
pins through two of the knife's own holes, or a cradle that takes the handle, tell where
(fixture.register). Every hole that is drilled lies within the supports' outline by fixture.margin.
At the other two each half lies formed side up over a tapped hole under each of its eyelets, on
bushes, to have its posts' holes drilled and to be trimmed. All of it has one zero, the middle of a
hole in the plate's corner. Every eyelet is as far from the knife as the variant asks that asks for
most.

DIR gets plate.toml, which states the plate as it is made; its drawing, with a layer for each tool
(plate.dxf) and at 1:1 (plate.svg, plate.pdf, and plate-tiles.pdf for a printer); what has to be bought
or turned, with lengths (parts.csv); papers with a picture for each station and the order of work
(plate-papers.pdf); and the programs that spot and drill the plate, proved. For a shop without a mill
there are print files (STL, 3MF, pictures) of a guide to drill the pair through, on the same pins
(fixture.register = "guide"), and of a pattern to trim either half by; where the pair lies in a
cradle, of a cradle for each handle.

A variant that names the plate (fixture.plate = "DIR/plate.toml") takes eyelets, pins, trim line, blank
and zero from it: its programs are the same to the byte for every variant that the plate serves. One
that it does not serve is refused, with the place, by how much, and what would have to change.`

const fixtureExample = `  formbuck fixture hunter.toml                       a plate for one variant, into hunter-plate
  formbuck fixture thin.toml thick.toml -o plate     one that serves both
  formbuck fixture hunter*.toml -o plate             one for all of them`

// fixtureFlags are the flags of fixture.
type fixtureFlags struct {
	dir   string
	hands choices
	paper choices
	force bool
	json  bool
}

func newFixture(a *app) *cobra.Command {
	f := fixtureFlags{hands: choices{of: handNames()}, paper: choices{of: paperNames(), single: true}}
	cmd := &cobra.Command{
		Use:     "fixture VARIANT.toml...",
		Short:   "Design one plate that all variants of a knife are drilled and trimmed on",
		Long:    fixtureLong,
		Example: fixtureExample,
		Args:    positional("VARIANT.toml", 1, -1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.fixture(cmd.Context(), args, f)
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&f.dir, "output", "o", "", "write into the folder `DIR` (default: the first variant's name and -plate)")
	flags.Var(&f.hands, "hand", "plan for this hand only: "+oneOf(handNames())+"; may be repeated")
	flags.Var(&f.paper, "paper", "lay papers out for this paper: "+oneOf(paperNames())+" (default a4)")
	flags.BoolVar(&f.force, "force", false, forceHelp)
	flags.BoolVar(&f.json, "json", false, "answer with one line of JSON")
	complete(cmd, "hand", handNames())
	complete(cmd, "paper", paperNames())
	return cmd
}

// fixture designs the plate and writes its folder.
func (a *app) fixture(ctx context.Context, args []string, f fixtureFlags) error {
	files, err := matching(args)
	if err != nil {
		return err
	}
	o := orderOf("", f.hands, choices{}).options
	if len(f.paper.chosen) > 0 {
		o.Paper = shop.Paper(f.paper.chosen[0])
	}
	var family []*buck.Design
	for _, file := range files {
		d, err := design(orderOf(file, f.hands, choices{}))
		if err != nil {
			return err
		}
		family = append(family, d)
	}
	p, err := buck.NewPlate(family, o)
	if err != nil {
		return err
	}
	dir := f.dir
	if dir == "" {
		dir = family[0].Name() + "-plate"
	}
	report, err := a.put(ctx, dir, f.force, p)
	if err != nil {
		return err
	}
	for _, w := range p.Warnings {
		a.warn(w)
	}
	if f.json {
		return a.answerJSON(fixtureAnswerOf(dir, p, report))
	}
	a.done("%s\n%s\n%s\n", partTable(p.Design), plateProgramTable(p.Programs), plateSummary(p.Design))
	a.done("%s\n", summary(dir, report))
	return nil
}

// put puts a plate's files into a folder.
func (a *app) put(ctx context.Context, dir string, force bool, p *buck.Plate) (r folder.Report, err error) {
	if err := folderName(dir); err != nil {
		return r, err
	}
	files, err := p.Files()
	if err != nil {
		return r, err
	}
	defer a.hold()()
	target, err := folder.Open(dir, folder.Options{Force: force})
	if err != nil {
		return r, err
	}
	defer func() { err = errors.Join(err, target.Close()) }()
	var all []folder.File
	for _, f := range files {
		all = append(all, folder.File{Name: f.Name, Data: f.Data})
	}
	return target.Write(ctx, all)
}

// partTable lists what the plate is made of.
func partTable(d *fixture.Design) string {
	t := lightTable("", "part", "for")
	t.SetColumnConfigs(append(toRight(1), narrowed(2, 44), narrowed(3, 34)))
	for _, p := range d.Parts() {
		t.AppendRow(pretty.Row{p.Count, p.What, p.For})
	}
	return trimmed(t.Render()) + "\n"
}

// plateProgramTable lists the programs that make the plate.
func plateProgramTable(programs []fixture.Program) string {
	t := lightTable("program", "what it does", "min", "proved")
	t.SetColumnConfigs(append(toRight(3), narrowed(2, 44)))
	for _, p := range programs {
		t.AppendRow(pretty.Row{p.Name, p.Does, fmt.Sprintf("%.1f", (p.Proof.Cutting+p.Proof.Over)/60), count(p.Proof.Drilled, "hole") + " drilled"})
	}
	return trimmed(t.Render()) + "\n"
}

// plateSummary is the plate in a line.
func plateSummary(d *fixture.Design) string {
	p := d.Plate
	var names []string
	for _, m := range d.Members {
		names = append(names, m.Knife.Spec.Name)
	}
	return fmt.Sprintf("plate of %.4g x %.4g x %.4g mm for %s: %s under the rim, %.4g mm high; every hole %.1f mm and more within their outline",
		p.Size[0], p.Size[1], p.Size[2], strings.Join(names, ", "), count(len(p.Under), "support"), p.Rim, d.Carried())
}

// fixtureAnswer is what fixture says as JSON.
type fixtureAnswer struct {
	Folder   string     `json:"folder"`
	Knife    string     `json:"knife"`
	Members  []string   `json:"members"`
	Size     [3]float64 `json:"size_mm"`
	Supports int        `json:"supports"`
	Carried  float64    `json:"least_within_mm"` // of a hole within the supports' outline
	Error    float64    `json:"off_mm"`          // the most that an eyelet can be off
	Parts    []partItem `json:"parts"`
	Programs []string   `json:"programs"`
	Written  []string   `json:"written"`
}

type partItem struct {
	Count int    `json:"count"`
	What  string `json:"what"`
	For   string `json:"for"`
}

func fixtureAnswerOf(dir string, made *buck.Plate, r folder.Report) fixtureAnswer {
	d, p := made.Design, made.Plate
	f := fixtureAnswer{
		Folder: dir, Knife: p.Knife, Size: [3]float64{figure(p.Size[0]), figure(p.Size[1]), figure(p.Size[2])}, Supports: len(p.Under), Carried: figure(d.Carried()),
		Error:   figure(d.Sheath.Off()),
		Members: []string{}, Parts: []partItem{}, Programs: []string{}, Written: list(r.Written),
	}
	for _, m := range d.Members {
		f.Members = append(f.Members, m.Knife.Spec.Name)
	}
	for _, part := range d.Parts() {
		f.Parts = append(f.Parts, partItem(part))
	}
	for _, q := range made.Programs {
		f.Programs = append(f.Programs, q.Name)
	}
	return f
}
