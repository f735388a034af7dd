// Package fit finds the trade elements of a measured trace: it cuts the meridian optimally into lines and
// circular arcs, refines all stations and sizes together, and names what it found.
package fit
