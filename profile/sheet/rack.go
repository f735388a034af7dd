package sheet

// rowGap is the air between rows, mm.
const rowGap = 1.1

// rack is a ladder's place on a page: station 0 at X, the leaders' feet at Y; rows go up, or down when Down. Lead and
// Heights are common to the tiles of a sheet, so that their rows meet at the joins.
type rack struct {
	X, Y    float64
	Down    bool
	Lead    float64
	Heights []float64
}

// tall is the height of a rack, mm.
func tall(lead float64, heights []float64) float64 {
	sum := lead + 0.6
	for _, h := range heights {
		if h > 0 {
			sum += h + rowGap
		}
	}
	return sum
}

// draw writes the ladder's figures and leaders.
func (l *ladder) draw(s Surface, r rack, leader Pen) {
	sign := -1.0 // y grows downwards
	if r.Down {
		sign = 1
	}
	for i := range l.want {
		x0, x1 := r.X+l.want[i], r.X+l.at[i]
		s.Stroke([]Point{{x0, r.Y}, {x1, r.Y + sign*r.Lead}}, false, leader)
		y := r.Y + sign*(r.Lead+0.6)
		for k, w := range l.rows {
			if r.Heights[k] == 0 {
				continue
			}
			l.write(s, w.text(i, l.size[i]), w, x1, y, r.Heights[k], r.Down)
			y += sign * (r.Heights[k] + rowGap)
		}
	}
}

// write puts one text into its row, which starts at y and is height deep.
func (l *ladder) write(s Surface, t Text, w row, x, y, height float64, down bool) {
	if t.S == "" {
		return
	}
	switch {
	case w.flat && down:
		t.Anchor, t.At = Middle, Point{x, y + height}
	case w.flat:
		t.Anchor, t.At = Middle, Point{x, y}
	case down:
		t.Anchor, t.At = End, Point{x + t.Cap/2, y}
	default:
		t.At = Point{x + t.Cap/2, y}
	}
	s.Write(t)
}
