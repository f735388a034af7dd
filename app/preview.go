package app

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
	"spindlestick/profile/sheet"
)

// preview shows the pages as they will print. It is drawn beside the window by the code that writes the file.
type preview struct {
	window *Window
	choice func() sheetChoice

	content  fyne.CanvasObject
	picture  *canvas.Image
	label    *widget.Label
	back, on *hintButton
	page     int
	turn     int // counts the drawings begun: only the last one's picture is shown
}

// previewDPI is enough for a page the width of the panel, enlarged twice.
const previewDPI = 75

func newPreview(w *Window, choice func() sheetChoice) *preview {
	p := &preview{window: w, choice: choice, picture: canvas.NewImageFromImage(nil), label: widget.NewLabel("")}
	p.picture.FillMode = canvas.ImageFillContain
	p.picture.SetMinSize(fyne.NewSize(200, 330))
	p.back = w.line.button("‹", lang.L("The page before."), func() { p.leaf(-1) })
	p.on = w.line.button("›", lang.L("The page after."), func() { p.leaf(1) })
	row := container.NewHBox(p.back, p.label, p.on)
	p.content = container.NewVBox(container.NewCenter(row), p.picture)
	p.content.Hide()
	w.model.watch(p.refresh)
	return p
}

func (p *preview) leaf(by int) {
	p.page += by
	p.refresh()
}

// refresh draws the page anew while its step is shown.
func (p *preview) refresh() {
	if !p.window.model.traced() {
		p.content.Hide()
		return
	}
	if p.window.steps == nil || p.window.steps.shown != stepStick {
		return
	}
	p.turn++
	choice := p.choice()
	turn, page, pattern, o := p.turn, p.page, p.window.model.workshop(), p.window.sheetOptions(choice)
	record := p.window.record(choice, previewRecord)
	p.window.services.start(func() {
		img, page, of, err := previewPage(pattern, o, record, page)
		fyne.Do(func() {
			if turn == p.turn {
				p.show(img, page, of, err)
			}
		})
	})
}

// previewRecord is how wide the record page's picture is drawn for the preview, px.
const previewRecord = 1500

func previewPage(p profile.Pattern, o sheet.Options, record func() (image.Image, error), page int) (img image.Image, at, of int, err error) {
	if o.Photo, err = record(); err != nil {
		return nil, 0, 0, err
	}
	doc, err := sheet.Make(p, o)
	if err != nil {
		return nil, 0, 0, err
	}
	of = len(doc.Pages)
	at = max(0, min(page, of-1))
	img, err = sheet.Preview(doc.Pages[at], previewDPI)
	return img, at, of, err
}

func (p *preview) show(img image.Image, page, of int, err error) {
	if err != nil {
		p.window.say(plainly(err))
		p.content.Hide()
		return
	}
	p.page = page
	p.picture.Image = img
	p.picture.Refresh()
	p.label.SetText(phrase("page {{.Page}} of {{.Of}}", "Page", page+1, "Of", of))
	enable(p.back, page > 0)
	enable(p.on, page < of-1)
	p.content.Show()
}

func enable(b fyne.Disableable, on bool) {
	if on {
		b.Enable()
		return
	}
	b.Disable()
}
