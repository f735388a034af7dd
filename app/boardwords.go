package app

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"spindlestick/profile"
	"spindlestick/profile/view"
)

// boardWords say of each board how its squares measure through the camera that was found: what the scale is worth.
func (m *model) boardWords() []string {
	scene := m.job.Measurement.Scene
	if scene.Camera.F <= 0 {
		return nil
	}
	var out []string
	for i, b := range m.job.Sighting.Boards {
		if mean, worst, ok := squares(scene, b); ok {
			out = append(out, phrase("Board {{.N}}: its squares measure {{.Side}} on the mean, the furthest corner is {{.Off}} out of place.",
				"N", i+1, "Side", precise(mean, m.unit), "Off", fine(worst, m.unit)))
		}
	}
	return out
}

// squares measures a board on the scene's plane: the mean side of its squares, and how far the corner that is furthest out
// lies from its neighbours' middle, mm. ok is false when the board does not lie before the camera.
func squares(s view.Scene, b view.Board) (mean, worst float64, ok bool) {
	rows := make([][]r2.Vec, len(b.Corners))
	for i, row := range b.Corners {
		for _, px := range row {
			hit, ok := s.Plane.Meet(s.Camera.Ray(px), 0)
			if !ok {
				return 0, 0, false
			}
			rows[i] = append(rows[i], r2.Vec{X: hit.X, Y: hit.Y})
		}
	}
	sum, n := 0.0, 0
	for _, row := range rows {
		for j := 1; j < len(row); j++ {
			sum, n = sum+r2.Norm(r2.Sub(row[j], row[j-1])), n+1
		}
		for j := 1; j+1 < len(row); j++ {
			middle := r2.Scale(0.5, r2.Add(row[j-1], row[j+1]))
			worst = math.Max(worst, r2.Norm(r2.Sub(row[j], middle)))
		}
	}
	if n == 0 {
		return 0, 0, false
	}
	return sum / float64(n), worst, true
}

// precise writes a length with its unit and one decimal more than usual.
func precise(mm float64, u profile.Unit) string {
	if u == profile.MM {
		return decimals(mm, 3) + " " + u.Suffix()
	}
	return decimals(mm/profile.MMPerInch, 4) + " " + u.Suffix()
}
