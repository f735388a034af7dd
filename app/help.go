package app

import (
	"strings"

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
		lang.L("The wheel zooms about the pointer, a drag on empty ground pans, Ctrl+0 shows the whole piece. Ctrl+Z takes any step back."),
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
	}
}

func (w *Window) showHelp() {
	w.showText(lang.L("The steps of the job"), strings.Join(helpSteps(), "\n\n"))
}

func (w *Window) showAbout() {
	w.showText(lang.L("About and cautions"), strings.Join(aboutWords(), "\n\n"))
}

func (w *Window) showText(title, text string) {
	r := widget.NewRichTextFromMarkdown(text)
	r.Wrapping = fyne.TextWrapWord
	w.newQuestion(title, container.NewGridWrap(fyne.NewSize(620, 420), container.NewVScroll(r)))
}
