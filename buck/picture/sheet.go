package picture

import (
	"image"
	"image/color"
	"image/draw"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
)

// The colours of everything that is not a part.
var (
	paper = color.NRGBA{250, 249, 246, 255}
	ink   = color.NRGBA{34, 38, 46, 255}
	quiet = color.NRGBA{84, 90, 100, 255}
	soft  = color.NRGBA{116, 121, 130, 255}
	hair  = color.NRGBA{214, 213, 208, 255}
	rose  = color.NRGBA{214, 96, 118, 255}
	red   = color.NRGBA{188, 34, 44, 255}
)

// Sizes of the sheet, in pixels at a scale of 1 (a height of 900).
const (
	margin       = 36
	titleText    = 30
	legendText   = 17
	captionText  = 17
	captionLine  = 24
	footWidth    = 470 // of scale bar and axes together
	barLength    = 230 // of the scale bar at most
	footHeight   = 112
	leastPane    = 60
	leastCaption = 240
)

// sheet is the picture with its writing.
type sheet struct {
	o       Options
	scene   *scene
	img     *image.RGBA
	tones   *tones
	font    *opentype.Font
	faces   map[float64]font.Face
	u       float64         // pixels of one unit of the sizes above
	room    image.Rectangle // for the panes
	title   string
	legend  []entry
	caption []string
	foot    float64 // y of the line above caption, scale and axes
	stacked bool    // scale and axes stand under the caption
	main    *pane   // the pane whose scale bar and axes are shown
	used    buffer  // of one pane after the other
}

// entry is one line of the legend, at its place.
type entry struct {
	name   string
	colour color.NRGBA
	faint  bool
	x, y   float64 // left, and middle of the line
}

// newSheet lays the writing out and leaves the rest to the panes.
func newSheet(sc *scene, o Options) (*sheet, error) {
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		return nil, err
	}
	s := &sheet{o: o, scene: sc, tones: newTones(), font: f, faces: map[float64]font.Face{}}
	s.u = max(min(float64(o.Width)/1200, float64(o.Height)/900), 0.75)
	s.img = image.NewRGBA(image.Rect(0, 0, o.Width, o.Height))
	draw.Draw(s.img, s.img.Rect, image.NewUniform(paper), image.Point{}, draw.Src)
	u, wide := s.u, float64(o.Width)
	top := margin * u
	if o.Title != "" {
		s.title = s.cut(strings.Join(strings.Fields(o.Title), " "), wide-2*margin*u, titleText*u)
		top += (titleText + 12) * u
	}
	top = s.layLegend(top)
	free := wide - (2*margin+footWidth+24)*u
	s.stacked = free < leastCaption*u // a narrow sheet: the caption over scale and axes, not beside
	if s.stacked {
		free = wide - 2*margin*u
	}
	s.caption = s.wrap(o.Caption, free, captionText*u)
	lines := float64(len(s.caption)) * captionLine * u
	high := max(footHeight*u, lines)
	if s.stacked {
		high = footHeight*u + lines
	}
	s.foot = float64(o.Height) - (margin*0.7)*u - high - 14*u
	s.room = image.Rectangle{
		Min: image.Point{X: int(margin * u), Y: int(top + 6*u)},
		Max: image.Point{X: int(wide - margin*u), Y: int(s.foot - 10*u)},
	}
	if s.room.Dx() < leastPane || s.room.Dy() < leastPane {
		return nil, &Error{Fault: NoRoom, Detail: fmtSize(max(s.room.Dx(), 0), max(s.room.Dy(), 0)) + " pixels are left"}
	}
	return s, nil
}

// layLegend places the names of the parts in rows under the title, when there are several.
func (s *sheet) layLegend(top float64) float64 {
	if len(s.scene.bodies) < 2 {
		return top
	}
	u := s.u
	left, right := margin*u, float64(s.o.Width)-margin*u
	x, y := left, top+legendText*u*0.6
	for _, b := range s.scene.bodies {
		if b.Name == "" {
			continue
		}
		name := s.cut(b.Name, right-left-30*u, legendText*u)
		w := (26+26)*u + s.width(name, legendText*u)
		if x > left && x+w-26*u > right {
			x, y = left, y+28*u
		}
		s.legend = append(s.legend, entry{name: name, colour: b.Colour, faint: b.Faint, x: x, y: y})
		x += w
	}
	if len(s.legend) == 0 {
		return top
	}
	return y + (legendText*0.6+8)*u
}

// image is the finished picture; all its pixels are opaque, so both kinds have the same bytes.
func (s *sheet) image() *image.NRGBA {
	return &image.NRGBA{Pix: s.img.Pix, Stride: s.img.Stride, Rect: s.img.Rect}
}
