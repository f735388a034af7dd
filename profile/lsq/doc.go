// Package lsq is a small dense Levenberg-Marquardt least-squares solver with bounds and a robust loss.
package lsq
