// Package profile holds the words and numbers of a turning: its trace, its elements, its pattern,
// its stations, and the units they are read in.
//
// Inside the package all lengths are millimetres and all angles radians. x runs along the axis
// from the end the story stick hooks over.
package profile
