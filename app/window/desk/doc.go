// Package desk is what all parts of the main window share: the plan being worked
// on, what of it is chosen, the handle being dragged, and the plan's files.
//
// How it is split: AtHand is the session, the choice and the units, with all that
// can be read and told of them, and changes nothing; kit.Background, with
// kit.Notices, is the work under way and what the user is told; kit.Look is light
// or dark; Bench is what follows from the record of the bench. Desk ties them
// together: it makes changes, and has whoever shows the plan follow them.
package desk
