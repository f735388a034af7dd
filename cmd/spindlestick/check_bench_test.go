package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// pairTruth is what the bench says of its copy: the original's elements and the deviations made on purpose.
type pairTruth struct {
	Elements []struct{ X0, X1 float64 }
	Made     []struct {
		Element int
		Param   string
		Delta   float64 `json:"delta_mm"`
	} `json:"deviations"`
}

func readPair(t *testing.T, folder string) (p pairTruth) {
	t.Helper()
	for _, name := range []string{"b14.json", "b13.json"} { // the original's elements replace the copy's
		data, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Skipf("the bench has no pair: %v", err)
		}
		p.Elements = nil
		if err := json.Unmarshal(data, &p); err != nil {
			t.Fatal(err)
		}
	}
	return p
}

// TestCheckBenchPair traces both photographs of the pair and looks for the deviations made on purpose.
func TestCheckBenchPair(t *testing.T) {
	folder := os.Getenv("SPINDLESTICK_BENCH")
	if folder == "" || os.Getenv("SPINDLESTICK_ALL") != "1" {
		t.Skip("SPINDLESTICK_BENCH names no folder of bench photographs, or SPINDLESTICK_ALL is not 1")
	}
	truth, dir := readPair(t, folder), t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	for name, height := range map[string]string{"b13": "raised", "b14": "level"} {
		if got := call("trace", filepath.Join(folder, name+".jpg"), "--height", height, "--job", in(name+".turning")); got.code != exitDone {
			t.Fatalf("%s: exit %d: %s", name, got.code, got.stderr)
		}
	}
	got := call("check", in("b13.turning"), in("b14.turning"), "-o", in("r.json"))
	if got.code != exitDone {
		t.Fatalf("exit %d: %s", got.code, got.stderr)
	}
	t.Log(got.stdout)
	c := readChecked(t, in("r.json"))
	changed := map[int]bool{}
	for _, m := range truth.Made {
		changed[m.Element] = true
		e := truth.Elements[m.Element]
		d, u := c.diameterNear((e.X0+e.X1)/2, e.X0, e.X1, m.Param, m.Delta)
		if m.Param == "width" {
			d, u = c.width(e.X0, e.X1)
		}
		if math.Abs(d-m.Delta) > u {
			t.Errorf("element %d, %s: %+.2f +- %.2f, made %+.2f", m.Element, m.Param, d, u, m.Delta)
		}
	}
	for _, s := range c.Stations {
		if math.Abs(s.Deviation) > s.U && !truth.touches(changed, s.X) {
			t.Errorf("at %.1f a deviation of %+.2f +- %.2f is claimed", s.X, s.Deviation, s.U)
		}
	}
}

// touches reports whether station x belongs to a changed element, ends included.
func (p pairTruth) touches(changed map[int]bool, x float64) bool {
	for i, e := range p.Elements {
		if changed[i] && x > e.X0-1 && x < e.X1+1 {
			return true
		}
	}
	return false
}

// diameterNear is the deviation at the station that a parameter belongs to; of the two rows of a step, the nearer one.
func (c checked) diameterNear(mid, x0, x1 float64, param string, delta float64) (d, u float64) {
	at := map[string]float64{"d0": x0, "diameter": x0, "d1": x1}[param]
	if param == "peak_diameter" {
		at = mid
	}
	d = math.Inf(1)
	for _, s := range c.Stations {
		if math.Abs(s.X-at) < 1 && math.Abs(s.Deviation-delta) < math.Abs(d-delta) {
			d, u = s.Deviation, s.U
		}
	}
	return d, u
}

// width is by how much the distance of two edges differs.
func (c checked) width(x0, x1 float64) (d, u float64) {
	at := func(x float64) (d, u float64) {
		d = math.Inf(1)
		for _, p := range c.Positions {
			if math.Abs(p.X-x) < 1 {
				d, u = p.Deviation, p.U
			}
		}
		return d, u
	}
	d0, u0 := at(x0)
	d1, u1 := at(x1)
	return d1 - d0, math.Hypot(u0, u1)
}
