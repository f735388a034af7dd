package vision

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// tilted is from where on a board counts as tilted to the picture: the perspective that tells the focal length goes with
	// the sine, and 15 degrees give a quarter of all there is.
	tilted = 15 * math.Pi / 180
	// otherWay is how far the ways of two tilts lie apart at least to count as two.
	otherWay = 60 * math.Pi / 180
	// tiltAdvice says what to do.
	tiltAdvice = "tilt it by 30 to 45 degrees about its short side, about its long side and aslant, this way and that"
)

// tiltedEnough refuses boards that lie the same way in all photographs: planes parallel to each other tell no more than one
// (Sturm and Maybank, CVPR 1999). turns are the boards' rotation vectors.
func tiltedEnough(turns []r3.Vec) error {
	var ways []float64
	for _, w := range turns {
		n := r3.Vec{Z: 1}
		if a := r3.Norm(w); a > 0 {
			n = r3.NewRotation(a, w).Rotate(n)
		}
		if n.Z < 0 { // of a board's two faces the one that is seen counts
			n = r3.Scale(-1, n)
		}
		if math.Hypot(n.X, n.Y) > math.Sin(tilted) {
			ways = append(ways, math.Atan2(n.Y, n.X))
		}
	}
	if len(ways) < leastPhotos {
		return fmt.Errorf("the board is tilted in %d of %d photographs, and %d are needed: %s", len(ways), len(turns), leastPhotos, tiltAdvice)
	}
	if widest(ways) < otherWay {
		return fmt.Errorf("the board is tilted the same way in all photographs: %s", tiltAdvice)
	}
	return nil
}

// widest is the largest angle between two directions, rad.
func widest(ways []float64) float64 {
	most := 0.0
	for i, a := range ways {
		for _, b := range ways[:i] {
			most = math.Max(most, math.Abs(math.Remainder(a-b, 2*math.Pi)))
		}
	}
	return most
}
