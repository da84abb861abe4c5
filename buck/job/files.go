package job

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"slices"
	"strings"
	"sync"

	"formbuck/buck"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/path"
	"formbuck/buck/picture"
	"formbuck/mesh"
	"formbuck/mesh/stl"
)

// File is one file of a job.
type File struct {
	Name string
	Data []byte
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
func (s *Set) Files(ctx context.Context, f Format, hands []buck.Hand) ([]File, error) {
	var work []func() (File, error)
	for _, p := range s.Pieces {
		work = append(work,
			func() (File, error) { return s.STL(p, f) },
			func() (File, error) { return s.Picture(p) })
	}
	work = append(work, func() (File, error) { return s.Whole(hands) })
	if len(s.Pieces) > 0 {
		work = append(work, func() (File, error) { return s.ThreeMF(f) })
	}
	if s.Sheath != nil {
		work = append(append(work, s.SheathDXF, s.SheathSVG), s.programs()...)
	}
	if f.Paper == "" {
		return together(ctx, work)
	}
	study, err := s.study(f, hands)
	if err != nil {
		return nil, err
	}
	told := make(chan *path.Report, 1)
	go func() { told <- study.Report() }()
	files, err := together(ctx, append(work, s.papers(f.Paper, study, hands)...))
	if err != nil {
		return nil, err
	}
	front, err := s.page(f, files, <-told, hands)
	return append(files, front), err
}

// together makes files side by side, until the context is done.
func together(ctx context.Context, work []func() (File, error)) ([]File, error) {
	files, errs := make([]File, len(work)), make([]error, len(work))
	var wait sync.WaitGroup
	slots := make(chan struct{}, 4)
	for i, w := range work {
		wait.Go(func() {
			slots <- struct{}{}
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
	return files, nil
}

// Picture is the piece in three views, on the knife's axes.
func (s *Set) Picture(p *Piece) (File, error) {
	o := picture.Options{
		Title:   fmt.Sprintf("%s: %s, %s hand", s.Knife.Spec.Name, p.Label(), p.Hand),
		Caption: strings.Join(p.Measures, "\n"),
	}
	if p.Face == buck.LeftFace {
		o.View = picture.ThreeQuarterLeft()
	}
	im, err := picture.Views([]picture.Part{{Mesh: p.Mesh}}, o)
	return pngFile(s.Knife.Spec.Name+"-"+p.Name, im, err)
}

// Whole is the knife with the pieces of the first of the hands that has a boss, on it.
func (s *Set) Whole(hands []buck.Hand) (File, error) {
	knife, err := s.steel()
	if err != nil {
		return File{}, fmt.Errorf("knife: %w", err)
	}
	hand := shown(hands)
	parts := []picture.Part{{Name: "knife", Mesh: knife, Colour: grey}}
	for _, p := range s.Pieces {
		if p.Serves(hand) {
			parts = append(parts, picture.Part{Name: p.Label(), Mesh: p.Mesh})
		}
	}
	o := picture.Options{Title: fmt.Sprintf("%s: forming buck, %s hand", s.Knife.Spec.Name, hand)}
	if hand == buck.Right {
		o.View = picture.ThreeQuarterLeft()
	}
	im, err := picture.Draw(parts, o)
	return pngFile(s.Knife.Spec.Name+"-buck", im, err)
}

// shown is the hand whose buck is shown: the first that has a boss.
func shown(hands []buck.Hand) buck.Hand {
	if i := slices.IndexFunc(hands, func(h buck.Hand) bool { return len(h.Faces()) > 0 }); i >= 0 {
		return hands[i]
	}
	return buck.Plain
}

// grey is the colour of the knife in a picture.
var grey = color.NRGBA{R: 140, G: 148, B: 158, A: 255}

// Label is the piece's name without the hand: two pieces for one hand have two labels.
func (p *Piece) Label() string {
	return strings.TrimSuffix(strings.Replace(p.Name, "-"+p.Hand, "", 1), "-")
}

// Serves tells whether the piece is part of a buck for the hand.
func (p *Piece) Serves(h buck.Hand) bool {
	if p.Kind == Nub || p.Kind == Locator || p.Kind == Whole {
		return false // a loose nub sits where the maker wants it, a locator is taken off, a whole buck is one itself
	}
	if p.Hand == AnyHand {
		return true
	}
	return slices.Contains(h.Faces(), p.Face)
}

func pngFile(name string, im *image.NRGBA, err error) (File, error) {
	if err != nil {
		return File{}, fmt.Errorf("%s: %w", name, err)
	}
	var b bytes.Buffer
	if err := picture.EncodePNG(&b, im); err != nil {
		return File{}, err
	}
	return File{Name: name + ".png", Data: b.Bytes()}, nil
}
