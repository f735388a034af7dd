// Package sheet draws a pattern at true size: story stick, drawing, half template and table, and the scale boards,
// on pages or on one long surface, as PDF, SVG, DXF or PNG.
package sheet
