package fit

import "testing"

// cutWith is a cylinder of radius 20 with a cut from 50 to 55 mm whose samples have the given radii.
func cutWith(radii ...float64) *cutter {
	var pts []point
	for x := 40.0; x < 50; x += 0.25 {
		pts = append(pts, point{x: x, r: 20, weight: 1})
	}
	for i, r := range radii {
		pts = append(pts, point{x: 50 + 5*float64(i)/float64(len(radii)), r: r, weight: 1})
	}
	for x := 55.0; x < 65; x += 0.25 {
		pts = append(pts, point{x: x, r: 20, weight: 1})
	}
	return &cutter{pts: pts}
}

// pieces cuts the notch's samples at the given counts and calls every part steep, between two lines.
func (c *cutter) pieces(counts ...int) []piece {
	out := []piece{{line, 0, 40}}
	at := 40
	for _, n := range counts {
		out = append(out, piece{steep, at, at + n})
		at += n
	}
	return append(out, piece{line, at, len(c.pts)})
}

func vees(pieces []piece, c *cutter) int {
	n := 0
	for k := 0; k+1 < len(pieces); k++ {
		a, b := pieces[k], pieces[k+1]
		if a.shape == line && b.shape == line && c.rise(a) < -1 && c.rise(b) > 1 {
			n++
		}
	}
	return n
}

// Blur breaks a vee's walls into several steps, some of them the wrong way; once all but the first and last were lost.
func TestABrokenVeeIsAVee(t *testing.T) {
	c := cutWith(19.2, 18.4, 17.6, 17.0, 16.6, 16.9, 16.4, 16.3, 17.0, 17.8, 18.6, 19.4)
	for name, counts := range map[string][]int{"four steps": {3, 3, 2, 4}, "two down, one up": {4, 4, 4}, "one each": {8, 4}} {
		got := c.walls(c.pieces(counts...))
		if vees(got, c) != 1 || len(got) != 4 {
			t.Errorf("%s: %d pieces with %d vees, want a run, two walls, a run", name, len(got), vees(got, c))
		}
	}
}

func TestAGrooveWithAFloorIsNoVee(t *testing.T) {
	c := cutWith(18, 16, 16, 16, 16, 16, 16, 16, 16, 16, 16, 18)
	p := c.pieces(2, 8, 2)
	p[2].shape = line // the floor
	if got := c.walls(p); vees(got, c) != 0 {
		t.Errorf("a groove with a floor of 3 mm became %v", got)
	}
}

func TestAStepOfTwoIsOne(t *testing.T) {
	c := cutWith(19, 18, 17, 16, 15, 14, 13, 12, 11, 10, 10, 10)
	if got := c.join(c.pieces(3, 3, 6)); len(got) != 3 {
		t.Errorf("steps that follow one another stay %d pieces", len(got)-2)
	}
}
