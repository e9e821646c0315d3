// Package trial does to the program what a hostile world does: it kills it at
// random moments, fills the disk, takes permissions away, changes files under it,
// opens one plan several times, gives it strange names, homes and locales, and
// spoilt files of every format it reads. Each attempt is made in a folder of its own
// and by a seed, so that it can be made again alone.
//
//	results, err := trial.Run(ctx, trial.Settings{Program: "./strakewright", Root: ".", Seed: 1, Tell: print})
//	fmt.Print(trial.Table(results))
//
// It imports the standard library alone, and knows the program from outside: by its
// commands, its files and its window. What it finds is mended and kept as a test of
// its own. Trials are made on Linux.
package trial
