package buck

import "math"

func radians(deg float64) float64 { return deg * math.Pi / 180 }

func tanDeg(deg float64) float64 { return math.Tan(radians(deg)) }
