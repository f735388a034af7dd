package vision

import (
	"bytes"
	"context"
	"errors"
	"image/png"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile/view"
)

// drawnFile is the drawn turning as a file.
func drawnFile(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, turning().photo(t).Image()); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestSightNeedsAScale(t *testing.T) {
	data := drawnFile(t)
	for _, h := range []view.Hints{{}, {Boards: true}, {Boards: true, Length: 600}} {
		if _, err := (Tracer{}).Sight(context.Background(), data, "piece.png", h, nil); !errors.Is(err, ErrNoReference) {
			t.Errorf("%+v: error %v", h, err)
		}
	}
	if _, err := (Tracer{}).Sight(context.Background(), data, "piece.png", view.Hints{}, nil); err != nil {
		for _, advice := range []string{"--rule", "--known", "--length", "boards"} {
			if !strings.Contains(err.Error(), advice) {
				t.Errorf("no word of %s in %q", advice, err)
			}
		}
	}
}

func TestSightWithALengthGiven(t *testing.T) {
	var stages []string
	last := -1.0
	s, err := (Tracer{}).Sight(context.Background(), drawnFile(t), "piece.png", view.Hints{Length: 300}, func(stage string, done float64) {
		if done < last {
			t.Errorf("%s goes back from %.2f to %.2f", stage, last, done)
		}
		stages, last = append(stages, stage), done
	})
	if err != nil {
		t.Fatal(err)
	}
	// The side is 600 px long and shows a point at least every other pixel.
	if s.Width != 760 || s.Height != 300 || len(s.Outline.Sides[0]) < 290 || len(s.Boards) != 0 {
		t.Errorf("saw %d x %d, %d points, %d boards", s.Width, s.Height, len(s.Outline.Sides[0]), len(s.Boards))
	}
	if len(stages) < 4 || last != 1 {
		t.Errorf("stages %q end at %.2f", stages, last)
	}
}

// The drawn piece has no graduations beside it: the marks are taken, and the user is told.
func TestSightTellsOfAnUnreadRule(t *testing.T) {
	h := view.Hints{Rule: &view.RuleMarks{P: r2.Vec{X: 100, Y: 270}, Q: r2.Vec{X: 600, Y: 270}, Length: 250}}
	s, err := (Tracer{}).Sight(context.Background(), drawnFile(t), "piece.png", h, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Rule.T) != 2 || !slices.Contains(s.Outline.Quality.Warnings, twoMarksOnly) {
		t.Errorf("rule %+v, warnings %q", s.Rule, s.Outline.Quality.Warnings)
	}
	m, err := view.Measure(s, h)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(m.Notes, twoMarksOnly) {
		t.Errorf("notes %q", m.Notes)
	}
}

func TestSightStopsAtOnce(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := (Tracer{}).Sight(ctx, drawnFile(t), "piece.png", view.Hints{Length: 300}, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
}

func TestSightRefusesWhatIsNoPhoto(t *testing.T) {
	if _, err := (Tracer{}).Sight(context.Background(), []byte("no photo"), "x.jpg", view.Hints{}, nil); err == nil {
		t.Error("no error")
	}
}
