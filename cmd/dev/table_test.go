package main

import (
	"os"

	"spindlestick/profile"
)

// One inch is 25.4 mm; 19.05 mm is 3/4 in, 36.5125 mm is 1 7/16 in.
func Example_printTable() {
	p := profile.Pattern{Length: 76.2, Elements: []profile.Element{
		{Kind: profile.Square, X0: 0, X1: 25.4, D0: 36.5125, D1: 36.5125, Side: 36.5125},
		{Kind: profile.Bead, X0: 25.4, X1: 44.45, D0: 19.05, D1: 19.05, Sagitta: 9.525},
		{Kind: profile.Vee, X0: 44.45, X1: 50.8, D0: 19.05, D1: 19.05, InnerX: 47.625, InnerD: 12.7},
		{Kind: profile.Taper, X0: 50.8, X1: 76.2, D0: 19.05, D1: 12.7},
	}}
	if err := printTable(os.Stdout, p); err != nil {
		panic(err)
	}
	// Output:
	// no.    kind   from     to   dia.   dia.  mid dia.   from     to    dia.    dia.  mid dia.
	//                   mm     mm     mm     mm        mm     in     in      in      in        in
	//     1  square   0.00  25.40  36.51  36.51         -      0      1  1 7/16  1 7/16         -
	//     2    bead  25.40  44.45  19.05  19.05     38.10      1  1 3/4     3/4     3/4     1 1/2
	//     3     vee  44.45  50.80  19.05  19.05     12.70  1 3/4      2     3/4     3/4       1/2
	//     4   taper  50.80  76.20  19.05  12.70         -      2      3     3/4     1/2         -
	// Overall length 76.20 mm, 3 in.
}
