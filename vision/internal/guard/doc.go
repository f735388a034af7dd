// Package guard calls OpenCV so that what goes wrong there comes back as a Go error instead of ending the program.
//
// A C++ exception that reaches Go aborts the process, and recover never runs. Every call here is wrapped in C++
// and checked in Go first, because a segmentation fault cannot be caught. Mats are gocv's; a destination
// must be an open Mat (gocv.NewMat()).
//
// To add a call: a line in the family's .h, a guarded lambda in its .cpp, and a Go function that checks its
// Mats with usable, open or of before it calls.
package guard
