package sheet_test

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// readDXF prints what ezdxf makes of a file: units, layers, faults, and the outline's lines and arcs.
const readDXF = `
import sys, ezdxf
from ezdxf.lldxf.encoding import decode_dxf_unicode
d = ezdxf.readfile(sys.argv[1])
print("units", d.header["$INSUNITS"])
print("layers", *sorted(l.dxf.name for l in d.layers))
print("faults", len(d.audit().errors))
for e in d.modelspace():
    k = e.dxftype()
    if k == "TEXT": print("text", e.dxf.height, decode_dxf_unicode(e.dxf.text))
    if k == "LINE" and e.dxf.layer == "stations": print("station", e.dxf.start.x, e.dxf.start.y, e.dxf.end.x, e.dxf.end.y)
    if k == "LINE" and e.dxf.layer == "centre": print("centre", e.dxf.start.x, e.dxf.start.y, e.dxf.end.x, e.dxf.end.y)
    if e.dxf.layer != "outline": continue
    if k == "LINE": print("point", e.dxf.start.x, e.dxf.start.y); print("point", e.dxf.end.x, e.dxf.end.y)
    if k == "LWPOLYLINE":
        for p in e.get_points("xy"): print("point", *p)
    if k == "ARC":
        for p in e.vertices([e.dxf.start_angle + f * ((e.dxf.end_angle - e.dxf.start_angle) % 360) for f in (0, .25, .5, .75, 1)]): print("point", p.x, p.y)
`

// TestDXFReads: ezdxf finds millimetres ($INSUNITS 4), the named layers, no faults, all stations' figures, and an
// outline within 0.01 mm of the pattern.
func TestDXFReads(t *testing.T) {
	python := "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import ezdxf").Run(); err != nil {
		t.Skip("ezdxf is not installed: the DXF is not read by another program")
	}
	script := filepath.Join(t.TempDir(), "read.py")
	if err := os.WriteFile(script, []byte(readDXF), 0o600); err != nil {
		t.Fatal(err)
	}
	for name, p := range examples() {
		d := mustMake(t, p, sheet.Options{Show: sheet.Drawing, Paper: sheet.Roll, Title: "Ø and ° and → in a title"})
		out := run(t, python, script, written(t, d, "a.dxf"))
		for _, want := range []string{"units 4\n", "faults 0\n", "Ø and ° and → in a title\n"} {
			if !strings.Contains(out, want) {
				t.Errorf("%s: no %q in what was read: %s", name, want, regexp.MustCompile(`(?m)^text.*title$`).FindString(out))
			}
		}
		layers := regexp.MustCompile(`(?m)^layers .*$`).FindString(out)
		for _, want := range []string{" outline", " stations", " text", " centre"} {
			if !strings.Contains(layers, want) {
				t.Errorf("%s: %s lacks %s", name, layers, want)
			}
		}
		outlineReads(t, name, p, out)
	}
}

// TestDXFOfAStickIsFullSize: the stick's outline is reduced on paper only.
func TestDXFOfAStickIsFullSize(t *testing.T) {
	var widest float64
	for _, m := range mustMake(t, baluster(), sheet.Options{}).Whole.Marks {
		if l, ok := m.(sheet.Line); ok && l.Pen.Layer == sheet.Outline {
			for _, p := range l.Pts[1:] {
				widest = math.Max(widest, math.Abs(p.Y-l.Pts[0].Y))
			}
		}
	}
	if math.Abs(widest-22) > 1e-9 { // half the square of 44 mm
		t.Errorf("the outline is %.3f mm high", widest)
	}
}

// outlineReads checks the points of an outline as read from a DXF.
func outlineReads(t *testing.T, name string, p profile.Pattern, out string) {
	t.Helper()
	var axis, start float64
	n, worst := 0, 0.0
	for _, l := range strings.Split(out, "\n") {
		if strings.HasPrefix(l, "centre ") {
			f := numbers(l)
			axis, start = f[1], f[0]+6
		}
	}
	for _, l := range strings.Split(out, "\n") {
		if !strings.HasPrefix(l, "point ") {
			continue
		}
		f := numbers(l)
		off := offOutline(p, f[0]-start, math.Abs(f[1]-axis))
		worst = math.Max(worst, off)
		n++
	}
	if n < 4*len(p.Elements) || worst > 0.01 {
		t.Errorf("%s: %d points of the outline, up to %.4f mm off", name, n, worst)
	}
	t.Logf("%s: %d points of the outline, up to %.6f mm off", name, n, worst)
}

// offOutline is how far a point (station, distance from the axis) is from the pattern's outline, mm, seen across the
// axis; on a step it lies anywhere between the two sides.
func offOutline(p profile.Pattern, x, r float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, e := range p.Elements {
		if x < e.X0-1e-6 || x > e.X1+1e-6 {
			continue
		}
		h := e.At(math.Max(e.X0, math.Min(e.X1, x))) / 2
		if e.Kind == profile.Shoulder {
			h = math.Min(h, e.Side/2)
		}
		lo, hi = math.Min(lo, h), math.Max(hi, h)
	}
	if math.Abs(x) < 1e-6 || math.Abs(x-p.Length) < 1e-6 {
		lo = 0 // an end face
	}
	return math.Max(0, math.Max(lo-r, r-hi))
}

func numbers(line string) []float64 {
	var out []float64
	for _, f := range strings.Fields(line)[1:] {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil {
			return nil
		}
		out = append(out, v)
	}
	return out
}
