package tongue

import (
	"fmt"
	"io/fs"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// speak has texts said in a language of the test's own.
func speak(t *testing.T, texts map[string]string) {
	t.Helper()
	spoken.Store(&language{name: "de", texts: texts, decimal: ",", date: "02.01.2006", dateTime: "02.01.2006, 15:04:05"})
	t.Cleanup(func() { spoken.Store(nil) })
}

func TestEnglishIsAsItStandsInTheCode(t *testing.T) {
	assert.Equal(t, "100 %", T("100 %"), "no format without arguments")
	assert.Equal(t, "4.50 mm at L", T("%.2f mm at %s", 4.5, "L"))
	assert.Equal(t, "strip", In("wood", "strip"))
	assert.Equal(t, "1 strake", Count(1, "%d strake", "%d strakes", 1))
	assert.Equal(t, "0 strakes", Count(0, "%d strake", "%d strakes", 0))
	assert.Equal(t, "4.5", Figure("4.5"))
	assert.Equal(t, english, Language())
}

func TestTextsAreTranslatedWithTheirFigures(t *testing.T) {
	speak(t, map[string]string{
		"%.2f mm at %s": "bei %[2]s %.2[1]f mm",
		"[wood] strip":  "Leiste",
		"strip":         "abziehen",
		"%d strakes":    "%d Gänge",
	})
	assert.Equal(t, "bei L.1 4,50 mm", T("%.2f mm at %s", 4.5, "L.1"), "names keep their points")
	assert.Equal(t, "Leiste", In("wood", "strip"))
	assert.Equal(t, "abziehen", T("strip"))
	assert.Equal(t, "3 Gänge", Count(3, "%d strake", "%d strakes", 3))
	assert.Equal(t, "unknown,  1,5", T("unknown, %4.1f", 1.5), "what is not translated is English")
	assert.Equal(t, "4,5", Figure("4.5"))
	at := time.Date(2026, time.March, 4, 5, 6, 7, 0, time.UTC)
	assert.Equal(t, "04.03.2026", Date(at))
	assert.Equal(t, "04.03.2026, 05:06:07", Moment(at))
}

func TestErrorsAreSaidWhenTheyAreRead(t *testing.T) {
	inner := New("there is no rabbet")
	outer := Errorf("frame %s, %.1f mm: %w", "L", 1.5, inner)
	wrapped := fmt.Errorf("reading: %w", outer)
	assert.Equal(t, "reading: frame L, 1.5 mm: there is no rabbet", wrapped.Error())
	require.ErrorIs(t, wrapped, inner)
	require.ErrorIs(t, Errorf("%s: %w", "hull.csv", fs.ErrNotExist), fs.ErrNotExist)
	assert.NotErrorIs(t, Errorf("%s: %v", "hull.csv", fs.ErrNotExist), fs.ErrNotExist)
	var e *told
	assert.ErrorAs(t, wrapped, &e)

	speak(t, map[string]string{"there is no rabbet": "die Sponung fehlt", "frame %s, %.1f mm: %w": "Spant %s, %.1f mm: %w"})
	assert.Equal(t, "Spant L, 1,5 mm: die Sponung fehlt", outer.Error())
}

func TestTheLanguageIsTheFirstThatThereIs(t *testing.T) {
	t.Cleanup(func() { spoken.Store(nil) })
	for _, c := range []struct {
		asked []string
		want  string
	}{
		{nil, "en"},
		{[]string{"C"}, "en"},
		{[]string{"de"}, "de"},
		{[]string{"de_AT.UTF-8"}, "de"},
		{[]string{"de-CH"}, "de"},
		{[]string{"tr_TR", "de_DE@euro"}, "de"},
		{[]string{"en_GB", "de_DE"}, "en"},
		{[]string{"tr_TR"}, "en"},
	} {
		require.NoError(t, Use(c.asked...))
		assert.Equal(t, c.want, Language(), c.asked)
	}
}

func TestEveryFileOfTranslationsCanBeRead(t *testing.T) {
	for _, l := range Languages()[1:] {
		_, err := textsOf(l)
		require.NoError(t, err, l)
	}
}

func TestDaysAreWrittenAsTheLanguageDoes(t *testing.T) {
	t.Cleanup(func() { require.NoError(t, Use()) })
	days := []string{"2026-03-01", "2026-03-01T19:30", "2026-03-01T19:30:05", "2026-03-01T19:30:05Z", "soon"}
	for language, want := range map[string][]string{
		"en": days,
		"de": {"01.03.2026", "01.03.2026, 19:30", "01.03.2026, 19:30:05", "01.03.2026, 19:30:05 Z", "soon"},
	} {
		require.NoError(t, Use(language))
		for i, day := range days {
			assert.Equal(t, want[i], Day(day))
			assert.Equal(t, day, ReadDay(want[i]))
			assert.Equal(t, day, ReadDay(day), "as plans write it")
		}
	}
}
