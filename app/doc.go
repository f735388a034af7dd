// Package app is the window: a bench on which the photograph, the measured profile and the story stick share one axis.
package app
