package vision

import (
	"context"
	"slices"

	"spindlestick/profile/view"
)

// sketched sees a photo of which a sketch is there before the rest: boards and piece are found in it while the rest is
// decoded. False if that is not enough to go by: then nothing is lost, and all must be looked for in the whole photo.
func sketched(ctx context.Context, photo *Photo, h view.Hints, s *view.Sighting, say Progress) (ok bool, err error) {
	if !photo.sketched() || h.Rule != nil {
		return false, nil
	}
	if err := say.say(ctx, "Looking for the scale boards", 0.15); err != nil {
		return false, err
	}
	sheets, k, err := findSheets(ctx, photo, boardSearchSide, photo.sketchBy)
	if err != nil {
		return false, err
	}
	var rough []view.Board
	for _, sheet := range sheets {
		if !sheet.among(rough) {
			rough = append(rough, sheet.copied().board(squareOf(h), 0))
		}
	}
	if !largeEnough(rough, k) {
		return false, nil
	}
	type refined struct {
		boards []view.Board
		err    error
	}
	done := make(chan refined, 1)
	go func() {
		boards, err := refineSheets(ctx, photo, sheets, squareOf(h), nil)
		done <- refined{boards, err}
	}()
	outline, err := FindOutline(ctx, photo, h, rough, nil, say)
	fine := <-done
	if fine.err != nil {
		return false, fine.err
	}
	if len(fine.boards) != len(rough) {
		return false, nil // something was left out of the search that is no board
	}
	s.Boards, s.Outline = fine.boards, outline
	return true, err
}

// squareOf is the side of a board's square, mm.
func squareOf(h view.Hints) float64 {
	if h.Square > 0 {
		return h.Square
	}
	return defaultSquare
}

// copied is a copy whose corners can be refined apart.
func (s *sheet) copied() *sheet {
	out := &sheet{}
	for i := range s.corners {
		out.corners, out.seen = append(out.corners, slices.Clone(s.corners[i])), append(out.seen, slices.Clone(s.seen[i]))
	}
	return out
}
