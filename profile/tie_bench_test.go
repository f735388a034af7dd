package profile_test

import (
	"testing"

	"spindlestick/profile"
)

// long is a turning of eighty elements: the stool eight times over.
func long() profile.Pattern {
	var p profile.Pattern
	for range 8 {
		for _, e := range stool().Elements {
			e.X0, e.X1, e.InnerX = e.X0+p.Length, e.X1+p.Length, e.InnerX+p.Length
			p.Elements = append(p.Elements, e)
		}
		p.Length = p.Elements[len(p.Elements)-1].X1
	}
	return p
}

func BenchmarkOffers(b *testing.B) {
	p := long()
	for b.Loop() {
		profile.Offers(p)
	}
}

func BenchmarkRounded(b *testing.B) {
	p := long()
	for b.Loop() {
		if _, _, err := p.Rounded(profile.Sixteenths); err != nil {
			b.Fatal(err)
		}
	}
}
