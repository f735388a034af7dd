// Package check compares turnings: a copy with its original, station by station and with a verdict that allows for what is
// not known, and several originals of one design with one another, for the pattern their maker likely meant.
package check
