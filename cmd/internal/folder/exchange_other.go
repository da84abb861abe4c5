//go:build !linux

package folder

import "errors"

// exchange is not to be had here; two renames stand in for it.
func exchange(_, _ string) error { return errors.ErrUnsupported }
