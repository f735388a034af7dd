package view

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

func TestCutOffAtThePicturesEdges(t *testing.T) {
	c := Camera{Width: 3000, Height: 2000}
	tests := map[string]struct {
		axis [2]r2.Vec
		want [2]bool
	}{
		"within":          {[2]r2.Vec{{X: 200, Y: 900}, {X: 2800, Y: 950}}, [2]bool{}},
		"off the left":    {[2]r2.Vec{{X: -1.7, Y: 900}, {X: 2800, Y: 950}}, [2]bool{true, false}},
		"off the right":   {[2]r2.Vec{{X: 200, Y: 900}, {X: 2998, Y: 950}}, [2]bool{false, true}},
		"top to bottom":   {[2]r2.Vec{{X: 1500, Y: 0}, {X: 1480, Y: 1999}}, [2]bool{true, true}},
		"close, but free": {[2]r2.Vec{{X: 30, Y: 900}, {X: 2960, Y: 950}}, [2]bool{}},
	}
	for name, test := range tests {
		if got := cutOff(Outline{Axis: test.axis}, c); got != test.want {
			t.Errorf("%s: %v, want %v", name, got, test.want)
		}
	}
}
