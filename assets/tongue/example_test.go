package tongue_test

import (
	"errors"
	"fmt"
	"time"

	"github.com/strakewright/strakewright/assets/tongue"
)

func Example() {
	if err := tongue.Use("de_AT.UTF-8", "en"); err != nil {
		fmt.Println(err)
	}
	defer func() { _ = tongue.Use() }() // English again
	day := time.Date(2026, time.March, 4, 15, 6, 7, 0, time.UTC)

	fmt.Println(tongue.Language(), tongue.Languages())
	fmt.Println(tongue.Figure("4.5"), tongue.Date(day), tongue.Moment(day))
	// Output:
	// de [en de]
	// 4,5 04.03.2026 04.03.2026, 15:06:07
}

func ExampleCount() {
	for _, n := range []int{1, 2} {
		fmt.Println(tongue.Count(n, "%d strake", "%d strakes", n))
	}
	// Output:
	// 1 strake
	// 2 strakes
}

func ExampleMark() {
	views := []string{tongue.Mark("bow"), tongue.Mark("stern")} // before the language is known
	fmt.Println(tongue.T(views[0]), tongue.In("part of a ship", "stem"), tongue.Key("part of a ship", "stem"))
	// Output: bow stem [part of a ship] stem
}

func ExampleErrorf() {
	none := tongue.New("there is no rabbet")
	err := tongue.Errorf("frame %s: %w", "L", none)
	fmt.Println(err, errors.Is(err, none))
	// Output: frame L: there is no rabbet true
}
