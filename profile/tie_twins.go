package profile

import "math"

// twin is an element that answers to another by a tie.
type twin struct {
	index    int
	mirrored bool // as seen from the element asked about
}

// twins returns element i and every element that the ties of groups make equal to it.
func (p Pattern) twins(i int) []twin {
	out := []twin{{i, false}}
	seen := map[int]bool{i: true}
	for n := 0; n < len(out); n++ {
		at := out[n]
		for _, t := range p.Ties {
			for _, m := range t.answers(at.index) {
				if !seen[m] {
					seen[m] = true
					out = append(out, twin{m, at.mirrored != (t.Kind == Mirrored)})
				}
			}
		}
	}
	return out
}

// answers returns the elements of the other groups of a tie that answer to element i.
func (t Tie) answers(i int) []int {
	if t.Kind != Mirrored && t.Kind != Repeated {
		return nil
	}
	var out []int
	for g, first := range t.Groups {
		if i < first || i >= first+t.Count {
			continue
		}
		j := i - first
		if t.Kind == Mirrored && g == 1 {
			j = t.Count - 1 - j
		}
		for h := range t.Groups {
			if h != g {
				out = append(out, t.member(h, j))
			}
		}
	}
	return out
}

// places returns place l and every place whose diameter moves with it: the other end of a level run, a slope that meets
// it without a step, and what the ties hold equal.
func (p Pattern) places(l Place) []Place {
	out := []Place{l}
	seen := map[Place]bool{l: true}
	add := func(m Place) {
		if !seen[m] {
			seen[m] = true
			out = append(out, m)
		}
	}
	for n := 0; n < len(out); n++ {
		at := out[n]
		p.eachJoined(at, add)
		for _, t := range p.Ties {
			t.eachEqual(at, add)
		}
	}
	return out
}

func (k Kind) level() bool { return k == Fillet || k == Cylinder || k == Square }

// eachJoined calls add with what follows place l by the shape of the elements.
func (p Pattern) eachJoined(l Place, add func(Place)) {
	if l.Spot == Middle {
		return
	}
	facing, next := NearEnd, l.Element+1
	if l.Spot == NearEnd {
		facing, next = FarEnd, l.Element-1
	}
	if p.Elements[l.Element].Kind.level() {
		add(Place{l.Element, facing}) // its own other end has the name of the end that faces this one
	}
	if next < 0 || next >= len(p.Elements) || p.Elements[next].Kind.level() {
		return
	}
	d, _ := p.Size(l)
	if f, _ := p.Size(Place{next, facing}); math.Abs(f-d) < equalDiameters {
		add(Place{next, facing})
	}
}

// eachEqual calls add with what the tie makes equal to place l.
func (t Tie) eachEqual(l Place, add func(Place)) {
	switch t.Kind {
	case Equal:
		for _, m := range t.Places {
			if m == l {
				for _, o := range t.Places {
					add(o)
				}
			}
		}
	case Mirrored:
		for _, m := range t.answers(l.Element) {
			add(Place{m, l.Spot.mirrored()})
		}
	case Repeated:
		for _, m := range t.answers(l.Element) {
			add(Place{m, l.Spot})
		}
	}
}

func (s Spot) mirrored() Spot {
	switch s {
	case NearEnd:
		return FarEnd
	case FarEnd:
		return NearEnd
	}
	return s
}

// edges returns how far every edge moves when edge k moves by d mm: the edges that answer to it in tied groups move as
// much, in a mirror image the other way. ok is false when the ties ask for two things of one edge.
func (p Pattern) edges(k int, d float64) (moves map[int]float64, ok bool) {
	moves = map[int]float64{k: d}
	ok = true
	for queue := []int{k}; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		for _, t := range p.Ties {
			t.eachEdge(at, moves[at], func(e int, d float64) {
				if old, there := moves[e]; there {
					ok = ok && old == d
					return
				}
				moves[e] = d
				queue = append(queue, e)
			})
		}
	}
	return moves, ok
}

// eachEdge calls add with the edges that answer to edge k, and how far they move when it moves by d.
func (t Tie) eachEdge(k int, d float64, add func(int, float64)) {
	for g, first := range t.Groups {
		j := k - first
		if j < 0 || j > t.Count {
			continue
		}
		for h, other := range t.Groups {
			switch {
			case h == g:
			case t.Kind == Mirrored:
				add(other+t.Count-j, -d)
			default:
				add(other+j, d)
			}
		}
	}
}
