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

// newLadder places the columns between lo and hi. It starts with the largest figures and makes those smaller that do not
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
		widths := l.widths()
		at, ok := spread(want, widths, lo, hi)
		l.at = at
		if !l.shrink(l.crowded(widths, ok), last) {
			if !ok {
				return nil, ErrCrowded
			}
			l.grow(lo, hi)
			return l, nil
		}
	}
}

// grow makes figures larger again that stand alone: they may have been made smaller with a crowd that no longer
// reaches them. Those of a crowd keep one size.
func (l *ladder) grow(lo, hi float64) {
	for i := range l.size {
		for l.size[i] > 0 && l.fits(i, l.size[i]-1) {
			l.size[i]--
			at, ok := spread(l.want, l.widths(), lo, hi)
			if !ok || moved(at, l.at) {
				l.size[i]++
				break
			}
		}
	}
}

func moved(a, b []float64) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > 1e-6 {
			return true
		}
	}
	return false
}

// farthest is how far any column stands from its station, mm.
func (l *ladder) farthest() float64 {
	far := 0.0
	for i := range l.at {
		far = math.Max(far, math.Abs(l.at[i]-l.want[i]))
	}
	return far
}

// widths is the room that each column needs.
func (l *ladder) widths() []float64 {
	out := make([]float64, len(l.want))
	for i := range out {
		out[i] = l.width(i, l.size[i])
	}
	return out
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
	return math.Min(16, math.Max(2, 0.8*l.farthest()))
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
