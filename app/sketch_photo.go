package app

// The sketches of a good photograph, in the order of photoAdvice.
func photoSketches() []sketch {
	paint := []func(pencil){sketchDistance, sketchAim, sketchRaise, sketchLight, sketchCorner}
	var out []sketch
	for _, p := range paint {
		out = append(out, sketch{120, 70, p})
	}
	return out
}

// sketchDistance: the camera stands well back.
func sketchDistance(p pencil) {
	p.spindle(6, 60, 60, 60, 6)
	p.camera(104, 14, -0.85, 0.53)
	p.dashed(point{97, 18}, point{8, 56}, 0.8, 3, p.colours.faint)
	p.dashed(point{97, 18}, point{58, 56}, 0.8, 3, p.colours.faint)
	p.arrows(point{42, 50}, point{90, 20})
	p.text("2 m", 72, 48, 13, true, p.colours.chosen)
}

// sketchAim: the piece in the middle of the picture, a board near each end.
func sketchAim(p pencil) {
	p.fill(4, 3, 112, 64, mix(p.colours.ground, p.colours.ink, 0.12))
	p.stroke([]point{{4, 3}, {116, 3}, {116, 67}, {4, 67}, {4, 3}}, 1.2, p.colours.ink)
	p.spindle(14, 35, 106, 35, 8)
	p.board(16, 11, 3.4, 9, 3)
	p.board(74, 51, 3.4, 9, 3)
	for _, arm := range [][2]point{{{60, 26}, {60, 31}}, {{60, 39}, {60, 44}}, {{51, 35}, {56, 35}}, {{64, 35}, {69, 35}}} {
		p.stroke([]point{arm[0], arm[1]}, 1.6, p.colours.chosen)
	}
}

// sketchRaise: end-on, the board lies on a block as high as the axis.
func sketchRaise(p pencil) {
	p.ground(62, 120)
	p.circle(36, 46, 15.5, p.colours.wood)
	p.fill(68, 48, 38, 14, mix(p.colours.ground, p.colours.wood, 0.6))
	p.fill(64, 44.5, 46, 3, p.colours.print())
	p.stroke([]point{{64, 44.5}, {110, 44.5}, {110, 47.5}, {64, 47.5}, {64, 44.5}}, 0.8, p.colours.ink)
	p.axis(point{8, 46}, point{114, 46})
	p.circle(36, 46, 1.5, p.colours.chosen)
}

// sketchLight: soft light from both sides, and a plain ground.
func sketchLight(p pencil) {
	p.fill(8, 40, 104, 24, mix(p.colours.ground, p.colours.chosen, 0.35))
	p.spindle(18, 52, 102, 52, 8)
	for _, side := range []float64{-1, 1} {
		x := 60 + side*44
		p.polygon([]point{{x - 12, 8 + 4*side}, {x + 12, 8 - 4*side}, {x + 12 + side*2, 14 - 4*side}, {x - 12 + side*2, 14 + 4*side}}, p.colours.paper)
		p.stroke([]point{{x - 12, 8 + 4*side}, {x + 12, 8 - 4*side}, {x + 12 + side*2, 14 - 4*side}, {x - 12 + side*2, 14 + 4*side}, {x - 12, 8 + 4*side}}, 1, p.colours.ink)
		for i := range 3 {
			from := point{x - side*float64(4*i-2), 18}
			p.dashed(from, point{from.x - side*16, 38}, 1, 3, p.colours.ink)
		}
	}
}

// sketchCorner: a square end-on, turned on its corner between two wedges.
func sketchCorner(p pencil) {
	p.ground(62, 120)
	const x, y, r = 60, 38, 23
	p.polygon([]point{{x - r, y}, {x, y - r}, {x + r, y}, {x, y + r}}, p.colours.wood)
	p.stroke([]point{{x - r, y}, {x, y - r}, {x + r, y}, {x, y + r}, {x - r, y}}, 1.2, p.colours.ink)
	p.circle(x, y, 15, mix(p.colours.wood, p.colours.paper, 0.3))
	for _, s := range []float64{-1, 1} {
		p.polygon([]point{{x + s*4, 62}, {x + s*34, 62}, {x + s*20, 46}}, mix(p.colours.ground, p.colours.ink, 0.45))
	}
}
