package view

import "errors"

// ErrNoScale is wrapped where nothing in the picture or from the user gives a scale.
var ErrNoScale = errors.New("there is no scale: put a printed board or a rule beside the piece, mark two graduations of a rule, or state a diameter or the length")

// reference picks the scale: boards before a rule before known sizes.
func reference(s Sighting, h Hints) (Reference, error) {
	focal := ChooseFocal(s.Focal35, h.Focal35)
	if len(s.Boards) > 0 {
		return Adjust(s.Boards, AdjustOptions{Width: s.Width, Height: s.Height, Focal: focal})
	}
	if s.Rule != nil {
		return FromRule(*s.Rule, RuleOptions{Width: s.Width, Height: s.Height, Focal: focal})
	}
	return Reference{}, ErrNoScale
}
