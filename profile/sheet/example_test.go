package sheet_test

import (
	"fmt"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

func ExampleMake() {
	leg := profile.Pattern{Length: 400, Elements: []profile.Element{
		{Kind: profile.Square, X1: 120, D0: 40, D1: 40, Side: 40},
		{Kind: profile.Taper, X0: 120, X1: 400, D0: 38, D1: 22},
	}}
	d, err := sheet.Make(leg, sheet.Options{Show: sheet.All, Paper: sheet.A4})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range d.Pages {
		fmt.Printf("%.0f x %.0f mm: %s\n", p.Width, p.Height, p.Name)
	}
	// Output:
	// 297 x 210 mm: Story stick, strips 1 to 2 of 2
	// 297 x 210 mm: Drawing, strip 1 of 2
	// 297 x 210 mm: Drawing, strip 2 of 2
	// 297 x 210 mm: Half template, strips 1 to 2 of 2
	// 210 x 297 mm: Stations
}
