// Package keep keeps files safe: they are written whole or not at all, held while they are
// changed, and read only if reading them can end.
//
//	release, err := keep.HoldFile(ctx, path) // nobody else writes it meanwhile
//	defer release()
//	data, err := keep.ReadPlain(path, 1<<20) // no pipe, no device, not too large
//	err = keep.ReplaceFile(path, func(w io.Writer) error { _, err := w.Write(data); return err })
//
// What a run leaves beside a file carries its [Owner], so that the next run can distinguish
// leftovers from what is in use. The package knows nothing of ships.
package keep
