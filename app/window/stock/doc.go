// Package stock is the panel for choosing and buying the wood: strips compared,
// mixed and cut from what there is, what soaking does to them, and how the seams
// of two layers lie.
package stock
