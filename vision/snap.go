package vision

import (
	"errors"
	"fmt"
	"image"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// ErrSnap says that no edge was found along a line drawn by hand.
var ErrSnap = errors.New("no edge is near the line")

const (
	// snapReach is how far from the drawn line the edge is looked for, px, and snapStep the step of the search.
	snapReach, snapStep = 10.0, 0.5
	// snapBend is the most that the edge may move from one place to the next, px a px: tan 45 degrees.
	snapBend = 1.0
	// snapMargin is how far round the line the picture is read, px: the search and what the step fit reads beyond it.
	snapMargin = 40
	// backWay is how far inside the piece the contour returns, px: clear of what the step fit reads.
	backWay = 22.0
	// longestSnap bounds a drawn line, px: longer than any picture's diagonal that is read.
	longestSnap = 40000
	// leastSnap is the shortest line that shows an edge's direction, px.
	leastSnap = 12.0
	// leastSnapped is the share of the line, in points a pixel, that must show an edge. Every other point is picked where
	// the line runs straight.
	leastSnapped = 0.2
)

// Snap finds the edge along a line drawn by hand over the upright picture img. inside is a place within the piece, px.
// The points run along the line; where it has no edge they are missing. It reads only the picture about the line.
func (Tracer) Snap(img image.Image, line []r2.Vec, inside r2.Vec) ([]view.EdgePoint, error) {
	path, err := evenly(line)
	if err != nil {
		return nil, err
	}
	box := boxOf(path).Inset(-snapMargin).Intersect(img.Bounds())
	if box.Dx() < 2 || box.Dy() < 2 {
		return nil, fmt.Errorf("%w: it lies outside the picture", ErrSnap)
	}
	off := r2.Vec{X: float64(box.Min.X), Y: float64(box.Min.Y)}
	r := rasterOf(img, box)
	for i := range path {
		path[i] = r2.Sub(path[i], off)
	}
	if !clockwise(path, r2.Sub(inside, off)) {
		reverse(path)
	}
	path = r.snapped(path)
	loop := append([]r2.Vec(nil), path...)
	for i := len(path) - 1; i >= 0; i-- {
		loop = append(loop, r2.Sub(path[i], r2.Scale(backWay, outwardAt(path, i))))
	}
	out := r.onPath(refineEdges(r, loop), path)
	if float64(len(out)) < leastSnapped*float64(len(path)) {
		return nil, fmt.Errorf("%w: draw it closer to the piece's edge", ErrSnap)
	}
	for i := range out {
		out[i].P = r2.Add(out[i].P, off)
	}
	return out, nil
}

// evenly spreads the points of an open line one pixel apart.
func evenly(line []r2.Vec) ([]r2.Vec, error) {
	total := 0.0
	for i, p := range line {
		if math.IsNaN(p.X+p.Y) || math.IsInf(p.X+p.Y, 0) {
			return nil, fmt.Errorf("%w: it has a point that is no number", ErrSnap)
		}
		if i > 0 {
			total += r2.Norm(r2.Sub(p, line[i-1]))
		}
	}
	if total < leastSnap || total > longestSnap {
		return nil, fmt.Errorf("%w: it is %.0f px long, draw %.0f or more along the edge", ErrSnap, total, leastSnap)
	}
	var out []r2.Vec
	next, walked := 0.0, 0.0
	for i := 1; i < len(line); i++ {
		l := r2.Norm(r2.Sub(line[i], line[i-1]))
		for ; next <= walked+l && l > 0; next++ {
			out = append(out, r2.Add(line[i-1], r2.Scale((next-walked)/l, r2.Sub(line[i], line[i-1]))))
		}
		walked += l
	}
	return out, nil
}

func boxOf(path []r2.Vec) image.Rectangle {
	lo, hi := path[0], path[0]
	for _, p := range path {
		lo = r2.Vec{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y)}
		hi = r2.Vec{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y)}
	}
	whole := func(v float64) int { return int(math.Max(-1e6, math.Min(1e6, v))) }
	return image.Rect(whole(lo.X), whole(lo.Y), whole(hi.X)+1, whole(hi.Y)+1)
}

// rasterOf copies a part of a picture.
func rasterOf(img image.Image, box image.Rectangle) *raster {
	pix := make([]uint8, 0, 3*box.Dx()*box.Dy())
	var quick []uint8 // opaque pictures of either kind hold the same bytes
	var stride int
	switch img := img.(type) {
	case *image.RGBA:
		quick, stride = img.Pix[img.PixOffset(img.Rect.Min.X, img.Rect.Min.Y):], img.Stride
	case *image.NRGBA:
		quick, stride = img.Pix[img.PixOffset(img.Rect.Min.X, img.Rect.Min.Y):], img.Stride
	}
	corner := img.Bounds().Min
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			if quick != nil {
				p := quick[(y-corner.Y)*stride+4*(x-corner.X):]
				pix = append(pix, p[2], p[1], p[0])
				continue
			}
			red, green, blue, _ := img.At(x, y).RGBA()
			pix = append(pix, high(uint16(blue)), high(uint16(green)), high(uint16(red)))
		}
	}
	return newRaster8(box.Dx(), box.Dy(), pix)
}

// clockwise reports whether the piece lies to the right of the walk along the path, as contours have it.
func clockwise(path []r2.Vec, inside r2.Vec) bool {
	turn := 0.0
	for i := 1; i < len(path); i++ {
		turn += r2.Cross(r2.Sub(path[i], path[i-1]), r2.Sub(inside, path[i]))
	}
	return turn > 0
}

func reverse(path []r2.Vec) {
	for i, j := 0, len(path)-1; i < j; i, j = i+1, j-1 {
		path[i], path[j] = path[j], path[i]
	}
}

// outwardReach is how many points either side give a direction to a drawn line, which trembles.
const outwardReach = 6

// outwardAt is the unit normal out of the piece at point i of a path that has the piece to its right.
func outwardAt(path []r2.Vec, i int) r2.Vec {
	d := r2.Sub(path[min(i+outwardReach, len(path)-1)], path[max(i-outwardReach, 0)])
	n := math.Max(r2.Norm(d), 1e-9)
	return r2.Vec{X: d.Y / n, Y: -d.X / n}
}

// snapped moves a drawn line onto the strongest edge near it, as one line: the sum of the contrast across it is largest
// among all that bend no more than snapBend (dynamic programming over the shifts along the normals).
func (r *raster) snapped(path []r2.Vec) []r2.Vec {
	shifts := int(2*snapReach/snapStep) + 1
	most := int(snapBend / snapStep)
	normals := make([]r2.Vec, len(path))
	sum := make([]float64, shifts)
	from := make([][]int8, len(path))
	for i, p := range path {
		normals[i] = outwardAt(path, i)
		from[i] = make([]int8, shifts)
		next := make([]float64, shifts)
		for k := range shifts {
			best, by := math.Inf(-1), 0
			for d := -most; d <= most; d++ {
				// A bend costs: where contrasts are alike the line goes straight on.
				if j := k + d; j >= 0 && j < shifts && sum[j]-math.Abs(float64(d)) > best {
					best, by = sum[j]-math.Abs(float64(d)), d
				}
			}
			next[k] = best + r.across(r2.Add(p, r2.Scale(shiftOf(k), normals[i])), normals[i])
			from[i][k] = int8(by)
		}
		sum = next
	}
	k := 0
	for j := range sum {
		if sum[j] > sum[k] {
			k = j
		}
	}
	out := make([]r2.Vec, len(path))
	for i := len(path) - 1; i >= 0; i-- {
		out[i] = r2.Add(path[i], r2.Scale(shiftOf(k), normals[i]))
		k += int(from[i][k])
	}
	return out
}

func shiftOf(k int) float64 { return -snapReach + snapStep*float64(k) }

// across is the contrast across the place p along n, tones; 0 at the picture's border.
func (r *raster) across(p, n r2.Vec) float64 {
	a, okA := r.toneAt(r2.Sub(p, r2.Scale(1.5, n)))
	b, okB := r.toneAt(r2.Add(p, r2.Scale(1.5, n)))
	if !okA || !okB {
		return 0
	}
	sum := 0.0
	for k := range a {
		sum += math.Abs(float64(a[k] - b[k]))
	}
	return sum
}

// onPath keeps the fits that hold and lie on the path, away from the corners where the contour turns back.
func (r *raster) onPath(fits []edgeFit, path []r2.Vec) []view.EdgePoint {
	const turnBack = 3.0 // px
	pts, good := points(fits, &cover{})
	along := make(map[image.Point]bool, 9*len(path))
	first, last := path[0], path[len(path)-1]
	for _, p := range path {
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				along[image.Pt(int(p.X)+dx, int(p.Y)+dy)] = true
			}
		}
	}
	var out []view.EdgePoint
	for i, p := range pts {
		if good[i] && fits[i].rise() >= 3*fits[i].Noise && along[image.Pt(int(p.P.X), int(p.P.Y))] && r2.Norm(r2.Sub(p.P, first)) > turnBack && r2.Norm(r2.Sub(p.P, last)) > turnBack {
			out = append(out, p)
		}
	}
	return out
}
