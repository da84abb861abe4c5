package buck

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"formbuck/buck/batch"
	"formbuck/buck/bench"
	"formbuck/buck/internal/job"
	"formbuck/buck/internal/nest"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/mill"
	"formbuck/buck/path"
	"formbuck/buck/program/runs"
	"formbuck/buck/record"
)

// articleFile is what a batch needs to know of what lies in a job folder, as it is kept there.
type articleFile struct {
	Inputs  string         `json:"inputs"` // digest of all that it was made from
	Variant string         `json:"variant"`
	Blank   [2]float64     `json:"blank_mm"`
	Turned  [2]float64     `json:"turned_mm"` // 0: it may not be turned
	Grain   string         `json:"extrusion"` // on the knife, where the blank is not turned
	Eyelets int            `json:"eyelets"`
	Holes   int            `json:"holes"`
	Trim    float64        `json:"trim_mm"`
	Posts   map[string]int `json:"posts"` // of each hand
	Pieces  []articlePiece `json:"pieces"`

	Programs []articleProgram `json:"programs"` // of the mill, in the order of the work
	Warnings []articleWarning `json:"warnings"`

	Work map[measures.Hand]articleWork `json:"work"`
}

// articleWork is what there is to do and to buy for one sheath of a hand.
type articleWork struct {
	Steps    []articleStep `json:"steps"`
	Hardware []articleItem `json:"hardware"`
	Checks   []string      `json:"checks"`
}

type articleStep struct {
	Number int         `json:"number"`
	Stage  bench.Stage `json:"stage"`
	Name   string      `json:"name"`
	Do     string      `json:"do"`
}

type articleItem struct {
	Supply string `json:"supply"`
	Count  int    `json:"count"`
	What   string `json:"what"`
}

// articlePiece is a print file.
type articlePiece struct {
	File   string          `json:"file"`
	SHA256 string          `json:"sha256"` // of the piece as a binary STL, as the record has it
	Hands  []measures.Hand `json:"hands"`
	Tool   bool            `json:"tool"` // is used with the buck and serves every copy
}

// articleWarning is what make warned of.
type articleWarning struct {
	File  string `json:"file"` // that is warned of, seen from the variant's folder, with the line where there is one
	What  string `json:"what"`
	Grave bool   `json:"grave"`
}

// String is the warning as people see it from the variant's folder.
func (w articleWarning) String() string { return w.File + ": " + w.What }

// articleProgram is one of the mill's programs.
type articleProgram struct {
	File  string          `json:"file"` // "": it could not be written
	Does  string          `json:"does"`
	Kind  runs.Kind       `json:"kind"`
	Work  string          `json:"work"` // what is put on the mill
	Tool  string          `json:"tool"`
	Holes int             `json:"holes"` // that it drills
	Plate bool            `json:"plate"` // on which the work lies
	Hands []measures.Hand `json:"hands"`
}

func articleName(name string) string { return name + "-article.json" }

// decodeArticle reads what was kept of a variant. Its files lie in the folder with it.
func decodeArticle(from io.Reader) (*articleFile, error) {
	a := new(articleFile)
	if err := json.NewDecoder(from).Decode(a); err != nil {
		return nil, fmt.Errorf("not what was kept of a variant: %w", err)
	}
	for _, file := range a.files() {
		if !filepath.IsLocal(file) {
			return nil, fmt.Errorf("not what was kept of a variant: the file %q is not in its folder", file)
		}
	}
	return a, nil
}

// encoded is the article as its file.
func (a *articleFile) encoded() (File, error) {
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetIndent("", "  ")
	err := e.Encode(a)
	return File{Name: articleName(a.Variant), Data: text.Bytes()}, err
}

// files are those of the job folder that a batch uses.
func (a *articleFile) files() (names []string) {
	for _, p := range a.Pieces {
		names = append(names, p.File)
	}
	for _, p := range a.Programs {
		if p.File != "" {
			names = append(names, p.File)
		}
	}
	return names
}

// articleOf is what a batch needs to know of what was made with the options.
func (d *Design) articleOf(p *Made, o Options) (*articleFile, error) {
	s := p.Sheath
	a := &articleFile{
		Inputs: d.inputs(o), Variant: d.Name(),
		Blank: across(s.Blank.Length, s.Blank.Width, s.Blank.Extrusion), Turned: across(s.Blank.TurnedLength, s.Blank.TurnedWidth, turned(s.Blank.Extrusion)),
		Grain:   s.Blank.Extrusion,
		Eyelets: len(s.Eyelets), Trim: record.Rounded(s.TrimLength()), Posts: make(map[string]int), Work: make(map[measures.Hand]articleWork),
	}
	if d.states("layout.extrusion") {
		a.Turned = [2]float64{}
	}
	for _, warning := range p.Warnings {
		a.Warnings = append(a.Warnings, d.warning(warning, slices.Contains(p.Grave, warning)))
	}
	for _, post := range s.Posts {
		a.Posts[string(post.Hand)]++
	}
	for _, q := range p.Programs {
		a.program(s, q)
	}
	for i, row := range p.Pieces {
		one := articlePiece{File: row.File, SHA256: p.Record.Pieces[i].SHA256, Hands: row.Hands}
		if string(job.Locator) == row.Piece {
			one.Tool = true
			for _, h := range []measures.Hand{measures.Right, measures.Left, measures.Both} {
				if h.Includes(measures.Hand(row.Hand)) {
					one.Hands = append(one.Hands, h)
				}
			}
		}
		if len(one.Hands) > 0 {
			a.Pieces = append(a.Pieces, one)
		}
	}
	for _, hand := range o.hands(d) {
		made, err := path.Made(d.knife, hand)
		if err != nil {
			return nil, d.placed(err)
		}
		a.Work[hand] = workOf(bench.Of(made, s))
	}
	return a, nil
}

// workOf is the work of a sheath as it is kept.
func workOf(j bench.Job) articleWork {
	w := articleWork{Checks: j.Checks()}
	for _, s := range j.Steps() {
		w.Steps = append(w.Steps, articleStep(s))
	}
	for _, i := range j.Hardware() {
		w.Hardware = append(w.Hardware, articleItem(i))
	}
	return w
}

// warning is a warning of the variant or its drawing as it is kept: no path of the machine gets into a file.
func (d *Design) warning(text string, grave bool) articleWarning {
	path := d.file
	if strings.HasPrefix(text, d.drawing+":") {
		path = d.drawing
	}
	line, what, _ := strings.Cut(strings.TrimPrefix(text, path), ": ")
	seen, err := filepath.Rel(filepath.Dir(d.file), path)
	if err != nil {
		seen = filepath.Base(path)
	}
	return articleWarning{File: filepath.ToSlash(seen) + line, What: what, Grave: grave}
}

// program takes one of the sheath's programs.
func (a *articleFile) program(s *layout.Sheath, p mill.Program) {
	one := articleProgram{Does: p.Does, Kind: p.Kind, Work: p.Place.Work(), Tool: p.Tool(), Hands: measures.Hands(), Plate: s.Plate != nil}
	if p.Err == nil {
		one.File = p.File(s)
	}
	if p.Setup.Tool.Drill() {
		one.Holes = len(p.Setup.Holes)
	}
	if p.Hand != "" {
		one.Hands = slices.DeleteFunc(one.Hands, func(h measures.Hand) bool { return !h.Includes(p.Hand) })
	}
	if p.Kind == runs.Drill {
		a.Holes += one.Holes
	}
	a.Programs = append(a.Programs, one)
}

// across is a blank as a width and a height on a stock sheet, whose extrusion is upright: a blank's own
// lies along its length, or across it.
func across(length, width float64, extrusion string) [2]float64 {
	if extrusion == measures.Along {
		return [2]float64{whole(width), whole(length)}
	}
	return [2]float64{whole(length), whole(width)}
}

// whole rounds a side of a blank up to whole mm, as the layout's picture states it: a saw is set no finer, and the cuts
// are not laid out anew because a line was followed a thousandth further.
func whole(v float64) float64 { return record.Rounded(math.Ceil(v - 1e-6)) }

func turned(extrusion string) string {
	if extrusion == measures.Along {
		return measures.Across
	}
	return measures.Along
}

// of is the article for one hand; the drawer holds digests of printed pieces.
func (a *articleFile) of(hand measures.Hand, gauge float64, drawer map[string]bool) *batch.Article {
	out := &batch.Article{
		Key: batch.Key{Variant: a.Variant, Hand: hand, Gauge: gauge},
		Blank: nest.Blank{
			Size:   nest.Size{Width: a.Blank[0], Height: a.Blank[1]},
			Turned: nest.Size{Width: a.Turned[0], Height: a.Turned[1]},
		},
		Grain: a.Grain, Eyelets: a.Eyelets, Holes: a.Holes, Trim: a.Trim,
	}
	work := a.Work[hand]
	out.Checks = work.Checks
	for _, s := range work.Steps {
		out.Steps = append(out.Steps, bench.Step(s))
	}
	for _, i := range work.Hardware {
		out.Hardware = append(out.Hardware, bench.Item(i))
	}
	for _, w := range a.Warnings {
		out.Warnings = append(out.Warnings, batch.Warning{What: w.String(), Grave: w.Grave})
	}
	for _, h := range []measures.Hand{measures.Right, measures.Left} {
		if hand.Includes(h) {
			out.Posts += a.Posts[string(h)]
		}
	}
	out.Bosses = out.Posts / 2 // each plate has two
	for _, p := range a.Programs {
		if slices.Contains(p.Hands, hand) {
			out.Programs = append(out.Programs, batch.Program{File: p.File, Does: p.Does, Kind: p.Kind, Work: p.Work, Tool: p.Tool, Plate: p.Plate})
		}
	}
	for _, p := range a.Pieces {
		if !slices.Contains(p.Hands, hand) {
			continue
		}
		if p.Tool {
			out.Tools = append(out.Tools, p.File)
		} else {
			out.Pieces = append(out.Pieces, p.File)
		}
		if drawer[p.SHA256] {
			out.Printed = append(out.Printed, p.File)
		}
	}
	return out
}
