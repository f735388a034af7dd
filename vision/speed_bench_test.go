package vision

import (
	"bytes"
	"context"
	"image/jpeg"
	"os"
	"testing"
	"time"

	"github.com/disintegration/imaging"
	"gocv.io/x/gocv"

	"spindlestick/profile/view"
	"spindlestick/vision/internal/guard"
)

// photo24 is the demonstration photograph enlarged to 24 megapixels (6000 x 4000 of its middle), as JPEG.
func photo24(b *testing.B) []byte {
	b.Helper()
	file, err := os.Open("../assets/demo/demo.jpg")
	if err != nil {
		b.Fatal(err)
	}
	defer file.Close()
	img, err := jpeg.Decode(file)
	if err != nil {
		b.Fatal(err)
	}
	large := imaging.CropCenter(imaging.Resize(img, 6000, 0, imaging.CatmullRom), 6000, 4000)
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, large, &jpeg.Options{Quality: 92}); err != nil {
		b.Fatal(err)
	}
	return buf.Bytes()
}

// BenchmarkPhotoToTrace times a 24 megapixel photograph to its trace, as a ratio to what OpenCV takes to decode the same
// JPEG in the same run, and each stage likewise.
func BenchmarkPhotoToTrace(b *testing.B) {
	data := photo24(b)
	hints := view.Hints{Height: view.Height{Mode: view.Raised}}
	var decode, all time.Duration
	stages := map[string]time.Duration{}
	for b.Loop() {
		decode += timeDecode(b, data)
		start := time.Now()
		last, stage := start, ""
		s, err := Tracer{}.Sight(context.Background(), data, "large.jpg", hints, func(next string, _ float64) {
			now := time.Now()
			stages[stage] += now.Sub(last)
			last, stage = now, next
		})
		if err != nil {
			b.Fatal(err)
		}
		before := time.Now()
		if _, err := view.Measure(s, hints); err != nil {
			b.Fatal(err)
		}
		stages["measure"] += time.Since(before)
		all += time.Since(start)
	}
	b.ReportMetric(float64(all)/float64(decode), "x-decode")
	for name, d := range stages {
		if name != "" {
			b.ReportMetric(float64(d)/float64(decode), metric(name))
		}
	}
}

// metric is a stage's name without the blanks that a unit must not have.
func metric(stage string) string {
	return string(bytes.ReplaceAll([]byte(stage), []byte(" "), []byte("-")))
}

func timeDecode(b *testing.B, data []byte) time.Duration {
	b.Helper()
	m := gocv.NewMat()
	defer m.Close()
	start := time.Now()
	if err := guard.Decode(data, &m, 1); err != nil {
		b.Fatal(err)
	}
	return time.Since(start)
}
