package app

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// menus are the menus whose words change.
type menus struct {
	main               *fyne.MainMenu
	undo, redo, recent *fyne.MenuItem
}

// newMenus builds the menus and the shortcuts. Undo and redo stand on the canvas as well as in the menu, without the
// menu's shortcut, which would take Ctrl+Z away from text fields.
func (w *Window) newMenus() *menus {
	m := &menus{undo: fyne.NewMenuItem("Undo", w.guarded(w.model.undo)), redo: fyne.NewMenuItem("Redo", w.guarded(w.model.redo)), recent: fyne.NewMenuItem("Open recent", nil)}
	m.recent.ChildMenu = fyne.NewMenu("")
	item := func(label string, key fyne.KeyName, mod fyne.KeyModifier, f func()) *fyne.MenuItem {
		i := fyne.NewMenuItem(label, f)
		if key != "" {
			i.Shortcut = &desktop.CustomShortcut{KeyName: key, Modifier: mod}
		}
		return i
	}
	ctrl, shift := fyne.KeyModifierShortcutDefault, fyne.KeyModifierShift
	file := fyne.NewMenu("File",
		item("Open a photograph…", fyne.KeyO, ctrl, w.choosePhoto), item("Open a job…", fyne.KeyO, ctrl|shift, w.chooseJob), m.recent,
		fyne.NewMenuItemSeparator(),
		item("Save", fyne.KeyS, ctrl, w.save), item("Save as…", fyne.KeyS, ctrl|shift, w.saveAs),
		fyne.NewMenuItemSeparator(),
		item("Write the sheets…", fyne.KeyP, ctrl, func() { w.showStep(stepStick) }), item("Write the scale boards…", "", 0, w.saveBoards))
	edit := fyne.NewMenu("Edit", m.undo, m.redo, fyne.NewMenuItemSeparator(), fyne.NewMenuItem("Copy the table", w.copyTable))
	look := fyne.NewMenu("View",
		item("Fit the piece", fyne.Key0, ctrl, w.fitView), item("Life size", fyne.Key1, ctrl, w.tracks.full),
		item("Closer", fyne.KeyEqual, ctrl, func() { w.tracks.zoom(float64(w.tracks.Size().Width)/2, 1.25) }),
		item("Further", fyne.KeyMinus, ctrl, func() { w.tracks.zoom(float64(w.tracks.Size().Width)/2, 0.8) }))
	help := fyne.NewMenu("Help", fyne.NewMenuItem("The steps of the job", w.showHelp), fyne.NewMenuItem("About and cautions", w.showAbout))
	if len(w.services.Example.Photo) > 0 {
		help.Items = append(help.Items, fyne.NewMenuItem("Trace the example", w.openExample))
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
	add(fyne.KeyEqual, ctrl|shift, func() { w.tracks.zoom(float64(w.tracks.Size().Width)/2, 1.25) })
}

func (w *Window) fitView() {
	w.picture.fit()
	w.tracks.fit()
}

func (m *menus) refreshUndo(w *Window) {
	set := func(i *fyne.MenuItem, word, name string) {
		i.Label, i.Disabled = word, name == ""
		if name != "" {
			i.Label = word + " " + name
		}
	}
	before := m.undo.Label + m.redo.Label
	set(m.undo, "Undo", w.model.history.UndoName())
	set(m.redo, "Redo", w.model.history.RedoName())
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
