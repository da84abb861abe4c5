package path

import "formbuck/buck/internal/formed"

// Map is a height, in mm, for every cell of a grid on the draw's axes.
type Map = formed.Map

// Grid is a field of square cells on the draw's axes.
type Grid = formed.Grid
