package measures

import "math"

// Radians is an angle in radians.
func Radians(deg float64) float64 { return deg * math.Pi / 180 }

// TanDeg is the tangent of an angle in degrees.
func TanDeg(deg float64) float64 { return math.Tan(Radians(deg)) }
