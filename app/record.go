package app

import (
	"image"
	"math"

	"spindlestick/app/job"
	"spindlestick/profile"
	"spindlestick/profile/sheet"
	"spindlestick/profile/view"
)

const (
	recordScale  = 2.5  // device px a unit: a line one unit wide prints a quarter of a mm wide at 300 dots an inch
	recordWidest = 6000 // device px; two rows of a page at 300 dots an inch
	recordMargin = 0.02 // beside the ends, of the piece's length
	recordAir    = 0.2  // over and under the piece, of its width
	recordHead   = 34   // over it, for the stations' numbers, units
)

// RecordPicture draws the photograph of a job along the piece's axis, hook end to the left, with the outline of the
// pattern and its numbered stations over it, width px wide (0 = as wide as prints well). It returns nil when the job does
// not know how the photograph lies.
func RecordPicture(photo image.Image, j job.Job, width int) (image.Image, error) {
	if photo == nil || !j.Traced() {
		return nil, nil
	}
	return drawRecord(newPyramid(photo), j, width)
}

func drawRecord(photo *pyramid, j job.Job, width int) (image.Image, error) {
	if !hasPhoto(photo, j.Measurement.Scene) {
		return nil, nil
	}
	fonts, err := newFaces()
	if err != nil {
		return nil, err
	}
	if width <= 0 {
		width = recordWidest
	}
	f := recordFrame(photo, j, float64(width)/recordScale)
	b := brush{img: image.NewRGBA(image.Rect(0, 0, width, int(math.Ceil(f.bands.photo.height*recordScale)))), scale: recordScale, faces: fonts}
	f.drawPhoto(b)
	f.drawNumbers(b)
	return b.img, nil
}

// recordFrame shows the whole piece on one photo track, width units wide.
func recordFrame(photo *pyramid, j job.Job, width float64) frame {
	p := j.Pattern
	first, last := shownFrom(j)
	margin := recordMargin * p.Length
	perMM := width / (last - first + 2*margin)
	round, side := p.Largest()
	height := math.Max(round, side*math.Sqrt2)*(1+2*recordAir)*perMM + 2*recordHead
	return frame{
		photo: photo, scene: j.Measurement.Scene, outline: j.Measurement.Outline, pattern: p, stations: sheet.Numbered(p),
		scope: scope{left: first - margin, perMM: perMM}, bands: bands{photo: band{0, math.Min(height, width)}},
		width: width, colours: paletteFor(0), unit: profile.MM, selected: -1,
	}
}

// shownFrom returns the stations between which the piece shows in the photograph, mm: the near side of an end's face stands out
// over the end itself.
func shownFrom(j job.Job) (first, last float64) {
	p, err := view.NewProjector(j.Measurement.Scene)
	if err != nil {
		return 0, j.Pattern.Length
	}
	lo, hi := p.Look(j.Pattern).Reach()
	return math.Min(0, p.Station(lo)), math.Max(j.Pattern.Length, p.Station(hi))
}

// drawNumbers draws a line at each station, under the number that the sheets give it; a number that finds no place in
// any row is left out.
func (f frame) drawNumbers(b brush) {
	const size, line, rows = 10, 12, 2
	ends := [rows]float64{math.Inf(-1), math.Inf(-1)}
	bottom := f.bands.photo.bottom()
	for i, s := range f.stations {
		x := f.scope.x(s.X)
		b.stroke([]point{{x, recordHead}, {x, bottom}}, 2, faded(f.colours.under, 0.5))
		b.stroke([]point{{x, recordHead}, {x, bottom}}, 0.7, faded(f.colours.mark, 0.8))
		text := number(i + 1)
		w := b.width(text, size, true)
		for r := range ends {
			if left := x - w/2; left > ends[r]+3 {
				y := recordHead - 4 - line*float64(r)
				b.fill(left-1.5, y-size+1, w+3, size+1, f.colours.under)
				b.text(text, left, y, size, true, f.colours.mark)
				ends[r] = left + w
				break
			}
		}
	}
}
