package app

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"
)

const (
	// leastBoardPhotos is from where measuring is worth trying.
	leastBoardPhotos = 3
	// boardAdvice says how the photographs are taken (the geometry of a camera; the numbers are common practice, no source).
	boardAdvice = "Fix one printed board to something flat. Photograph it six times or more with this camera, at the zoom and about the distance you use for turnings: " +
		"tilted by 30 to 45 degrees about its short side, about its long side and aslant, this way and that, upright and lying, filling the picture. Do not crop or edit the photographs."
)

// choose asks for the photographs of the board.
func (p *cameraPanel) choose() {
	p.listing = container.NewVBox()
	add := widget.NewButton(lang.L("Add a photograph…"), p.choosePhoto)
	folder := widget.NewButton(lang.L("Add a folder…"), p.chooseFolder)
	var q *question
	measure := widget.NewButton(lang.L("Measure"), func() {
		if len(p.photos) < leastBoardPhotos {
			p.w.say(phrase("Add {{.N}} photographs or more.", "N", leastBoardPhotos))
			return
		}
		q.close()
		p.run()
	})
	measure.Importance = widget.HighImportance
	top := container.NewVBox(paragraph(lang.L(boardAdvice)), container.NewGridWithColumns(2, add, folder))
	content := container.NewGridWrap(fyne.NewSize(540, 360), container.NewBorder(top, nil, nil, nil, container.NewVScroll(p.listing)))
	q = p.w.newQuestion(lang.L("Measure this camera"), content, measure)
	p.list()
}

// list shows the photographs so far.
func (p *cameraPanel) list() {
	p.listing.RemoveAll()
	for _, path := range p.photos {
		out := widget.NewButton(lang.L("Leave out"), func() {
			p.photos = slices.DeleteFunc(p.photos, func(s string) bool { return s == path })
			p.list()
		})
		name := widget.NewLabel(filepath.Base(path))
		name.Truncation = fyne.TextTruncateEllipsis
		p.listing.Add(container.NewBorder(nil, nil, nil, out, name))
	}
}

// add adds photographs that are not there yet.
func (p *cameraPanel) add(paths ...string) {
	for _, path := range paths {
		if !slices.Contains(p.photos, path) {
			p.photos = append(p.photos, path)
		}
	}
	p.list()
}

// addFolder adds the photographs of a folder.
func (p *cameraPanel) addFolder(folder string) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		p.w.say(phrase("Look into the folder: {{.Why}}", "Why", err.Error()))
		return
	}
	var paths []string
	for _, e := range entries {
		if !e.IsDir() && slices.Contains(photoEndings(), strings.ToLower(filepath.Ext(e.Name()))) {
			paths = append(paths, filepath.Join(folder, e.Name()))
		}
	}
	if len(paths) == 0 {
		p.w.say(phrase("There are no photographs in {{.Folder}}.", "Folder", filepath.Base(folder)))
	}
	p.add(paths...)
}

func (p *cameraPanel) choosePhoto() {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			p.w.say(plainly(err))
			return
		}
		if r == nil {
			return
		}
		path := r.URI().Path()
		r.Close()
		p.w.app.Preferences().SetString("folder", filepath.Dir(path))
		p.add(path)
	}, p.w.win)
	d.SetFilter(storage.NewExtensionFileFilter(photoEndings()))
	p.w.showChooser(d)
}

func (p *cameraPanel) chooseFolder() {
	d := dialog.NewFolderOpen(func(l fyne.ListableURI, err error) {
		if err != nil {
			p.w.say(plainly(err))
			return
		}
		if l != nil {
			p.w.app.Preferences().SetString("folder", l.Path())
			p.addFolder(l.Path())
		}
	}, p.w.win)
	p.w.showChooser(d)
}

// showChooser shows a dialog for files in the folder last used, nearly as large as the window.
func (w *Window) showChooser(d *dialog.FileDialog) {
	if l, err := storage.ListerForURI(storage.NewFileURI(w.folder())); err == nil {
		d.SetLocation(l)
	}
	s := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(s.Width*0.85, s.Height*0.85))
	before := w.win.Canvas().OnTypedKey()
	d.SetOnClosed(func() { w.win.Canvas().SetOnTypedKey(before) })
	w.win.Canvas().SetOnTypedKey(func(e *fyne.KeyEvent) {
		if e.Name == fyne.KeyEscape {
			d.Dismiss()
		}
	})
	d.Show()
}
