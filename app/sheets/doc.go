// Package sheets draws what the builder carries to the bench: tick strips,
// the flat shapes of strakes, wedges, cards and tables, each once, at full size
// in mm. Renderers make paper, screens and cutting files of them.
//
//	k, err := loft.Plank(plan)
//	...
//	all, err := sheets.All(ctx, k, sheets.Usual(), nil)
//	for _, s := range all {
//		fmt.Println(s.Section, s.Title, s.Width, s.Height)
//	}
//
// A function for one kind of sheet gives as many as it takes; layers are
// counted from 1, as the builder counts them. Every function is pure: the same
// planking gives the same sheets.
package sheets
