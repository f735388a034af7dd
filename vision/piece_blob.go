package vision

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Small-picture pixel classes.
const (
	isGround uint8 = iota
	isOther
	isReference
)

// blob is one connected region of pixels that differ from the ground, in small pixels.
type blob struct {
	area           int
	cells          []int32
	centre         r2.Vec
	e              r2.Vec  // unit principal direction
	lo, hi         float64 // extent along e from the centre
	half           float64 // half-width across e that holds 99 % of the area
	mirror         float64 // share of the area whose mirror image about the axis belongs too
	borders        int     // how many sides of the picture it touches
	touchReference bool
}

// blobs lists the connected regions (4-neighbours) of isOther pixels with at least minArea pixels.
func blobs(class []uint8, w, h, minArea int) []blob {
	seen := make([]bool, len(class))
	var out []blob
	for i := range class {
		if class[i] != isOther || seen[i] {
			continue
		}
		b := flood(class, seen, w, h, int32(i))
		if b.area >= minArea {
			b.measure(class, w, h)
			out = append(out, b)
		}
	}
	return out
}

// flood collects the region that holds cell from.
func flood(class []uint8, seen []bool, w, h int, from int32) blob {
	cells := []int32{from}
	seen[from] = true
	var b blob
	var border [4]bool
	for k := 0; k < len(cells); k++ {
		c := cells[k]
		x, y := int(c)%w, int(c)/w
		border[0] = border[0] || x == 0
		border[1] = border[1] || x == w-1
		border[2] = border[2] || y == 0
		border[3] = border[3] || y == h-1
		for _, d := range [4][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
			u, v := x+d[0], y+d[1]
			if u < 0 || v < 0 || u >= w || v >= h {
				continue
			}
			n := int32(v*w + u)
			b.touchReference = b.touchReference || class[n] == isReference
			if class[n] == isOther && !seen[n] {
				seen[n] = true
				cells = append(cells, n)
			}
		}
	}
	for _, t := range border {
		if t {
			b.borders++
		}
	}
	b.cells, b.area = cells, len(cells)
	return b
}

// measure fills the shape figures of the blob from its cells.
func (b *blob) measure(class []uint8, w, h int) {
	var sx, sy, sxx, sxy, syy float64
	for _, c := range b.cells {
		x, y := float64(int(c)%w), float64(int(c)/w)
		sx, sy = sx+x, sy+y
		sxx, sxy, syy = sxx+x*x, sxy+x*y, syy+y*y
	}
	n := float64(b.area)
	b.centre = r2.Vec{X: sx / n, Y: sy / n}
	mxx, mxy, myy := sxx/n-b.centre.X*b.centre.X, sxy/n-b.centre.X*b.centre.Y, syy/n-b.centre.Y*b.centre.Y
	t := math.Atan2(2*mxy, mxx-myy) / 2
	b.e = r2.Vec{X: math.Cos(t), Y: math.Sin(t)}
	b.centreAcross(w, h)
	b.extent(w)
	b.mirror = b.mirrored(class, w, h)
}

// across is the signed distance of a cell from the axis, along is its place on it.
func (b *blob) place(c int32, w int) (along, across float64) {
	d := r2.Sub(r2.Vec{X: float64(int(c) % w), Y: float64(int(c) / w)}, b.centre)
	return r2.Dot(d, b.e), r2.Cross(b.e, d)
}

// centreAcross turns and moves the axis onto the middle line of the blob: a straight line through
// the middles of its cross-sections, less disturbed by a lopsided shadow than the moments are.
func (b *blob) centreAcross(w, h int) {
	most := int(math.Hypot(float64(w), float64(h))) + 2 // no cell is further from the centre
	lo, hi := make([]float64, 2*most), make([]float64, 2*most)
	for range 3 {
		for k := range lo {
			lo[k], hi[k] = math.Inf(1), math.Inf(-1)
		}
		for _, c := range b.cells {
			s, t := b.place(c, w)
			k := min(max(int(math.Floor(s))+most, 0), len(lo)-1)
			lo[k], hi[k] = math.Min(lo[k], t), math.Max(hi[k], t)
		}
		var xs, ys []float64
		for k := range lo {
			if lo[k] <= hi[k] {
				xs = append(xs, float64(k-most)+0.5)
				ys = append(ys, (lo[k]+hi[k])/2)
			}
		}
		a, m := robustLine(xs, ys)
		n := r2.Vec{X: -b.e.Y, Y: b.e.X}
		b.centre = r2.Add(b.centre, r2.Scale(a, n))
		b.e = r2.Unit(r2.Add(b.e, r2.Scale(m, n)))
	}
}

// extent measures the blob along and across its axis.
func (b *blob) extent(w int) {
	across := make([]float64, len(b.cells))
	b.lo, b.hi = math.Inf(1), math.Inf(-1)
	for i, c := range b.cells {
		s, t := b.place(c, w)
		b.lo, b.hi = math.Min(b.lo, s), math.Max(b.hi, s)
		across[i] = math.Abs(t)
	}
	b.half = quantile(across, 0.99)
}

// mirrored is the share of cells whose mirror image about the axis belongs to the blob; images
// outside the picture or on a reference do not count.
func (b *blob) mirrored(class []uint8, w, h int) float64 {
	own := make([]bool, len(class))
	for _, c := range b.cells {
		own[c] = true
	}
	hit, all := 0, 0
	for _, c := range b.cells {
		s, t := b.place(c, w)
		p := r2.Add(b.centre, r2.Add(r2.Scale(s, b.e), r2.Scale(-t, r2.Vec{X: -b.e.Y, Y: b.e.X})))
		x, y := int(math.Round(p.X)), int(math.Round(p.Y))
		if x < 0 || y < 0 || x >= w || y >= h || class[y*w+x] == isReference {
			continue
		}
		all++
		if own[int32(y*w+x)] {
			hit++
		}
	}
	if all == 0 {
		return 0
	}
	return float64(hit) / float64(all)
}
