// Package kit holds widgets and habits that every window of the program shares and
// that know of no ship: numbers to type or step, forms that follow what they show,
// questions and notices, work that goes on in the background, drawings and tables
// on the screen, the theme.
//
// A window has Notices to tell its user something, and a Background, which has
// Notices within it, for what may take long:
//
//	b := kit.NewBackground(context.Background(), win)
//	b.Work("Reading…", func(ctx context.Context) error { return read(ctx) }, func() { b.Status("Read.") })
package kit
