package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// cards choose one of a few things by a picture with words under it.
type cards struct {
	content fyne.CanvasObject
	chosen  func(i int)
	buttons []*hintButton
	rims    []*canvas.Rectangle
	now     int // the card that is chosen; -1 = none
}

// card is one choice.
type card struct {
	words  string
	hint   string
	sketch sketch
}

func newCards(line *statusLine, columns int, list []card, chosen func(i int)) *cards {
	c := &cards{chosen: chosen, now: -1}
	grid := container.NewGridWithColumns(columns)
	for i, item := range list {
		button := line.button("", item.hint, func() { c.choose(i) })
		rim := canvas.NewRectangle(colour{})
		rim.StrokeWidth, rim.CornerRadius = 0, 4
		words := widget.NewLabelWithStyle(item.words, fyne.TextAlignCenter, fyne.TextStyle{})
		words.Wrapping = fyne.TextWrapWord
		// Picture and words take no presses, so the button beneath gets them.
		grid.Add(container.NewStack(button, container.NewBorder(nil, words, nil, nil, container.NewPadded(newSketch(item.sketch))), rim))
		c.buttons, c.rims = append(c.buttons, button), append(c.rims, rim)
	}
	c.content = grid
	return c
}

// choose is what a press on a card does.
func (c *cards) choose(i int) {
	c.show(i)
	c.chosen(i)
}

// show marks a card as chosen.
func (c *cards) show(i int) {
	if i == c.now {
		return
	}
	c.now = i
	for j, rim := range c.rims {
		rim.StrokeWidth = 0
		if j == i {
			rim.StrokeWidth = 3
		}
		rim.StrokeColor = currentPalette().chosen
		rim.Refresh()
	}
}
