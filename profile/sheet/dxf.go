package sheet

import (
	"bytes"
	"fmt"
	"image"
	"io"
	"math"
	"strings"
	"sync"

	"github.com/yofu/dxf/color"
	dxfdrawing "github.com/yofu/dxf/drawing"
	"github.com/yofu/dxf/entity"
	"github.com/yofu/dxf/insunit"
	"github.com/yofu/dxf/table"
)

// dxfLock keeps two drawings from being written at once: the DXF package numbers its default layer and style, which
// all its drawings share.
var dxfLock sync.Mutex

// renderDXF writes the document's one surface as DXF (AC1015): $INSUNITS 4 = millimetres, y upwards from the
// surface's lower edge, a layer for each Layer. Of filled areas it shows the edges, of tints and pictures nothing.
func renderDXF(d Document, w io.Writer) error {
	dxfLock.Lock()
	defer dxfLock.Unlock()
	s := &dxfSurface{d: dxfdrawing.New(), height: d.Whole.Height, layers: map[Layer]*table.Layer{}}
	h := s.d.Header()
	h.InsUnit, h.InsLUnit = insunit.Millimeters, insunit.Decimal
	h.ExtMax = []float64{d.Whole.Width, d.Whole.Height, 0}
	for _, l := range []Layer{Outline, Stations, Lettered, Centre, Hatching, Furnish, Check} {
		s.layer(l)
	}
	d.Whole.Draw(s)
	if s.err != nil {
		return fmt.Errorf("sheet: make the DXF: %w", s.err)
	}
	var b bytes.Buffer
	if _, err := s.d.WriteTo(&b); err != nil {
		return fmt.Errorf("sheet: make the DXF: %w", err)
	}
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("sheet: write the DXF: %w", err)
	}
	return nil
}

type dxfSurface struct {
	d      *dxfdrawing.Drawing
	height float64
	layers map[Layer]*table.Layer
	err    error
}

var _ Surface = (*dxfSurface)(nil)

// layer makes a layer current, and makes it if it is new.
func (s *dxfSurface) layer(l Layer) {
	have, ok := s.layers[l]
	if !ok {
		have, s.err = s.d.AddLayer(string(l), color.White, table.LT_CONTINUOUS, false)
		if s.err != nil {
			return
		}
		s.layers[l] = have
	}
	s.d.CurrentLayer = have
}

// Stroke writes a line as LINE, more as LWPOLYLINE.
func (s *dxfSurface) Stroke(pts []Point, closed bool, pen Pen) {
	s.layer(pen.Layer)
	if len(pts) == 2 {
		s.d.AddEntity(s.line(pts[0], pts[1]))
		return
	}
	l := entity.NewLwPolyline(len(pts))
	for i, p := range pts {
		l.Vertices[i] = []float64{p.X, s.height - p.Y}
	}
	if closed {
		l.Close()
	}
	l.SetLayer(s.d.CurrentLayer)
	s.d.AddEntity(l)
}

func (s *dxfSurface) line(a, b Point) *entity.Line {
	l := entity.NewLine()
	l.Start = []float64{a.X, s.height - a.Y, 0}
	l.End = []float64{b.X, s.height - b.Y, 0}
	l.SetLayer(s.d.CurrentLayer)
	return l
}

func (s *dxfSurface) Arc(b Bow, pen Pen) {
	s.layer(pen.Layer)
	c := entity.NewCircle()
	c.Center = []float64{b.Centre.X, s.height - b.Centre.Y, 0}
	c.Radius = b.R
	c.SetLayer(s.d.CurrentLayer)
	if b.To-b.From >= 2*math.Pi-1e-9 {
		s.d.AddEntity(c)
		return
	}
	a := entity.NewArc(c)
	a.Angle[0], a.Angle[1] = b.From*180/math.Pi, b.To*180/math.Pi
	s.d.AddEntity(a)
}

// tint is the grey from which an area is a tint under other marks, not a mark of its own.
const tint = 0.5

func (s *dxfSurface) Fill(pts []Point, grey float64, layer Layer) {
	if grey < tint {
		s.Stroke(pts, true, Pen{Layer: layer})
	}
}

func (s *dxfSurface) Picture(image.Image, Point, float64, float64) {}

func (s *dxfSurface) Write(t Text) {
	s.layer(t.Layer)
	o := t.origin()
	e := entity.NewText()
	e.Coord1 = []float64{o.X, s.height - o.Y, 0}
	e.Height, e.Rotation = t.Cap, t.Turn*180/math.Pi
	e.Value, e.Style, e.WidthFactor = dxfString(t.S), s.d.CurrentStyle, 1
	e.SetLayer(s.d.CurrentLayer)
	s.d.AddEntity(e)
}

// dxfString writes what is not ASCII as \U+hhhh, which every reader of this version knows, whatever its code page.
func dxfString(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r < 0x80:
			b.WriteRune(r)
		case r <= 0xffff:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteByte(missing)
		}
	}
	return b.String()
}
