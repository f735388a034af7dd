package app

import "math"

// stepSketches show what each step is about, in the order of the steps.
func stepSketches() []sketch {
	paint := []func(pencil){sketchAim, sketchRaise, sketchOutline, sketchPattern, sketchStick, sketchCopies}
	var out []sketch
	for _, p := range paint {
		out = append(out, sketch{120, 70, p})
	}
	return out
}

// sketchOutline: the edge that was found, and the two ends.
func sketchOutline(p pencil) {
	p.fill(4, 10, 112, 50, mix(p.colours.ground, p.colours.ink, 0.55))
	p.spindle(16, 35, 104, 35, 14)
	for _, x := range []float64{16, 104} {
		for _, pass := range []struct {
			width float64
			c     colour
		}{{3.4, p.colours.under}, {1.6, p.colours.mark}} {
			p.stroke([]point{{x - 9, 35}, {x + 9, 35}}, pass.width, pass.c)
			p.stroke([]point{{x, 26}, {x, 44}}, pass.width, pass.c)
		}
	}
}

// sketchPattern: a station that is being moved.
func sketchPattern(p pencil) {
	p.spindle(8, 35, 112, 35, 17)
	const x = 43.4 // where the second bead ends
	p.stroke([]point{{x, 4}, {x, 66}}, 2, p.colours.chosen)
	p.arrows(point{x - 16, 8}, point{x + 16, 8})
	for _, y := range []float64{22, 48} {
		diamond(p.brush, point{70, y}, 4.5, p.colours.chosen)
	}
}

// sketchStick: the stick hooked over the end of the blank.
func sketchStick(p pencil) {
	p.fill(16, 36, 98, 24, p.colours.wood)
	p.stroke([]point{{16, 36}, {114, 36}, {114, 60}, {16, 60}, {16, 36}}, 1.2, p.colours.ink)
	p.fill(16, 16, 98, 18, p.colours.print())
	p.stroke([]point{{16, 16}, {114, 16}, {114, 34}, {16, 34}, {16, 16}}, 1, p.colours.ink)
	p.fill(9, 16, 7, 30, p.colours.ink)
	for _, x := range []float64{27, 34, 45, 50, 95, 99} {
		p.stroke([]point{{x, 16}, {x, 34}}, 1.2, p.colours.under)
		p.dashed(point{x, 36}, point{x, 60}, 1, 3, p.colours.under)
	}
}

// sketchCopies: calipers on a copy beside the original.
func sketchCopies(p pencil) {
	p.spindle(8, 17, 112, 17, 11)
	p.spindle(8, 51, 112, 51, 11)
	// Outside calipers: two bowed legs from a pivot, their points on the swell.
	const x, y = 68.0, 51.0
	for _, s := range []float64{-1, 1} {
		var leg []point
		for i := range 13 {
			sin, cos := math.Sincos(math.Pi * float64(i) / 12)
			leg = append(leg, point{x + 14*(1+cos) - 2*sin, y + s*(15*sin+6.5*float64(i)/12)})
		}
		p.stroke(leg, 2.2, p.colours.chosen)
	}
	p.circle(x+28, y, 3, p.colours.chosen)
}
