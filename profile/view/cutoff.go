package view

// atBorder is how close to the picture's edge an end of the outline's axis stands when the piece runs out of the
// picture, px: edges are located from a few pixels on either side, and pieces laid within the picture are not put so close.
const atBorder = 8.0

// CutOff reports for the hook end and the far end whether the piece runs out of the picture there: what the outline
// calls its end is then the picture's edge.
func (m Measurement) CutOff() [2]bool { return cutOff(m.Outline, m.Scene.Camera) }

func cutOff(o Outline, c Camera) (out [2]bool) {
	for e, p := range o.Axis {
		out[e] = p.X < atBorder || p.Y < atBorder || p.X > float64(c.Width)-1-atBorder || p.Y > float64(c.Height)-1-atBorder
	}
	return out
}
