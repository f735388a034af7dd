// Package plan says how a pattern becomes turned copies: the blank, the sizing cuts, the order of work, the speeds, the
// wood, and the cautions that belong to each.
package plan
