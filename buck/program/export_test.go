package program

// Gap lets the tests measure two segments.
var Gap = gap
