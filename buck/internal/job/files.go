package job

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"runtime"
	"slices"
	"strings"
	"sync"

	"formbuck/buck/internal/page"
	"formbuck/buck/measures"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/path"
	"formbuck/buck/picture"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/stl"
)

// File is one file of a job.
type File struct {
	Name   string
	Data   []byte
	Inputs string // digest of all that it was made from; empty: it is not known
}

// Place is how the pieces stand in their files.
type Place string

// The places: on the printer's bed, ready to print, or where they sit on the knife.
const (
	OnBed   Place = "bed"
	OnKnife Place = "knife"
)

// Format says how files are written. The zero value is binary STL, on the bed.
type Format struct {
	ASCII bool
	Place Place
	Paper drawing.Paper // that drawings and set-up sheets are laid out for; empty: neither they nor the page are made
	Draw  *path.Study   // of the buck, from path.Checked, for the papers; nil: it is made

	// Earlier is what the same program made before of the same inputs, as a file of the name; nil where it did not, or where
	// that is not to be had any more. A nil function: nothing was made before.
	Earlier func(name, inputs string) []byte
}

// Density of solid polylactide, which a print's mass is reckoned with, in g/cm3; from memory.
const Density = 1.24

// InFile is the mesh of a piece as its file has it.
func (f Format) InFile(p *Piece) (*mesh.Mesh, error) {
	if f.Place == OnKnife {
		return p.Mesh, nil
	}
	return p.bed()
}

// STL is the piece's print file.
func (s *Set) STL(p *Piece, f Format) (File, error) {
	m, err := f.InFile(p)
	if err != nil {
		return File{}, fmt.Errorf("%s: %w", p.Name, err)
	}
	var b bytes.Buffer
	name := s.Knife.Spec.Name + "-" + p.Name
	if f.ASCII {
		err = stl.EncodeText(&b, m, name)
	} else {
		err = stl.Encode(&b, m, name)
	}
	return File{Name: name + ".stl", Data: b.Bytes()}, err
}

// Files are the print file and the picture of every piece, in their order, a picture of the whole
// buck, and a print file of all pieces; where papers are asked for, those, and last the page. They are made side by side.
func (s *Set) Files(ctx context.Context, f Format, hands []measures.Hand) ([]File, error) {
	var work tasks
	for _, p := range s.Pieces {
		work.add(
			func() (File, error) { return s.STL(p, f) },
			func() (File, error) { return s.Picture(p, f) })
	}
	work.add(func() (File, error) { return s.Whole(hands, f) })
	if len(s.Pieces) > 0 {
		work = append(work, func() ([]File, error) { return s.ThreeMF(f) })
	}
	if s.Sheath != nil {
		work.add(s.SheathDXF, s.SheathSVG)
		work.add(s.programs()...)
	}
	if f.Paper == "" {
		return together(ctx, work)
	}
	study, err := s.study(f, hands)
	if err != nil {
		return nil, err
	}
	type answer struct {
		content *page.Content
		err     error
	}
	told, report := make(chan answer, 1), sync.OnceValue(study.Report)
	go func() {
		content, err := s.content(f, report(), hands)
		told <- answer{content, err}
	}()
	work.add(s.papers(f.Paper, study, hands, report)...)
	files, err := together(ctx, work)
	if err != nil {
		return nil, err
	}
	a := <-told
	if a.err != nil {
		return nil, a.err
	}
	front, err := s.page(a.content, files)
	return append(files, front), err
}

// tasks each make a file or several.
type tasks []func() ([]File, error)

// add puts tasks that make one file each to the others.
func (t *tasks) add(all ...func() (File, error)) {
	for _, one := range all {
		*t = append(*t, func() ([]File, error) {
			f, err := one()
			return []File{f}, err
		})
	}
}

// together makes files side by side, until the context is done. The last one is begun first: papers and what shows the whole
// buck take longest.
func together(ctx context.Context, work tasks) ([]File, error) {
	files, errs := make([][]File, len(work)), make([]error, len(work))
	var wait sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0)) // more would only need more memory at once
	for i, w := range slices.Backward(work) {
		slots <- struct{}{}
		wait.Go(func() {
			defer func() { <-slots }()
			if errs[i] = ctx.Err(); errs[i] == nil {
				files[i], errs[i] = w()
			}
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return slices.Concat(files...), nil
}

// Picture is the piece in three views, on the knife's axes.
func (s *Set) Picture(p *Piece, f Format) (File, error) {
	o := picture.Options{
		Title:   fmt.Sprintf("%s: %s, %s", s.Knife.Spec.Name, p.Label(), measures.Hand(p.Hand).Said()),
		Caption: strings.Join(p.Measures, "\n"),
	}
	s.sides(&o)
	if p.Face == measures.LeftFace {
		o.View = picture.ThreeQuarterLeft()
	}
	return f.draw(s.Knife.Spec.Name+"-"+p.Name, picture.Views, []picture.Part{{Mesh: p.Mesh}}, o)
}

// Whole is the knife with the pieces of the first of the hands that has a boss, on it.
func (s *Set) Whole(hands []measures.Hand, f Format) (File, error) {
	knife, err := s.steel()
	if err != nil {
		return File{}, fmt.Errorf("knife: %w", err)
	}
	hand := s.shown(hands)
	parts := []picture.Part{{Name: "knife", Mesh: knife, Colour: grey}}
	for _, p := range s.Pieces {
		if p.Serves(hand) {
			parts = append(parts, picture.Part{Name: p.Label(), Mesh: p.Mesh})
		}
	}
	o := picture.Options{Title: fmt.Sprintf("%s: forming buck, %s", s.Knife.Spec.Name, hand.Said())}
	s.sides(&o)
	if f := s.Knife.Spec.Faces(hand); len(f) == 1 && f[0] == measures.LeftFace {
		o.View = picture.ThreeQuarterLeft()
	}
	return f.draw(s.Knife.Spec.Name+"-buck", picture.Draw, parts, o)
}

// sides lets a picture call the sides of a blade with two edges what they are.
func (s *Set) sides(o *picture.Options) {
	if b := s.Knife.Spec.Blade; b.Edges > 1 {
		o.Edge, o.Spine = b.Told("edge"), b.Told("spine")
	}
}

// draw makes a picture, unless it is there already.
func (f Format) draw(name string, how func([]picture.Part, picture.Options) (*image.NRGBA, error), parts []picture.Part, o picture.Options) (File, error) {
	file := File{Name: name + ".png", Inputs: picture.Inputs(parts, o)}
	if f.Earlier != nil {
		if file.Data = f.Earlier(file.Name, file.Inputs); file.Data != nil {
			return file, nil
		}
	}
	im, err := how(parts, o)
	if err != nil {
		return File{}, fmt.Errorf("%s: %w", name, err)
	}
	var b bytes.Buffer
	err = picture.EncodePNG(&b, im)
	file.Data = b.Bytes()
	return file, err
}

// shown is the hand whose buck is shown: the first that has a boss.
func (s *Set) shown(hands []measures.Hand) measures.Hand {
	if i := slices.IndexFunc(hands, func(h measures.Hand) bool { return len(s.Knife.Spec.Faces(h)) > 0 }); i >= 0 {
		return hands[i]
	}
	return measures.Plain
}

// grey is the colour of the knife in a picture.
var grey = color.NRGBA{R: 140, G: 148, B: 158, A: 255}

// Label is the piece's name without the hand: two pieces for one hand have two labels.
func (p *Piece) Label() string {
	return strings.TrimSuffix(strings.Replace(p.Name, "-"+p.Hand, "", 1), "-")
}

// Serves tells whether the piece is part of a buck for the hand.
func (p *Piece) Serves(h measures.Hand) bool {
	if p.Kind == Nub || p.Kind == Locator || p.Kind == Whole {
		return false // a loose nub sits where the maker wants it, a locator is taken off, a whole buck is one itself
	}
	switch {
	case p.For == pieces.BareFaces:
		return !slices.Contains(p.carry.Faces(h), p.Face)
	case p.For == pieces.AllFaces && p.Hand == AnyHand:
		return true
	}
	return slices.Contains(p.carry.Faces(h), p.Face)
}
