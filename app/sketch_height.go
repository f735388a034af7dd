package app

import "spindlestick/profile/view"

// heightSketches explain how the axis may lie over the boards, seen from the side.
func heightSketches() map[view.HeightMode]sketch {
	paint := map[view.HeightMode]func(pencil){
		view.Lies: sketchLies, view.Level: sketchLevel, view.Raised: sketchRaised, view.Fixed: sketchFixed,
	}
	out := map[view.HeightMode]sketch{}
	for mode, p := range paint {
		out[mode] = sketch{150, 56, p}
	}
	return out
}

// lyingBoard is a board on the table, from its edge.
func (p pencil) lyingBoard(x, y float64) {
	p.fill(x, y-3, 34, 3, p.colours.print())
	p.stroke([]point{{x, y - 3}, {x + 34, y - 3}, {x + 34, y}, {x, y}, {x, y - 3}}, 0.8, p.colours.ink)
}

// sketchLies: the piece rests where it touches, so its axis tilts.
func sketchLies(p pencil) {
	p.ground(46, 150)
	p.spindle(10, 31, 106, 38.5, 14)
	p.axis(point{4, 30.5}, point{112, 39})
	p.lyingBoard(112, 46)
}

// sketchLevel: a wedge under the thin end holds the axis level.
func sketchLevel(p pencil) {
	p.ground(46, 150)
	p.polygon([]point{{84, 46}, {104, 46}, {104, 36}}, mix(p.colours.ground, p.colours.ink, 0.45))
	p.spindle(10, 31, 106, 31, 14)
	p.axis(point{4, 31}, point{112, 31})
	p.lyingBoard(112, 46)
}

// sketchRaised: the board lies on a block, its face at the height of the axis.
func sketchRaised(p pencil) {
	p.ground(46, 150)
	p.polygon([]point{{84, 46}, {104, 46}, {104, 36}}, mix(p.colours.ground, p.colours.ink, 0.45))
	p.spindle(10, 31, 104, 31, 14)
	p.fill(115, 34, 28, 12, mix(p.colours.ground, p.colours.wood, 0.6))
	p.lyingBoard(112, 34)
	p.axis(point{4, 31}, point{146, 31})
}

// sketchFixed: the height of the axis over the board is measured.
func sketchFixed(p pencil) {
	p.ground(46, 150)
	p.spindle(10, 22, 100, 22, 12)
	p.fill(16, 34, 8, 12, mix(p.colours.ground, p.colours.ink, 0.45))
	p.fill(82, 28, 8, 18, mix(p.colours.ground, p.colours.ink, 0.45))
	p.lyingBoard(108, 46)
	p.axis(point{4, 22}, point{134, 22})
	p.arrows(point{125, 22}, point{125, 43})
}
