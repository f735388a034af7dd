package plan

import (
	"fmt"
	"math"
	"strconv"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// The picture of the piece in its blank: above the axis the sizing cuts with the number of their caliper setting, below
// it the direction of every cut.
const (
	halfTall  = 14.0 // mm that half the blank stands on paper, at least
	labelRoom = 11.0 // over the blank, for numbers in staggered rows
	arrowRoom = 7.0  // under it, for arrows
	noteRoom  = 6.0
	labelCap  = 1.5
)

// drawing maps stations and diameters to a page.
type drawing struct {
	s       sheet.Surface
	x, axis float64 // where station 0 and the axis lie, mm of paper
	along   float64 // mm of paper for a mm of length
	up      float64 // mm of paper for a mm of radius
}

func (d drawing) at(x, diameter float64) sheet.Point {
	return sheet.Point{X: d.x + x*d.along, Y: d.axis - diameter/2*d.up}
}

func (d drawing) line(grey, width float64, dash []float64, pts ...sheet.Point) {
	d.s.Stroke(pts, false, sheet.Pen{Layer: sheet.Outline, Width: width, Grey: grey, Dash: dash})
}

// picture is the row with the drawing.
func (p Plan) picture(width float64) row {
	b := p.Blank
	along := width / b.Length
	up := math.Max(along, halfTall/(b.Side/2))
	half := b.Side / 2 * up
	height := labelRoom + 2*half + arrowRoom + noteRoom
	return row{height: height, draw: func(s sheet.Surface, x, y float64) {
		d := drawing{s, x + b.Waste[0]*along, y + labelRoom + half, along, up}
		p.drawBlank(d)
		p.drawPiece(d)
		p.drawCuts(d)
		p.drawPasses(d)
		note := "Piece in its blank, hook end left. Numbers: caliper setting of each sizing cut. Arrows: the way each shape is cut."
		if up > along*1.01 {
			note += fmt.Sprintf(" Diameters are drawn %s times as large as lengths.", strconv.FormatFloat(up/along, 'f', 1, 64))
		}
		write(s, x, y+height-2.2, note, labelCap, false)
	}}
}

// drawBlank draws the blank, the axis, and the lines squared across it.
func (p Plan) drawBlank(d drawing) {
	b := p.Blank
	from, to := -b.Waste[0], p.Pattern.Length+b.Waste[1]
	d.line(0.45, 0.15, nil, d.at(from, -b.Side), d.at(to, -b.Side), d.at(to, b.Side), d.at(from, b.Side), d.at(from, -b.Side))
	d.line(0.45, 0.1, []float64{5, 1, 1, 1}, d.at(from, 0), d.at(to, 0))
	for _, l := range p.Lines {
		d.line(0.3, 0.15, []float64{1, 0.8}, d.at(l.X, b.Side), d.at(l.X, -b.Side))
	}
}

// drawPiece draws both sides of the finished piece; a square by its flats.
func (p Plan) drawPiece(d drawing) {
	for _, side := range []float64{1, -1} {
		pts := []sheet.Point{d.at(0, 0)}
		for _, e := range p.Pattern.Elements {
			n := 2
			if e.Kind != profile.Taper && stepOf(e.Kind) != 0 {
				n = 24
			}
			for i := range n {
				x := e.X0 + e.Length()*float64(i)/float64(n-1)
				pts = append(pts, d.at(x, side*silhouette(e, x)))
			}
		}
		d.line(0, 0.3, nil, append(pts, d.at(p.Pattern.Length, 0))...)
	}
}

// silhouette is the height of a part seen flat on: a shoulder is no wider than its square.
func silhouette(e profile.Element, x float64) float64 {
	if e.Kind == profile.Shoulder {
		return math.Min(e.At(x), e.Side)
	}
	return e.At(x)
}

// drawCuts fills what each sizing cut takes above the axis, with its setting's number over it; numbers that would touch
// stand in higher rows.
func (p Plan) drawCuts(d drawing) {
	const rowTall, apart = 2.4, 1.0
	var ends []float64 // where the last number of each row of labels ends
	for _, c := range p.Cuts {
		top := roughAt(p.Cylinders, p.Blank, (c.From+c.To)/2)
		d.s.Fill([]sheet.Point{d.at(c.From, top), d.at(c.To, top), d.at(c.To, c.Diameter), d.at(c.From, c.Diameter)}, 0.75, sheet.Stations)
		label := ordinal(c.Setting)
		wide := measure(label, labelCap)
		mid := d.at((c.From+c.To)/2, p.Blank.Side)
		n := 0
		for n < len(ends) && ends[n]+apart > mid.X-wide/2 {
			n++
		}
		if n == len(ends) {
			ends = append(ends, 0)
		}
		ends[n] = mid.X + wide/2
		foot := mid.Y - 0.8 - rowTall*float64(n)
		d.s.Write(sheet.Text{At: sheet.Point{X: mid.X, Y: foot}, S: label, Cap: labelCap, Anchor: sheet.Middle, Layer: sheet.Lettered})
		d.line(0.5, 0.1, nil, sheet.Point{X: mid.X, Y: foot + 0.4}, d.at((c.From+c.To)/2, top))
	}
}

// drawPasses draws an arrow for each cut of more than a hair's length on paper.
func (p Plan) drawPasses(d drawing) {
	const shortest, headLong, headWide = 0.6, 1.1, 0.45
	y := d.at(0, -p.Blank.Side).Y + 2.5
	for i, e := range p.Pattern.Elements {
		if stepOf(e.Kind) == 0 {
			continue
		}
		level := y + 1.7*float64(i%2)
		for _, pass := range passes(e) {
			a, b := d.at(pass.From, 0).X, d.at(pass.To, 0).X
			if pass.Level || math.Abs(b-a) < shortest {
				continue
			}
			way := math.Copysign(math.Min(headLong, math.Abs(b-a)), b-a)
			d.line(0, 0.15, nil, sheet.Point{X: a, Y: level}, sheet.Point{X: b, Y: level})
			d.s.Fill([]sheet.Point{{X: b, Y: level}, {X: b - way, Y: level - headWide}, {X: b - way, Y: level + headWide}}, 0, sheet.Stations)
		}
	}
}
