package profile

import (
	"errors"

	"formbuck/profile/dxf"
)

// errNotYet is returned until reading is in place.
var errNotYet = errors.New("reading a drawing is not in place yet")

// Read joins the drawing's entities into loops and gives each a role.
func Read(_ *dxf.Drawing, _ Options) (*Profile, error) { return nil, errNotYet }

// Plan turns the profile into the blade frame.
func (p *Profile) Plan(_ Hints) (*Plan, error) { return nil, errNotYet }
