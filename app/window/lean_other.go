//go:build !linux

package window

// handBackCompiler does nothing: only Linux has Mesa's own compiler of shaders.
func handBackCompiler() {}
