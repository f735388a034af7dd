package sheet

import (
	"errors"
	"math"
)

// ErrCrowded says that stations stand so close that their figures find no room.
var ErrCrowded = errors.New("sheet: the stations stand too close for figures 2.5 mm high: join the shortest elements, or choose larger paper")

// The pitch of figures that stand side by side, in units of their height: capitals, descenders and a sliver of air.
const pitch = 1 + descent + 0.16

// stray is how far figures may stand beside their station before they are made smaller, mm.
const stray = 5

// row is a line of texts across the sheet, one for each column; an empty text leaves its place empty.
type row struct {
	texts []string
	caps  []float64 // heights to choose from, mm, largest first; all columns may take any of them
	bold  bool
	flat  bool    // written level; otherwise along the station line
	reach float64 // length that a text written along the line may take, mm; 0 = any
}

// ladder holds the figures of the stations of one tile: columns that stand as near to their stations as they can
// without touching, joined to them by leaders. Its rows run away from the piece.
type ladder struct {
	want, at []float64 // stations of the piece and of the columns, mm
	size     []int     // which of a row's heights each column takes
	rows     []row
}

func (r row) cap(size int) float64 { return r.caps[min(size, len(r.caps)-1)] }

func (r row) text(i, size int) Text {
	t := Text{S: printable(r.texts[i]), Cap: r.cap(size), Bold: r.bold, Layer: Lettered}
	if !r.flat {
		t.Turn = quarterTurn
	}
	return t
}

// width is the room that column i needs at a size.
func (l *ladder) width(i, size int) float64 {
	w := 0.0
	for _, r := range l.rows {
		t := r.text(i, size)
		switch {
		case t.S == "":
		case r.flat:
			w = math.Max(w, t.Width()+0.6)
		default:
			w = math.Max(w, pitch*t.Cap)
		}
	}
	return w
}

// sizes is the number of heights that columns choose from.
func (l *ladder) sizes() int {
	n := 0
	for _, r := range l.rows {
		n = max(n, len(r.caps))
	}
	return n
}

// fits reports whether every text of column i keeps within its row's reach at a size.
func (l *ladder) fits(i, size int) bool {
	for _, r := range l.rows {
		if r.reach > 0 && r.text(i, size).Width() > r.reach {
			return false
		}
	}
	return true
}

// settle places the columns between lo and hi. It starts with the largest figures and makes those smaller that do not
// fit, or that are pushed far from their station, together with the neighbours that push.
func newLadder(want []float64, rows []row, lo, hi float64) (*ladder, error) {
	l := &ladder{want: want, rows: rows, size: make([]int, len(want))}
	last := l.sizes() - 1
	for i := range want {
		for l.size[i] < last && !l.fits(i, l.size[i]) {
			l.size[i]++
		}
	}
	for {
		widths := make([]float64, len(want))
		for i := range want {
			widths[i] = l.width(i, l.size[i])
		}
		at, ok := spread(want, widths, lo, hi)
		l.at = at
		if !l.shrink(l.crowded(widths, ok), last) {
			if !ok {
				return nil, ErrCrowded
			}
			return l, nil
		}
	}
}

// crowded returns the columns to make smaller: all when they found no room, else those of every block of touching
// columns in which one strays.
func (l *ladder) crowded(widths []float64, placed bool) []int {
	var out []int
	for i := 0; i < len(l.want); {
		j, far := i, !placed
		for ; j < len(l.want); j++ {
			if placed && j > i && l.at[j]-l.at[j-1] > (widths[j]+widths[j-1])/2+1e-6 {
				break
			}
			far = far || math.Abs(l.at[j]-l.want[j]) > stray
		}
		for ; i < j; i++ {
			if far {
				out = append(out, i)
			}
		}
	}
	return out
}

func (l *ladder) shrink(columns []int, last int) bool {
	any := false
	for _, i := range columns {
		if l.size[i] < last {
			l.size[i]++
			any = true
		}
	}
	return any
}

// lead is the height that the leaders need so that none lies flatter than about 40 degrees, mm.
func (l *ladder) lead() float64 {
	far := 0.0
	for i := range l.want {
		far = math.Max(far, math.Abs(l.at[i]-l.want[i]))
	}
	return math.Min(16, math.Max(2, 0.8*far))
}

// heights returns how far each row reaches away from the piece, mm.
func (l *ladder) heights() []float64 {
	out := make([]float64, len(l.rows))
	for k, r := range l.rows {
		for i := range l.want {
			t := r.text(i, l.size[i])
			switch {
			case t.S == "":
			case r.flat:
				out[k] = math.Max(out[k], t.Cap)
			default:
				out[k] = math.Max(out[k], t.Width())
			}
		}
	}
	return out
}

// rowGap is the air between rows, mm.
const rowGap = 1.3

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
