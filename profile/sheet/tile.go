package sheet

import "math"

// lap is how far a tile goes on beyond each join, mm: enough to hold and to glue.
const lap = 6

// clearOfStations is how far a join keeps from stations where it can, mm: no line has to be met across a cut, and the
// figures beside it have room.
const clearOfStations = 10

// tile is the stretch of the piece that stands on one strip. From and To are stations; the cut lies at Left and Right
// where the strip meets others, and figures keep inside them.
type tile struct {
	From, To    float64
	Left, Right float64 // joins; at the piece's own ends, -Inf and +Inf
	Number, Of  int     // from 1
}

// owns reports whether a station's figures stand on this tile.
func (t tile) owns(x float64) bool { return x > t.Left && x <= t.Right }

// shows reports whether a station's line is drawn on this tile.
func (t tile) shows(x float64) bool { return x >= t.From && x <= t.To }

// cut divides a piece of the given length into at least n tiles no longer than room mm, with left and right mm beside
// its ends. Joins lie near equal shares, clear of the stations where possible.
func cut(length, left, right, room float64, stations []float64, n int) []tile {
	total := left + length + right
	if total > room {
		n = max(n, int(math.Ceil((total-2*lap)/(room-2*lap))))
	}
	tiles := make([]tile, n)
	from, join := -left, math.Inf(-1)
	for k := range tiles {
		t := tile{From: from, To: length + right, Left: join, Right: math.Inf(1), Number: k + 1, Of: n}
		if k < n-1 {
			rest := float64(n - 1 - k)
			hi := from + room - lap
			lo := math.Max(from+lap, length+right-rest*(room-2*lap)-lap)
			t.Right = clearest(-left+total*float64(k+1)/float64(n), math.Min(lo, hi), hi, stations)
			t.To = t.Right + lap
			join, from = t.Right, t.Right-lap
		}
		tiles[k] = t
	}
	return tiles
}

// clearest returns the place near want within [lo, hi] that keeps clear of the stations.
func clearest(want, lo, hi float64, stations []float64) float64 {
	const step, reach, pull = 0.5, 25.0, 0.05 // mm; a place further off must be clearer by pull mm a mm
	best, bestScore := math.Max(lo, math.Min(hi, want)), math.Inf(-1)
	for d := -reach; d <= reach; d += step {
		x := math.Max(lo, math.Min(hi, want+d))
		if s := clearance(x, stations) - pull*math.Abs(x-want); s > bestScore {
			best, bestScore = x, s
		}
	}
	return best
}

func clearance(x float64, stations []float64) float64 {
	near := math.Inf(1)
	for _, s := range stations {
		near = math.Min(near, math.Abs(s-x))
	}
	return math.Min(near, clearOfStations)
}
