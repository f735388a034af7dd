package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"
)

// helpSteps say the way through the job, one step a paragraph, and what the hand does.
func helpSteps() []string {
	return []string{
		lang.L("**1  Photo.** Print the scale boards, lay one or two beside the piece and photograph both together. Open or drop the photograph."),
		lang.L("**2  Scale.** Boards are found by themselves. With a rule, mark two of its graduations and say how far apart they are. Say how the piece lay: on the table, or with the boards raised to its axis."),
		lang.L("**3  Outline.** If the piece was not found, mark its two ends, first the one the stick hooks over."),
		lang.L("**4  Pattern.** Every line is a station and runs through photograph, profile and stick. Drag it along. Click an element to change its shape or its numbers; drag its diamonds to change a diameter. Numbers take any unit: 35mm, 1 3/8, 1.375in. Enter applies."),
		lang.L("**5  Stick.** Write the sheets, print them at 100 %, and measure the check bar before you trust a line."),
		lang.L("**6  Copies.** Write the plan for turning, and hold every copy against the original, station by station."),
		lang.L("**The view.** The wheel zooms about the pointer, + and − about the middle; with Shift the wheel moves along. A drag on empty ground, with the middle button or with the space bar held, moves the view, as does the frame on the bar below. Ctrl+0 shows the whole piece, Ctrl+1 life size, Home and End its ends."),
		lang.L("**The keys.** Up and Down go through the elements. Left and Right move the near station of the selected one by a tenth of a millimetre or 1/64 inch, with Shift ten times as far, with Alt by one point of the screen. Esc takes a drag back. Ctrl+Z takes back any step, Ctrl+Y brings it again."),
	}
}

// aboutWords say what the program is, and the cautions.
func aboutWords() []string {
	return []string{
		lang.L("Spindlestick measures a turning from its photograph and draws the story stick to make it again."),
		lang.L("**Before you turn.** Wear a face shield and a dust mask. No gloves, no loose sleeves. Check the blank for splits and glue lines. Turn the work by hand before you start the lathe. Set the rest only when the lathe is stopped, and take it off before sanding. Never hold a stick, template or calipers to work that is turning. Sand squares by hand with the lathe stopped."),
		lang.L("**Old paint** may hold lead: test it, and follow the law where you work."),
		lang.L("**Balusters** are part of a guard: a thinner copy opens the gap between them, and the local code and licensed practice decide what is allowed."),
		lang.L("The lathe's own manual governs. Figures come with an uncertainty at two standard deviations: measure the first copy with calipers before you make the rest."),
		lang.L("Licensed under the MIT licence."),
		lang.L("**It stands on the work of others.** Go, its image and text packages and fonts, gonum, Fyne: BSD 3-clause. OpenCV, gocv, wazero, purego: Apache 2.0. imaging, fpdf, dxf, kong, heic, go-i18n: MIT. libheif and libde265 in heic: LGPL 3. The window's letters, Noto Sans: SIL Open Font Licence 1.1. Their texts come with the sources."),
	}
}

// showHelp shows the steps, each with its picture.
func (w *Window) showHelp() {
	list, sketches := container.NewVBox(), stepSketches()
	for i, text := range helpSteps() {
		row := fyne.CanvasObject(rich(text))
		if i < len(sketches) {
			row = container.NewBorder(nil, nil, container.NewVBox(newSketch(sketches[i])), nil, row)
		}
		list.Add(row)
	}
	w.showPage(lang.L("The steps of the job"), list)
}

func (w *Window) showAbout() {
	list := container.NewVBox()
	for _, text := range aboutWords() {
		list.Add(rich(text))
	}
	w.showPage(lang.L("About and cautions"), list)
}

func rich(text string) *widget.RichText {
	r := widget.NewRichTextFromMarkdown(text)
	r.Wrapping = fyne.TextWrapWord
	return r
}

// showPage shows something to read, as high as the window allows.
func (w *Window) showPage(title string, page fyne.CanvasObject) {
	const widest, share = 680, 0.72
	s := w.win.Canvas().Size()
	w.newReading(title, container.NewGridWrap(fyne.NewSize(fyne.Min(widest, 0.9*s.Width), share*s.Height), container.NewVScroll(page)))
}
