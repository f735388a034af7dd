// Package view says how a solid of revolution looks to a camera, and what the solid is that a
// camera saw: project a meridian to its outline, invert an outline to its meridian.
package view
