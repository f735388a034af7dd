// Package fit finds the trade elements of a measured trace: it cuts the meridian optimally into lines and
// circular arcs, refines all stations and sizes together, and names what it found.
//
// growth.svg beside this file shows how the time grows with samples and elements; BenchmarkGrowth measures it.
package fit
