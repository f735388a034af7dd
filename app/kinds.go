package app

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
)

// kindChooser lets the user say what an element is: the trade's word beside the shape, drawn small as on the profile track.
type kindChooser struct {
	content *fyne.Container
	button  *hintButton
	shown   *canvas.Image
	chosen  func(profile.Kind)
	pop     *widget.PopUp
}

// The size of a drawn shape, units.
const (
	shapeWidth  = 54
	shapeHeight = 30
)

func newKindChooser(chosen func(profile.Kind)) *kindChooser {
	c := &kindChooser{chosen: chosen, shown: shapeImage("")}
	c.button = (*statusLine)(nil).button(lang.L("shape"), lang.L("The element's shape, by its trade name."), c.open)
	c.button.Alignment = widget.ButtonAlignLeading
	c.content = container.NewBorder(nil, nil, c.shown, nil, c.button)
	return c
}

// show names the selected element's kind; "" = nothing is selected.
func (c *kindChooser) show(k profile.Kind) {
	c.shown.Image = drawShape(k)
	c.shown.Refresh()
	if k == "" {
		c.button.SetText(lang.L("shape"))
		c.button.Disable()
		return
	}
	c.button.SetText(lang.L(string(k)))
	c.button.Enable()
}

// open shows all shapes under the button.
func (c *kindChooser) open() {
	over := fyne.CurrentApp().Driver().CanvasForObject(c.button)
	if over == nil {
		return
	}
	grid := container.NewGridWithColumns(3)
	for _, k := range profile.Kinds() {
		grid.Add(c.item(k))
	}
	c.pop = widget.NewPopUp(grid, over)
	before := over.OnTypedKey()
	over.SetOnTypedKey(func(e *fyne.KeyEvent) {
		if e.Name == fyne.KeyEscape {
			c.pop.Hide()
			over.SetOnTypedKey(before)
		}
	})
	c.pop.ShowAtRelativePosition(fyne.NewPos(0, c.button.Size().Height), c.button)
}

func (c *kindChooser) item(k profile.Kind) fyne.CanvasObject {
	b := widget.NewButton("", func() {
		c.pop.Hide()
		c.chosen(k)
	})
	b.Importance = widget.LowImportance
	// Picture and word take no presses, so the button beneath gets them.
	return container.NewStack(b, container.NewHBox(shapeImage(k), widget.NewLabel(lang.L(string(k)))))
}

func shapeImage(k profile.Kind) *canvas.Image {
	img := canvas.NewImageFromImage(drawShape(k))
	img.FillMode = canvas.ImageFillContain
	img.SetMinSize(fyne.NewSize(shapeWidth, shapeHeight))
	return img
}

// drawShape draws the upper half of a typical element of a kind between short stubs.
func drawShape(k profile.Kind) image.Image {
	const dpu = 2 // device px a unit, for sharp edges on dense screens
	img := image.NewRGBA(image.Rect(0, 0, shapeWidth*dpu, shapeHeight*dpu))
	if k == "" {
		return img
	}
	p := typical(k)
	f := frame{pattern: p, scope: scope{left: -2, perMM: 1.1}, bands: bands{profile: band{0, shapeHeight}}, colours: currentPalette()}
	f.profileScale = 1.1
	f.bands.profile = band{top: 2, height: 2 * (shapeHeight - 4)} // the axis lies along the lower edge
	b := brush{img: img, scale: dpu}
	for _, e := range p.Elements {
		upper, _ := f.meridian(e)
		x0, x1 := upper[0].x, upper[len(upper)-1].x
		body := append(append([]point{{x0, shapeHeight}}, upper...), point{x1, shapeHeight})
		b.polygon(body, f.colours.wood)
		b.stroke(upper, 1.6, f.colours.ink)
	}
	return img
}

func currentPalette() palette { return paletteFor(fyne.CurrentApp().Settings().ThemeVariant()) }

// typical is an element of a kind in the middle of 44 mm, as it is met on a spindle, with what stands beside it.
func typical(k profile.Kind) profile.Pattern {
	e := profile.Element{Kind: k, X0: 10, X1: 34, D0: 28, D1: 28}
	left, right := 28.0, 28.0
	switch k {
	case profile.Square:
		e.Side, e.D0, e.D1, left, right = 44, 44, 44, 44, 44
	case profile.Shoulder:
		e.Side, e.D0, e.D1, e.Style, e.Sagitta, left = 44, 44*1.4142, 26, profile.Quarter, 5, 44
		right = 26
	case profile.Fillet:
		e.X0, e.X1, left, right = 18, 26, 40, 40
	case profile.Cylinder:
		e.D0, e.D1, left, right = 38, 38, 26, 26
	case profile.Taper:
		e.D0, left = 42, 42
	case profile.Bead:
		e.Sagitta = 8
	case profile.HalfBead:
		e.D1, e.Sagitta, right = 44, 5, 44
	case profile.Cove:
		e.D0, e.D1, e.Sagitta, left, right = 42, 42, -9, 42, 42
	case profile.HalfCove:
		e.D1, e.Sagitta, right = 44, -5, 44
	case profile.Vee:
		e.D0, e.D1, e.InnerX, e.InnerD, left, right = 42, 42, 22, 20, 42, 42
	case profile.Ogee:
		e.D0, e.D1, e.InnerX, e.InnerD, e.Sagitta, left, right = 22, 44, 22, 33, -2.2, 22, 44
	case profile.Swell:
		e.X0, e.X1, e.Sagitta = 0, 44, 4
		return profile.Pattern{Length: 44, Elements: []profile.Element{e}}
	}
	return profile.Pattern{Length: 44, Elements: []profile.Element{
		{Kind: profile.Cylinder, X0: 0, X1: e.X0, D0: left, D1: left}, e, {Kind: profile.Cylinder, X0: e.X1, X1: 44, D0: right, D1: right},
	}}
}
