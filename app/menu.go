package app

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"
)

// menus are the menus whose words change.
type menus struct {
	main               *fyne.MainMenu
	undo, redo, recent *fyne.MenuItem
}

// stepKeys are the digits that, with Alt, show the steps.
var stepKeys = [stepCount]fyne.KeyName{fyne.Key1, fyne.Key2, fyne.Key3, fyne.Key4, fyne.Key5, fyne.Key6}

// newMenus builds the menus and the shortcuts. Undo and redo stand on the canvas as well as in the menu, without the
// menu's shortcut, which would take Ctrl+Z away from text fields.
func (w *Window) newMenus() *menus {
	m := &menus{undo: fyne.NewMenuItem(lang.L("Undo"), w.guarded(w.model.undo)), redo: fyne.NewMenuItem(lang.L("Redo"), w.guarded(w.model.redo)), recent: fyne.NewMenuItem(lang.L("Open recent"), nil)}
	m.recent.ChildMenu = fyne.NewMenu("")
	item := func(label string, key fyne.KeyName, mod fyne.KeyModifier, f func()) *fyne.MenuItem {
		i := fyne.NewMenuItem(label, f)
		if key != "" {
			i.Shortcut = &desktop.CustomShortcut{KeyName: key, Modifier: mod}
		}
		return i
	}
	ctrl, shift := fyne.KeyModifierShortcutDefault, fyne.KeyModifierShift
	file := fyne.NewMenu(lang.L("File"),
		item(lang.L("Open a photograph…"), fyne.KeyO, ctrl, w.choosePhoto), item(lang.L("Open a job…"), fyne.KeyO, ctrl|shift, w.chooseJob), m.recent,
		fyne.NewMenuItemSeparator(),
		item(lang.L("Save"), fyne.KeyS, ctrl, w.save), item(lang.L("Save as…"), fyne.KeyS, ctrl|shift, w.saveAs),
		fyne.NewMenuItemSeparator(),
		item(lang.L("Write the sheets…"), fyne.KeyP, ctrl, func() { w.showStep(stepStick) }), item(lang.L("Write the scale boards…"), "", 0, w.saveBoards))
	edit := fyne.NewMenu(lang.L("Edit"), m.undo, m.redo, fyne.NewMenuItemSeparator(), fyne.NewMenuItem(lang.L("Copy the table"), w.copyTable))
	look := fyne.NewMenu(lang.L("View"),
		item(lang.L("Fit the piece"), fyne.Key0, ctrl, w.fitView), item(lang.L("Life size"), fyne.Key1, ctrl, w.fullView),
		item(lang.L("Closer"), fyne.KeyEqual, ctrl, func() { w.magnify(zoomStep) }),
		item(lang.L("Further"), fyne.KeyMinus, ctrl, func() { w.magnify(1 / zoomStep) }))
	look.Items = append(look.Items, fyne.NewMenuItemSeparator())
	for s := step(0); s < stepCount; s++ {
		look.Items = append(look.Items, item(phrase("Step {{.N}}: {{.Step}}", "N", int(s)+1, "Step", s.title()), stepKeys[s], fyne.KeyModifierAlt, w.guarded(func() { w.showStep(s) })))
	}
	help := fyne.NewMenu(lang.L("Help"), fyne.NewMenuItem(lang.L("The steps of the job"), w.showHelp), fyne.NewMenuItem(lang.L("About and cautions"), w.showAbout))
	if len(w.services.Example.Photo) > 0 {
		help.Items = append(help.Items, fyne.NewMenuItem(lang.L("Trace the example"), w.openExample))
	}
	m.main = fyne.NewMainMenu(file, edit, look, help)
	w.win.SetMainMenu(m.main)
	w.shortcuts()
	m.refreshRecent(w)
	w.model.watch(func() { m.refreshUndo(w) })
	m.refreshUndo(w)
	return m
}

// guarded runs f only while no dialog is open: keys reach the window behind one.
func (w *Window) guarded(f func()) func() {
	return func() {
		if w.win.Canvas().Overlays().Top() == nil {
			f()
		}
	}
}

func (w *Window) shortcuts() {
	ctrl, shift := fyne.KeyModifierShortcutDefault, fyne.KeyModifierShift
	add := func(key fyne.KeyName, mod fyne.KeyModifier, f func()) {
		w.win.Canvas().AddShortcut(&desktop.CustomShortcut{KeyName: key, Modifier: mod}, func(fyne.Shortcut) { w.guarded(f)() })
	}
	w.win.Canvas().AddShortcut(&fyne.ShortcutUndo{}, func(fyne.Shortcut) { w.guarded(w.model.undo)() })
	w.win.Canvas().AddShortcut(&fyne.ShortcutRedo{}, func(fyne.Shortcut) { w.guarded(w.model.redo)() })
	add(fyne.KeyZ, ctrl, w.model.undo)
	add(fyne.KeyY, ctrl, w.model.redo)
	add(fyne.KeyZ, ctrl|shift, w.model.redo)
	add(fyne.KeyEqual, ctrl|shift, func() { w.magnify(zoomStep) })
}

func (w *Window) fitView() {
	w.picture.fit()
	w.tracks.fit()
}

// fullView shows the piece at life size, or the photograph pixel by pixel.
func (w *Window) fullView() {
	if w.picture.Visible() {
		w.picture.full()
		return
	}
	w.tracks.full()
}

func (w *Window) magnify(factor float64) {
	if w.picture.Visible() {
		w.picture.magnify(factor)
		return
	}
	w.tracks.magnify(factor)
}

func (m *menus) refreshUndo(w *Window) {
	set := func(i *fyne.MenuItem, word, name string) {
		i.Label, i.Disabled = word, name == ""
		if name != "" {
			i.Label = phrase("{{.Do}} {{.What}}", "Do", word, "What", name)
		}
	}
	before := m.undo.Label + m.redo.Label
	set(m.undo, lang.L("Undo"), w.model.history.UndoName())
	set(m.redo, lang.L("Redo"), w.model.history.RedoName())
	if before != m.undo.Label+m.redo.Label {
		m.main.Refresh()
	}
}

func (m *menus) refreshRecent(w *Window) {
	var items []*fyne.MenuItem
	for _, path := range w.recent() {
		items = append(items, fyne.NewMenuItem(filepath.Base(path), func() { w.whenSafe(func() { w.open(path) }) }))
	}
	m.recent.ChildMenu.Items = items
	m.recent.Disabled = len(items) == 0
	m.main.Refresh()
}
