// Package outlining keeps what the builder says that the lines of a drawing are,
// until a hull can be made of them; every step of it can be undone.
package outlining
