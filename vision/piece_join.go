package vision

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
)

// Pieces of one turning, parted by a groove in shadow or a gleam: their middles lie on one line and
// the gap between them is short.
const (
	joinGap  = 0.08 // of their joint length
	joinSlew = 0.12 // rad between the axes of two long parts
	joinOff  = 0.6  // of the larger half-width, of the one's middle from the other's axis
)

// joinParts joins blobs that are parts of one turning, the largest taking up the others.
func joinParts(all []blob, class []uint8, w, h int) []blob {
	sort.Slice(all, func(i, j int) bool { return all[i].area > all[j].area })
	for i := 0; i < len(all); i++ {
		for j := i + 1; j < len(all); j++ {
			if !all[i].continues(&all[j]) {
				continue
			}
			all[i].cells = append(all[i].cells, all[j].cells...)
			all[i].area += all[j].area
			all[i].borders = max(all[i].borders, all[j].borders)
			all[i].measure(class, w, h)
			all = append(all[:j], all[j+1:]...)
			j = i // the longer blob may now reach others
		}
	}
	return all
}

// inLine reports whether c lies in line with b and is about as wide.
func (b *blob) inLine(c *blob) bool {
	d := r2.Sub(c.centre, b.centre)
	along, across := r2.Dot(d, b.e), r2.Cross(b.e, d)
	if math.Abs(across) > joinOff*math.Max(b.half, c.half)+0.02*math.Abs(along) {
		return false
	}
	if long := c.hi-c.lo > 4*2*c.half; long && math.Abs(r2.Cross(b.e, c.e)) > joinSlew {
		return false
	}
	ratio := b.half / c.half
	return ratio <= 4 && ratio >= 0.25
}

// beyond reports whether the middle of c lies past one of the ends of b.
func (b *blob) beyond(c *blob) bool {
	along := r2.Dot(r2.Sub(c.centre, b.centre), b.e)
	return along > b.hi || along < b.lo
}

// continues reports whether c lies in line with b, and close.
func (b *blob) continues(c *blob) bool {
	if !b.inLine(c) {
		return false
	}
	along := r2.Dot(r2.Sub(c.centre, b.centre), b.e)
	reach := (c.hi - c.lo) / 2
	gap := math.Max(along-reach-b.hi, b.lo-along-reach)
	return gap < joinGap*(b.hi-b.lo+c.hi-c.lo)
}
