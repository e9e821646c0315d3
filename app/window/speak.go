package window

import (
	"fmt"
	"io/fs"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"github.com/strakewright/strakewright/assets/tongue"
)

// speak gives the toolkit the program's translations, so that both settle on one
// language. In English there is nothing to give.
func speak() error {
	if tongue.Language() == tongue.Languages()[0] {
		return nil
	}
	files := tongue.Files()
	names, err := fs.Glob(files, "*.json")
	if err != nil {
		return fmt.Errorf("translations: %w", err)
	}
	for _, name := range names {
		data, err := files.ReadFile(name)
		if err != nil {
			return fmt.Errorf("translations: %s: %w", name, err)
		}
		if err := lang.AddTranslations(fyne.NewStaticResource(name, data)); err != nil {
			return fmt.Errorf("translations: %s: %w", name, err)
		}
	}
	return nil
}
