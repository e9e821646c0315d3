package drawing

// Stations are places along the hull: each in a list, or even ones; mm.
type Stations struct {
	From, Every float64 // where List is empty
	List        []float64
}
