package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// withoutEmoji has Fyne do without its font of coloured emoji. Fyne reads it anew
// beside each style of text, 4 MiB and some ms each time, and nothing here is
// written in it; an emoji in a plan's title is set in a font of the system's, if
// one has it, as any other character that Fyne's own fonts lack. Its build tag
// no_emoji does the same, but one would have to give it at every build.
func withoutEmoji() {
	if emoji, ok := theme.DefaultEmojiFont().(*fyne.StaticResource); ok && emoji != nil {
		emoji.StaticContent = theme.DefaultSymbolFont().Content()
	}
}
