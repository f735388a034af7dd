package view

import "errors"

// ErrNoScale is wrapped where nothing in the picture or from the user gives a scale.
var ErrNoScale = errors.New("there is no scale: put a printed board or a rule beside the piece, mark two graduations of a rule, or state a diameter or the length")

// ErrNoBoard is wrapped where the user says that boards are in the picture and none was found.
var ErrNoBoard = errors.New("no board was found: all its corners must be in the picture, sharp and unshaded")

const (
	// paper is how far a printed board's face stands over the table, mm: office paper of 80 g/m².
	paper = 0.1
	// steel is how far a rule's graduations stand over the table, mm: steel rules of 300 mm and more are about
	// 1 mm thick (common practice, no source).
	steel = 1.0
	// statedScale is the standard deviation of a square's size that the user measured, as a fraction: 24 of them by a
	// steel rule, to 0.1 mm, evenly spread (GUM 4.3.7).
	statedScale = 0.1 / 240 / 1.7320508075688772
	// markSigma is how well a graduation is pointed at by hand, px.
	markSigma = 1.0
)

// gauge picks the scale: boards before a rule before two marks before known sizes.
func gauge(s Sighting, h Hints) (gauged, error) {
	g := gauged{height: h.Height, known: h.Known, length: h.Length}
	focal := h.focalOf(s)
	var err error
	switch {
	case len(s.Boards) > 0:
		g.sheet = paper
		g.printReason = "the size of the printed squares: measure the check bar and enter its length"
		o := AdjustOptions{Width: s.Width, Height: s.Height, Focal: focal}
		if h.Square > 0 {
			o.ScaleSigma = statedScale
			g.printReason = "how well the size of the squares was measured: measure it over a whole board"
		}
		g.ref, err = Adjust(s.Boards, o)
	case h.Boards:
		return g, ErrNoBoard
	case s.Rule != nil:
		g.ruled()
		g.ref, err = FromRule(*s.Rule, RuleOptions{Width: s.Width, Height: s.Height, Focal: focal})
	case h.Rule != nil:
		g.ruled()
		g.ref, err = FromRule(h.Rule.graduations(), RuleOptions{Width: s.Width, Height: s.Height, Focal: focal})
	case len(h.Known) > 0 || h.Length > 0:
		// The plane goes through the axis itself, whatever the piece lies on.
		g.height, g.free = Height{Mode: Raised}, true
		g.printReason = "the known sizes themselves: measure larger ones, and more"
		g.squareReason = "how squarely the camera looked at the piece: measure a diameter near either end, or put a board beside it"
		g.ref, err = FromKnown(s.Outline, KnownOptions{Width: s.Width, Height: s.Height, Focal: focal, Known: h.Known, Length: h.Length})
		return g, err
	default:
		return g, ErrNoScale
	}
	g.prior = g.ref.SigmaScale
	return g, err
}

// ruled notes what comes with a rule.
func (g *gauged) ruled() {
	g.sheet = steel
	g.printReason = "how true the rule is: use a better one, or a longer part of it"
	g.squareReason = "how squarely the camera looked at the rule, which it does not show: use a printed board, or lay the rule closer to the piece"
}

// graduations are the two marks as a rule.
func (m RuleMarks) graduations() Rule {
	r := Rule{T: []float64{0, m.Length}, Sigma: markSigma}
	r.P = append(r.P, m.P, m.Q)
	return r
}
