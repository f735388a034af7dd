package fit

import "spindlestick/profile"

// solid returns links a to b of a chain as elements that a camera can look at: squares with their shoulders whole,
// everything else by its primitive.
func solid(c *chain, t *ties, a, b int) []profile.Element {
	out := make([]profile.Element, 0, b-a+1)
	for k := a; k <= b; k++ {
		s := c.segment(k)
		e := profile.Element{Kind: profile.Taper, X0: s.X0, X1: s.X1, D0: 2 * s.R0, D1: 2 * s.R1}
		sh, isShoulder := t.shoulder(k)
		switch {
		case isShoulder:
			e = shoulderElement(s, sh.style, sh.link > sh.square)
		case t.square[k]:
			e.Kind, e.Side, e.Roll = profile.Square, e.D0, t.roll
		case !s.Straight():
			e.Kind, e.Sagitta = profile.Bead, s.Sagitta
		}
		out = append(out, e)
	}
	return joinSquares(out)
}
