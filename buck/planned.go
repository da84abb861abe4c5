package buck

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"formbuck/buck/batch"
	"formbuck/buck/batch/picture"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/program"
	"formbuck/buck/program/runs"
	"formbuck/mesh/crew"
	"formbuck/profile/dxf"

	"gonum.org/v1/gonum/spatial/r2"
)

// sheetPicture is how large the picture of a stock sheet is at most, in mm.
var sheetPicture = r2.Vec{X: 260, Y: 180}

// dayPicture is how wide the picture of a day is, in mm.
const dayPicture = 180

// Files are the plan's files and what the user should know of it: first the runs of the mill, for the papers say where
// their works begin; then these and all else, as many at once as there are processors.
func (b *Batch) Files(p *batch.Plan) (files Files, warnings []string, err error) {
	warnings = b.warnings(p)
	for _, line := range p.Unwritten() {
		warnings = append(warnings, fmt.Sprintf("%s: %s could be written; the day's runs go without it", b.List, line))
	}
	files, fault := b.programs(p)
	outputs := b.outputs(p)
	all := make(Files, len(outputs))
	faults := make([]error, len(outputs))
	crew.Each(len(outputs), func(i int) {
		var out bytes.Buffer
		if err := outputs[i].write(&out); err != nil {
			faults[i] = fmt.Errorf("%s: %w", outputs[i].name, err)
		}
		all[i] = File{Name: outputs[i].name, Data: out.Bytes()}
	})
	return append(files, all...), warnings, errors.Join(append(faults, fault)...)
}

// programs are the runs of the mill as files. In the plan it is noted where each work begins.
func (b *Batch) programs(p *batch.Plan) (Files, error) {
	texts := make(map[string][]byte)
	var files Files
	var faults []error
	for _, r := range p.Runs {
		text, err := b.joined(p, r, texts)
		if err != nil {
			faults = append(faults, fmt.Errorf("%s: %w", r.Name, err))
			continue
		}
		files = append(files, File{Name: r.Name + ".ngc", Data: text})
	}
	return files, errors.Join(faults...)
}

// joined is a run's text, out of those of the programs, which are read once.
func (b *Batch) joined(p *batch.Plan, r batch.Run, texts map[string][]byte) ([]byte, error) {
	works := make([]runs.Work, len(r.Works))
	for i, w := range r.Works {
		key := w.Load.Article.Variant + "/" + w.Program.File
		if texts[key] == nil {
			text, err := b.program(w.Load.Article.Variant, w.Program.File)
			if err != nil {
				return nil, err
			}
			texts[key] = text
		}
		works[i] = runs.Work{Name: p.NameOf(w), Text: texts[key]}
	}
	text, err := runs.Join(fmt.Sprintf("day %d: %s, %s", r.Day+1, r.Kind, r.Tool), works)
	if err != nil {
		return nil, err
	}
	for i := range works {
		r.Works[i].Line = works[i].Line
	}
	return text, provable(r, text)
}

// program is the text of a program out of the job of the variant of a name.
func (b *Batch) program(variant, file string) ([]byte, error) {
	for _, w := range b.Works {
		if w.made.Variant == variant {
			return w.text(file)
		}
	}
	return nil, fmt.Errorf("%s: %s is not made", b.List, variant)
}

// provable refuses a run that cannot be proved: it is read again as a file, and each of its programs is proved where it
// stands first.
func provable(r batch.Run, text []byte) error {
	file := r.Name + ".ngc"
	works, err := runs.Read(file, bytes.NewReader(text))
	if err != nil {
		return err
	}
	if len(works) != len(r.Works) {
		return fmt.Errorf("%s: %d works were joined, and %d are read again", file, len(r.Works), len(works))
	}
	seen := make(map[[2]string]bool)
	var faults []error
	for i, w := range works {
		of := [2]string{r.Works[i].Load.Article.Variant, r.Works[i].Program.File}
		if seen[of] {
			continue
		}
		seen[of] = true
		if _, err := program.Prove(w.Program); err != nil {
			faults = append(faults, fmt.Errorf("%s: %w\n%s: the run is not written; bucks/%s/%s was changed: remove it, and it is made anew", w.Name, err, file, of[0], of[1]))
		}
	}
	return errors.Join(faults...)
}

// output is a file to be written.
type output struct {
	name  string
	write func(io.Writer) error
}

// outputs are the plan's papers, tables and pictures.
func (b *Batch) outputs(p *batch.Plan) []output {
	name := b.options.Title
	pdf := func(file, title string, pages func(*batch.Plan, string, drawing.Paper) []*drawing.Drawing) output {
		return output{file, func(w io.Writer) error { return drawing.PDF(w, title, pages(p, title, b.options.Paper)...) }}
	}
	all := []output{
		pdf("plan.pdf", name+": plan", picture.Plan),
		pdf("picklist.pdf", name+": pick list", picture.PickList),
		pdf("travellers.pdf", name, picture.Travellers),
		pdf("mill.pdf", name+": on the mill", picture.Mill),
		{"steps.csv", func(w io.Writer) error { return batch.WriteSteps(w, p) }},
		{"cuts.csv", func(w io.Writer) error { return batch.WriteCuts(w, p) }},
	}
	for i, d := range picture.Days(p, dayPicture) {
		all = append(all, output{fmt.Sprintf("day-%d.png", i+1), func(w io.Writer) error { return d.PNG(w, 130) }})
	}
	for _, c := range picture.Cuts(p) {
		file := fmt.Sprintf("sheet-%s-%.4gmm-%d", fileWord(c.Colour), c.Gauge, c.Number)
		all = append(
			all,
			output{file + ".dxf", func(w io.Writer) error { return dxf.Encode(w, c.DXF()) }},
			output{file + ".svg", c.Drawing(sheetPicture).SVG},
		)
	}
	return all
}

// fileWord is a word as it stands in the name of a file: letters, digits and hyphens.
func fileWord(word string) string {
	keep := func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r > 127 {
			return r
		}
		return '-'
	}
	return strings.Map(keep, word)
}
