package vision_test

import (
	"context"
	"os"
	"testing"

	"spindlestick/vision"
)

func TestPictureHasTheSizeThatPositionsAreIn(t *testing.T) {
	data, err := os.ReadFile("../testdata/photos/leg.jpg")
	if err != nil {
		t.Fatal(err)
	}
	img, err := vision.Tracer{}.Picture(context.Background(), data, "leg.jpg")
	if err != nil {
		t.Fatal(err)
	}
	if b := img.Bounds(); b.Dx() != 1600 || b.Dy() != 1200 || b.Min.X != 0 || b.Min.Y != 0 {
		t.Errorf("bounds %v", b)
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := (vision.Tracer{}).Picture(stopped, data, "leg.jpg"); err == nil {
		t.Error("a stopped call went on")
	}
}
