package vision

import (
	"context"
	"image"
)

// Picture returns the photograph upright, for showing: pixel positions in a Sighting of the same photograph are in it.
func (Tracer) Picture(ctx context.Context, data []byte, name string) (image.Image, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	p, err := Decode(data, name)
	if err != nil {
		return nil, err
	}
	defer p.Close()
	return p.Image(), nil
}
