package variant

import "math/big"

// row is a key together with where its value goes.
type row struct {
	Key
	// into is the address of the field that takes the value: *float64, **float64, *int, *string,
	// *measures.Grind, *measures.Carry, *measures.Split or *[]measures.Hand.
	into func(*Variant) any
	// reckon is the value of a key that is not set, from those of earlier rows; nil: Default. It
	// yields nil where a value that it needs is at fault.
	reckon func(numbers) *big.Rat
	// choose is the value of a key that is not set, as TOML, from the words of earlier rows; "": Default.
	choose func(words map[string]string) string
	// usable says what is wrong with a text, or "".
	usable func(string) string
}

// numbers are the lengths, angles and counts known so far, by path. A value at fault is absent.
type numbers map[string]*big.Rat

// times is the factor a/b of the value at the path, or nil.
func (n numbers) times(a, b int64, path string) *big.Rat {
	value := n[path]
	if value == nil {
		return nil
	}
	return new(big.Rat).Mul(value, big.NewRat(a, b))
}

// atMost is the smaller of the limit a/b and the value; nil stays nil.
func atMost(a, b int64, value *big.Rat) *big.Rat {
	if limit := big.NewRat(a, b); value != nil && value.Cmp(limit) > 0 {
		return limit
	}
	return value
}

// The sources that many defaults share. "Common practice" means that no publication is known.
const (
	practice = "common practice, no source"
	measured = "common practice, no source; measure your own"
	given    = "" // for keys whose default is nothing, or another key's value
)

// rows is the list that decoding, checking, the starter file and the documentation follow.
func rows() []row {
	var all []row
	for _, table := range [][]row{
		topRows(), drawingRows(), layerRows(),
		bladeRows(), handleRows(), guardRows(), throatRows(),
		sheetRows(), shrinkRows(), tapeRows(),
		plateRows(), clipRows(), screwRows(), holeRows(), eyeletRows(),
		standoffRows(), rampRows(), drainRows(), nubRows(), locatorRows(), wholeRows(), layoutRows(), millRows(), fixtureRows(),
	} {
		all = append(all, table...)
	}
	return all
}

// wordsOf is what an error says, "" for none.
func wordsOf(err error) string {
	if err != nil {
		return err.Error()
	}
	return ""
}
