// Package vision reads a photograph of a turning: the picture itself, the scale boards or rule in it, and the piece's outline in pixels.
package vision
