package vision

import (
	"context"
	"errors"
	"fmt"

	"spindlestick/profile/view"
)

// ErrNoReference says that nothing in the photo and nothing in the hints gives the scale.
var ErrNoReference = errors.New("nothing in the photo tells its scale")

// Tracer reads everything the other packages need from a photograph. The zero value works.
type Tracer struct{}

// Sight decodes the photo in data (name is its file name), finds the reference and the piece, and
// returns what it saw, in pixels. progress may be nil. It stops between stages when ctx is done.
func (Tracer) Sight(ctx context.Context, data []byte, name string, h view.Hints, progress func(stage string, done float64)) (view.Sighting, error) {
	say := Progress(progress)
	if err := say.say(ctx, "Opening the photo", 0); err != nil {
		return view.Sighting{}, err
	}
	photo, err := begin(data, name)
	if err != nil {
		return view.Sighting{}, err
	}
	defer func() { go photo.Close() }() // giving back a large picture takes as long as a twentieth of decoding it
	s := view.Sighting{Focal35: photo.Focal35(), Make: photo.Make(), Model: photo.Model(), Orientation: photo.Orientation()}
	s.Width, s.Height = photo.Size()
	if ok, err := sketched(ctx, photo, h, &s, say); ok || err != nil {
		if err != nil {
			return view.Sighting{}, err
		}
		return s, say.say(ctx, "Done", 1)
	}
	warnings, err := findReference(ctx, photo, h, &s, say)
	if err != nil {
		return view.Sighting{}, err
	}
	if s.Outline, err = FindOutline(ctx, photo, h, s.Boards, s.Rule, say); err != nil {
		return view.Sighting{}, err
	}
	s.Outline.Quality.Warnings = append(warnings, s.Outline.Quality.Warnings...)
	return s, say.say(ctx, "Done", 1)
}

// twoMarksOnly is what the user should know of a rule that could not be read.
const twoMarksOnly = "The rule's graduations could not be read between the marks: only the two marks count. Mark two graduations far apart, and check them."

// findReference fills the boards and the rule of s: the rule if the user pointed at one, else boards. It
// returns what the user should be told of them.
func findReference(ctx context.Context, photo *Photo, h view.Hints, s *view.Sighting, say Progress) (warnings []string, err error) {
	if h.Rule != nil {
		if err := say.say(ctx, "Reading the rule", 0.15); err != nil {
			return nil, err
		}
		rule, read, err := ReadRule(photo, *h.Rule)
		if err != nil {
			return nil, err
		}
		s.Rule = &rule
		if !read {
			warnings = append(warnings, twoMarksOnly)
		}
		if !h.Boards {
			return warnings, nil
		}
	}
	if err := say.say(ctx, "Looking for the scale boards", 0.15); err != nil {
		return nil, err
	}
	if s.Boards, err = FindBoards(ctx, photo, h.Square); err != nil {
		return nil, err
	}
	if len(s.Boards) > 0 {
		return warnings, nil
	}
	if h.Boards {
		return nil, fmt.Errorf("%w: no scale board was found; see that a whole board lies in the picture, flat, sharp and evenly lit", ErrNoReference)
	}
	if h.Rule == nil && len(h.Known) == 0 && h.Length == 0 {
		return nil, fmt.Errorf("%w: no scale board was found; print boards and put one beside the piece, or give two marks of a rule (--rule), a diameter (--known) or the overall length (--length)", ErrNoReference)
	}
	return warnings, nil
}
