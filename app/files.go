package app

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/storage"

	"spindlestick/app/job"
)

// maxFile bounds what is opened, bytes: a job of the largest photograph stays under it.
const maxFile = 768 << 20

func readFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", phrase("open {{.File}}", "File", filepath.Base(path)), err)
	}
	if info.IsDir() || info.Size() > maxFile {
		return nil, errorText(phrase("{{.File}} is a folder, or larger than any photograph or job.", "File", filepath.Base(path)))
	}
	return os.ReadFile(path)
}

// photoEndings are the files the open dialog shows.
func photoEndings() []string {
	return []string{".jpg", ".jpeg", ".png", ".tif", ".tiff", ".webp", ".heic", ".heif", ".JPG", ".JPEG", ".PNG", ".TIF", ".TIFF", ".HEIC", ".HEIF"}
}

// isPhoto tells a photograph from a job or a pattern.
func isPhoto(path string, data []byte) bool {
	ending := strings.ToLower(filepath.Ext(path))
	return !job.IsJob(data) && ending != ".json" && ending != job.Extension
}

func (w *Window) choosePhoto() { w.choose(photoEndings()) }

func (w *Window) chooseJob() { w.choose([]string{job.Extension, ".json"}) }

// choose asks for a file to open in place of what is on the bench.
func (w *Window) choose(endings []string) {
	w.chooseFile(endings, func(path string) { w.whenSafe(func() { w.open(path) }) })
}

// chooseFile asks for a file with one of the endings.
func (w *Window) chooseFile(endings []string, then func(path string)) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			w.say(plainly(err))
			return
		}
		if r == nil {
			return
		}
		path := r.URI().Path()
		r.Close()
		w.app.Preferences().SetString("folder", filepath.Dir(path))
		then(path)
	}, w.win)
	d.SetFilter(storage.NewExtensionFileFilter(endings))
	w.showChooser(d)
}

// folder is the one last used, or the user's own.
func (w *Window) folder() string {
	home, err := os.UserHomeDir()
	if err != nil {
		home = "."
	}
	return w.app.Preferences().StringWithFallback("folder", home)
}

func (w *Window) dropped(_ fyne.Position, items []fyne.URI) {
	if len(items) == 0 {
		return
	}
	w.whenSafe(func() { w.open(items[0].Path()) })
}

// save writes the job to its file, or asks for one.
func (w *Window) save() {
	if w.model.path == "" {
		w.saveAs()
		return
	}
	w.saveTo(w.model.path, nil)
}

func (w *Window) saveAs() {
	if !w.model.traced() && len(w.model.job.Photo) == 0 {
		w.say(lang.L("There is nothing to save yet."))
		return
	}
	w.askFile(lang.L("Save the job"), w.fileName(job.Extension), job.Extension, func(path string) { w.saveTo(path, nil) })
}

// saveTo writes beside the window; then is called once it is done.
func (w *Window) saveTo(path string, then func()) {
	j := w.model.job
	_, turn := w.busy.begin()
	w.busy.report(turn, lang.L("Saving"), 0.5)
	w.services.start(func() {
		err := job.Save(path, j)
		w.ended(turn, func() {
			if err != nil {
				w.say(plainly(err))
				return
			}
			w.model.saved(path)
			w.remember(path)
			w.say(phrase("Saved {{.File}}.", "File", filepath.Base(path)))
			if then != nil {
				then()
			}
		})
	})
}

// fileName suggests a name from the title.
func (w *Window) fileName(ending string) string {
	clean := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < 32 {
			return '-'
		}
		return r
	}, strings.TrimSpace(w.model.job.Title))
	if clean == "" {
		clean = lang.L("turning")
	}
	return clean + ending
}

// whenSafe runs f once unsaved work is saved or given up.
func (w *Window) whenSafe(f func()) {
	if !w.model.dirty() {
		f()
		return
	}
	w.askSave(f)
}

func (w *Window) closing() {
	w.rememberSize()
	w.whenSafe(func() {
		if w.keeper != nil {
			_ = w.keeper.keep.Clear() // what is left would only be offered again
		}
		w.win.Close()
	})
}

// openExample traces the photograph that comes with the program.
func (w *Window) openExample() {
	e := w.services.Example
	w.whenSafe(func() { w.trace(e.Photo, e.Name, e.Hints) })
}
