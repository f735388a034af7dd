// Package join makes one of what several photographs show of the same piece: shots that overlap along a long piece, and
// shots of the piece turned about its axis.
package join
