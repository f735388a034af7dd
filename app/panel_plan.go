package app

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"spindlestick/profile"
	"spindlestick/profile/plan"
	"spindlestick/profile/sheet"
)

// planner asks what a plan needs, and shows what it says in short, with the cautions.
type planner struct {
	window                                 *Window
	count, turned, use, spacing, top, kept *hintEntry
	wood                                   string // empty = not said
	facts                                  *widget.Label
	write                                  *hintButton
}

// anyWood is the choice that names no species.
const anyWood = "not said"

// planTab is the plan for turning.
func (w *Window) planTab() fyne.CanvasObject {
	p := &planner{window: w, facts: paragraph("")}
	w.planner = p
	p.write = w.line.button(lang.L("Write the plan…"), lang.L("Blank, sizing cuts, order of work, speeds and cautions, on paper."), p.ask)
	p.write.Importance = widget.HighImportance
	p.count = p.field("1", lang.L("How many copies are to be made; reckons the stock."))
	p.turned = p.field(lang.L("turned at"), lang.L("The wood's moisture in % when it is turned, 6 to 14. Diameters are then sized for what it will still move."))
	p.use = p.field(lang.L("in use"), lang.L("The wood's moisture in % where the piece will stand, 6 to 14."))
	p.spacing = p.field(lang.L("none"), lang.L("Of balusters, from middle to middle: the plan says what opening is left."))
	p.top = p.field(lang.L("not said"), lang.L("The lathe's highest speed, rpm."))
	p.kept = p.field(lang.L("1 in"), lang.L("What is left at each end for the centres, and sawn off."))
	names := []string{anyWood}
	for _, s := range plan.Woods() {
		names = append(names, s.Name)
	}
	wood := newChoice(w.line, lang.L("The wood, for its weight and its movement."), names, anyWood, func(name string) {
		p.wood = strings.TrimPrefix(name, anyWood)
		p.refresh()
	})
	form := widget.NewForm(widget.NewFormItem(lang.L("How many"), p.count), widget.NewFormItem(lang.L("Wood"), wood),
		widget.NewFormItem(lang.L("Moisture, %"), container.NewGridWithColumns(2, p.turned, p.use)),
		widget.NewFormItem(lang.L("Waste at the ends"), p.kept),
		widget.NewFormItem(lang.L("Balusters, spacing"), p.spacing), widget.NewFormItem(lang.L("Top speed, rpm"), p.top))
	page := container.NewVBox(form, p.write, p.facts)
	for _, text := range cautionTexts() {
		l := paragraph(text)
		l.Importance = widget.WarningImportance
		page.Add(l)
	}
	w.model.watch(p.refresh)
	p.refresh()
	return container.NewVScroll(page)
}

func (p *planner) field(usual, hint string) *hintEntry {
	e := p.window.line.entry(hint)
	e.SetPlaceHolder(usual)
	e.OnChanged = func(string) { p.refresh() }
	return e
}

// cautionTexts are all cautions of a plan, in the user's language.
func cautionTexts() []string {
	var out []string
	for _, c := range plan.Cautions() {
		out = append(out, "⚠ "+spoken(c))
	}
	return out
}

// options reads the fields.
func (p *planner) options() (plan.Options, error) {
	o := plan.Options{Species: p.wood}
	for _, read := range []func(*plan.Options) error{p.readCount, p.readMoisture, p.readTop, p.readLengths} {
		if err := read(&o); err != nil {
			return o, err
		}
	}
	return o, nil
}

func (p *planner) readCount(o *plan.Options) error {
	s := strings.TrimSpace(p.count.Text)
	if s == "" {
		return nil
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 {
		return errorText(lang.L("How many copies? Write a whole number from 1."))
	}
	o.Copies = n
	return nil
}

func (p *planner) readMoisture(o *plan.Options) error {
	turned, use := strings.TrimSpace(p.turned.Text), strings.TrimSpace(p.use.Text)
	if turned == "" && use == "" {
		return nil
	}
	a, err := parseNumber(turned)
	b, err2 := parseNumber(use)
	if err != nil || err2 != nil {
		return errorText(lang.L("Write both moistures in %, like 12 and 8."))
	}
	o.Moisture = &plan.Moisture{Turned: a, Use: b}
	return nil
}

func (p *planner) readTop(o *plan.Options) error {
	s := strings.TrimSpace(p.top.Text)
	if s == "" {
		return nil
	}
	v, err := parseNumber(s)
	if err != nil || v <= 0 {
		return errorText(lang.L("Write the lathe's highest speed in rpm, like 3000."))
	}
	o.TopSpeed = v
	return nil
}

func (p *planner) readLengths(o *plan.Options) error {
	spacing, err := p.length(p.spacing)
	if err != nil {
		return err
	}
	kept, err := p.length(p.kept)
	if err != nil {
		return err
	}
	if kept == 0 && strings.TrimSpace(p.kept.Text) != "" {
		kept = -1 // the plan takes 0 for the usual waste
	}
	o.Spacing, o.Waste = spacing, [2]float64{kept, kept}
	return nil
}

// length is a field's length in mm, 0 where it is empty.
func (p *planner) length(e *hintEntry) (float64, error) {
	if strings.TrimSpace(e.Text) == "" {
		return 0, nil
	}
	mm, err := profile.ParseLength(e.Text, p.window.model.unit)
	if err != nil || mm < 0 {
		return 0, errorText(lang.L("write a length like 450mm, 17 3/4in"))
	}
	return mm, nil
}

// make makes the plan of the piece on the bench in its workshop sizes.
func (p *planner) make() (plan.Plan, error) {
	o, err := p.options()
	if err != nil {
		return plan.Plan{}, err
	}
	sizes, _, err := p.window.model.job.Workshop()
	if err != nil {
		return plan.Plan{}, err
	}
	return plan.Make(sizes, o)
}

// refresh says in short what the plan would say.
func (p *planner) refresh() {
	traced := p.window.model.traced()
	enable(p.write, traced)
	if !traced || p.window.steps != nil && p.window.steps.shown != stepCopies {
		return
	}
	made, err := p.make()
	if err != nil {
		p.facts.SetText(plainly(err))
		return
	}
	p.facts.SetText(planFacts(made, p.window.model.unit))
}

// planFacts is a plan in a few lines.
func planFacts(p plan.Plan, u profile.Unit) string {
	b, v := p.Blank, p.Speeds
	lines := []string{
		phrase("Blank {{.Side}} square, {{.Length}} long.", "Side", long(b.Side, u), "Length", long(b.Length, u)),
		phrase("{{.Cuts}} sizing cuts with {{.Settings}} settings of the calipers.", "Cuts", len(p.Cuts), "Settings", len(p.Settings)),
		phrase("Finishing at {{.Low}} to {{.High}} rpm, roughing far under {{.Rough}} rpm.", "Low", plan.RPM(v.Finishing.Low), "High", plan.RPM(v.Finishing.High), "Rough", plan.RPM(v.Roughing)),
	}
	if p.Slender.Steady == plan.Advise {
		lines = append(lines, phrase("{{.Ratio}} times as long as it is thin: use a steady rest.", "Ratio", decimals(p.Slender.Ratio, 1)))
	}
	if n := len(p.Doubts); n > 0 {
		lines = append(lines, counted("{{.N}} elements are not certain: settle their sizes before you cut.", n))
	}
	if g := p.Guard; g != nil {
		lines = append(lines, phrase("The opening beside the thinnest place is {{.Opening}}; the local code decides.", "Opening", long(g.Opening, u)))
	}
	return strings.Join(lines, "\n")
}

// ask asks where to write the plan.
func (p *planner) ask() {
	made, err := p.make()
	if err != nil {
		p.window.say(plainly(err))
		return
	}
	w, title := p.window, p.window.model.job.Title
	w.askFile(lang.L("Write the plan"), w.fileName(" plan.pdf"), ".pdf", func(path string) {
		w.writeFile(path, func() error {
			doc, err := made.Sheet(plan.SheetOptions{Title: title, Date: today(), Paper: w.isoOrLetter()})
			if err != nil {
				return err
			}
			return sheet.WriteFile(path, doc)
		})
	})
}
