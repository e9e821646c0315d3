// Package welcome is what a newcomer meets: the page that the window opens with where
// no plan is given, a task of a minute on the demo plan, and a few hints beside the
// work. The page offers ways to begin and follows none of them itself.
//
//	page := welcome.NewPage(d, welcome.Ways{Demo: …, Open: …, Recent: …})
//	guide := welcome.NewGuide(d)
//	page.Show()        // in front of all else
//	guide.Begin()      // the demo's line is forced, and the card tells how to free it
//	guide.Hint()       // hints from now on, those that were closed left out
package welcome
