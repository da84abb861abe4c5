package job

import (
	"bytes"
	"fmt"
	"slices"
	"sync"

	"formbuck/buck/measures"
	"formbuck/buck/mill"
	"formbuck/buck/paper"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/path"
)

// papers are what is to be done for the shop's papers: a drawing of every face that carries a boss for one of
// the hands, as SVG in one piece and in one PDF laid out on the paper, and a set-up sheet for each hand. Without a
// boss the right face is drawn. After the faces the PDF has the sheath with its measures and every piece by itself.
func (s *Set) papers(p drawing.Paper, study *path.Study, hands []measures.Hand, report func() *path.Report) []func() (File, error) {
	name := s.Knife.Spec.Name
	faces := s.faces(Request{Hands: hands})
	if len(faces) == 0 {
		faces = []measures.Face{measures.RightFace}
	}
	drawn := make([]func() *drawing.Drawing, len(faces))
	for i, f := range faces {
		drawn[i] = sync.OnceValue(func() *drawing.Drawing {
			return paper.Face(study.For(s.Knife.Spec.Faces(s.carrying(hands, f))), f, fmt.Sprintf("%s: %s face", name, f))
		})
	}
	work := []func() (File, error){func() (File, error) {
		var all []*drawing.Drawing
		for _, d := range drawn {
			all = append(all, d())
		}
		if s.Sheath != nil {
			all = append(all, s.Sheath.Plan())
		}
		var pages, rest []*drawing.Drawing
		for _, d := range all {
			own, left := d.Split(p)
			pages, rest = append(pages, own...), append(rest, left...)
		}
		title := name + ": pieces"
		if len(rest) > 0 {
			title += " and sections"
		}
		for _, part := range s.drawnParts() {
			rest = append(rest, part.Draw())
		}
		return pdf(name+"-drawing.pdf", name+": drawings", append(pages, drawing.Together(p, title, rest)...))
	}}
	for i, f := range faces {
		work = append(work, func() (File, error) {
			var b bytes.Buffer
			err := drawn[i]().SVG(&b)
			return File{Name: fmt.Sprintf("%s-drawing-%s-face.svg", name, f), Data: b.Bytes()}, err
		})
	}
	for _, h := range hands {
		work = append(work, func() (File, error) {
			told := paper.Told{Holds: report().Held.String(), Warnings: s.told(report())}
			pages := paper.SetUp(study.For(s.Knife.Spec.Faces(h)).Buck, s.Sheath, h, p, told)
			return pdf(fmt.Sprintf("%s-setup-%s.pdf", name, h), fmt.Sprintf("%s: set-up, %s", name, h.Said()), pages)
		})
	}
	if s.Sheath != nil {
		work = append(work, func() (File, error) {
			return pdf(name+"-mill.pdf", name+": on the mill", mill.Sheet(s.Sheath, s.Programs, p))
		})
	}
	return work
}

// study is that of the buck for the papers.
func (s *Set) study(f Format, hands []measures.Hand) (*path.Study, error) {
	if f.Draw != nil {
		return f.Draw, nil
	}
	return path.Of(s.Knife, Request{Hands: hands}.hands())
}

// carrying is a hand that has its boss on the face; plain where none has.
func (s *Set) carrying(hands []measures.Hand, f measures.Face) measures.Hand {
	if i := slices.IndexFunc(hands, func(h measures.Hand) bool { return slices.Contains(s.Knife.Spec.Faces(h), f) }); i >= 0 {
		return hands[i]
	}
	return measures.Plain
}

func pdf(name, title string, pages []*drawing.Drawing) (File, error) {
	var b bytes.Buffer
	err := drawing.PDF(&b, title, pages...)
	return File{Name: name, Data: b.Bytes()}, err
}
