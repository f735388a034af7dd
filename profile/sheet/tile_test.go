package sheet

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestCut: tiles are no longer than the room, lap over each other by twice the lap about each join, cover the piece,
// and own every station just once.
func TestCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(5, 3000).Draw(t, "length")
		room := rapid.Float64Range(150, 400).Draw(t, "room")
		var stations []float64
		for range rapid.IntRange(0, 40).Draw(t, "stations") {
			stations = append(stations, length*rapid.Float64Range(0, 1).Draw(t, "at"))
		}
		tiles := cut(length, 15, 8, room, stations, 1)
		if tiles[0].From != -15 || tiles[len(tiles)-1].To != length+8 {
			t.Fatalf("from %v to %v", tiles[0].From, tiles[len(tiles)-1].To)
		}
		if least := math.Ceil((length + 23 - 2*lap) / (room - 2*lap)); float64(len(tiles)) > math.Max(1, least) {
			t.Fatalf("%d tiles where %v do", len(tiles), least)
		}
		for i, c := range tiles {
			if c.To-c.From > room+1e-9 {
				t.Fatalf("tile %d is %v long", i, c.To-c.From)
			}
			if i > 0 && (math.Abs(tiles[i-1].To-c.From-2*lap) > 1e-9 || tiles[i-1].Right != c.Left || c.Left <= tiles[i-1].Left) {
				t.Fatalf("tiles %d and %d do not lap: %+v %+v", i-1, i, tiles[i-1], c)
			}
		}
		for _, s := range stations {
			owners := 0
			for _, c := range tiles {
				if c.owns(s) {
					owners++
					if !c.shows(s) {
						t.Fatalf("the owner of %v does not show it: %+v", s, c)
					}
				}
			}
			if owners != 1 {
				t.Fatalf("%v is lettered on %d tiles", s, owners)
			}
		}
	})
}

// TestJoinsKeepClear: with stations every 20 mm and room to choose, a join finds its place between two, to the half mm that it is looked for.
func TestJoinsKeepClear(t *testing.T) {
	var stations []float64
	for x := 0.0; x <= 1400; x += 20 {
		stations = append(stations, x)
	}
	for _, c := range cut(1400, 15, 8, 264, stations, 1)[1:] {
		if d := clearance(c.Left, stations); d < 9.5 {
			t.Errorf("the join at %v mm is %v mm from a station", c.Left, d)
		}
	}
}

func TestJoinNames(t *testing.T) {
	for n, want := range map[int]string{1: "A", 26: "Z", 27: "AA", 52: "AZ", 53: "BA"} {
		if got := joinName(n); got != want {
			t.Errorf("join %d is %s, want %s", n, got, want)
		}
	}
}
