package buck

import "sync"

// drawn is what was found of a knife's way out.
type drawn struct {
	draw  *Draw
	ramps []*RampPiece
	err   error
}

// drawOnce computes the draw and its ramps when they are first asked for, whoever asks.
func (k *Knife) drawOnce() func() drawn {
	return sync.OnceValue(func() drawn {
		d := NewDraw(k)
		ramps, err := NewRamps(d)
		return drawn{draw: d, ramps: ramps, err: err}
	})
}

// Ramps are the knife's draw and the ramps that free it, as NewDraw and NewRamps give them, computed
// once for all who ask: they are not to be changed. Errors are Faults.
func (k *Knife) Ramps() (*Draw, []*RampPiece, error) {
	d := k.drawn()
	return d.draw, d.ramps, d.err
}
