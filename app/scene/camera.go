package scene

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// Camera looks at the hull from around it, in parallel projection, so that
// distances along one direction keep their proportion as on a drawing.
type Camera struct {
	Target     mgl64.Vec3 // mm: the point in the middle of the view
	Yaw, Pitch float64    // rad: how far the eye has moved round the hull from square abeam (yaw 0, looking along +y), and above it
	Zoom       float64    // pixels per mm
	PanX, PanY float64    // pixels by which the target is shifted to the right and down
	Depth      float64    // mm: how far in front of and behind the target things are visible
	KeelUp     bool       // the hull lies keel upwards, as it is planked on the bench
}

// Facing gives a camera turned by yaw and pitch (rad) that looks at the middle
// of a scene; Fit sets its zoom.
func Facing(s *Scene, yaw, pitch float64) Camera {
	lo, hi := s.Bounds()
	return Camera{
		Target: lo.Add(hi).Mul(0.5), Yaw: yaw, Pitch: pitch, Zoom: 1,
		Depth: math.Max(hi.Sub(lo).Len(), 1),
	}
}

// Fit gives the camera zoomed so that a scene fills a view of w x h pixels
// except for a margin of a twentieth.
func (c Camera) Fit(s *Scene, w, h int) Camera {
	view := c.view()
	x0, x1, y0, y1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	s.each(func(p mgl64.Vec3) {
		q := mgl64.TransformCoordinate(p, view)
		x0, x1 = math.Min(x0, q.X()), math.Max(x1, q.X())
		y0, y1 = math.Min(y0, q.Y()), math.Max(y1, q.Y())
	})
	if x0 > x1 {
		return c
	}
	c.Zoom = 0.9 * math.Min(float64(w)/math.Max(x1-x0, 1e-9), float64(h)/math.Max(y1-y0, 1e-9))
	c.PanX, c.PanY = -c.Zoom*(x0+x1)/2, c.Zoom*(y0+y1)/2
	return c
}

// eye gives the unit vector from the target to the eye.
func (c Camera) eye() mgl64.Vec3 {
	sy, cy := math.Sincos(c.Yaw)
	sp, cp := math.Sincos(c.Pitch)
	return mgl64.Vec3{sy * cp, -cy * cp, sp}
}

// above gives the unit vector that points up on the screen while the eye is level.
func (c Camera) above() mgl64.Vec3 {
	if c.KeelUp {
		return mgl64.Vec3{0, 0, -1}
	}
	return mgl64.Vec3{0, 0, 1}
}

// view turns the hull's axes into the eye's: x right, y up, z towards the eye.
func (c Camera) view() mgl64.Mat4 {
	up := c.above()
	if math.Abs(c.Pitch) > math.Pi/2-1e-6 {
		up = mgl64.Vec3{-math.Sin(c.Yaw), math.Cos(c.Yaw), 0}.Mul(math.Copysign(1, c.Pitch) * up.Z())
	}
	return mgl64.LookAtV(c.Target.Add(c.eye().Mul(c.Depth)), c.Target, up)
}

// matrix turns mm into pixels of a view of w x h: x to the right, y downwards,
// and z the depth, 0 at the near plane and 1 at the far one.
func (c Camera) matrix(w, h int) mgl64.Mat4 {
	hw, hh := float64(w)/2, float64(h)/2
	zoom := math.Max(c.Zoom, 1e-9)
	ortho := mgl64.Ortho(-hw/zoom, hw/zoom, -hh/zoom, hh/zoom, 0, 2*c.Depth)
	port := mgl64.Translate3D(hw+c.PanX, hh+c.PanY, 0.5).Mul4(mgl64.Scale3D(hw, -hh, 0.5))
	return port.Mul4(ortho).Mul4(c.view())
}

// Turned gives the camera moved round by the given angles (rad), as seen on the
// screen; it stops straight above and straight below.
func (c Camera) Turned(yaw, pitch float64) Camera {
	if c.KeelUp {
		yaw, pitch = -yaw, -pitch
	}
	c.Yaw = math.Remainder(c.Yaw+yaw, 2*math.Pi)
	c.Pitch = math.Max(-math.Pi/2, math.Min(math.Pi/2, c.Pitch+pitch))
	return c
}

// Zoomed gives the camera zoomed by a factor about a pixel of a view of w x h,
// which stays in place.
func (c Camera) Zoomed(by, x, y float64, w, h int) Camera {
	dx, dy := x-float64(w)/2-c.PanX, y-float64(h)/2-c.PanY
	c.Zoom *= by
	c.PanX -= dx * (by - 1)
	c.PanY -= dy * (by - 1)
	return c
}

// At gives the pixel of a view of w x h at which a point lies, mm, visible or
// not.
func (c Camera) At(p mgl64.Vec3, w, h int) (x, y float64) {
	m := c.matrix(w, h)
	px, py, _ := project(&m, p)
	return float64(px), float64(py)
}

// Side is the side of the ship on which the eye is: 1 for positive y, or -1.
func (c Camera) Side() float64 {
	if math.Cos(c.Yaw) > 0 {
		return -1
	}
	return 1
}
