package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"golang.org/x/sys/windows"
)

// lock makes the workspace and opens the lock in it for itself alone. The system closes and removes
// that file when the program ends, however it ends.
func (j *Job) lock() error {
	err := j.sys.Mkdir(j.work, 0o700)
	if err != nil && !errors.Is(err, fs.ErrExist) {
		return j.fault(Unwritable, err)
	}
	f, err := j.at.Folder(j.work)
	if err != nil {
		return j.fault(Unwritable, err)
	}
	if err := j.claim(f); err != nil {
		return errors.Join(err, f.Close())
	}
	full, err := filepath.Abs(filepath.Join(filepath.Dir(j.path), filepath.Base(j.work), lockName))
	if err != nil {
		return j.fault(Unwritable, errors.Join(err, f.Close()))
	}
	name, err := windows.UTF16PtrFromString(full)
	if err != nil {
		return j.fault(Unwritable, errors.Join(err, f.Close()))
	}
	const alone = 0 // no other run may open it meanwhile
	held, err := windows.CreateFile(name, windows.GENERIC_READ|windows.DELETE, alone, nil, windows.OPEN_ALWAYS,
		windows.FILE_ATTRIBUTE_HIDDEN|windows.FILE_FLAG_DELETE_ON_CLOSE, 0)
	if err != nil {
		kind := Unwritable
		if errors.Is(err, windows.ERROR_SHARING_VIOLATION) {
			kind = InUse
		}
		return j.fault(kind, errors.Join(err, f.Close()))
	}
	if err := f.Close(); err != nil {
		return j.fault(Unwritable, errors.Join(err, windows.CloseHandle(held)))
	}
	j.release = func() error {
		if j.stranded() {
			return windows.CloseHandle(held)
		}
		err := errors.Join(j.empty(), windows.CloseHandle(held))
		_ = j.sys.RemoveAll(j.work) // another run may hold it by now
		return err
	}
	return nil
}

// identity is the number that the file system gave an open folder.
func identity(f *os.File) (string, error) {
	var info windows.ByHandleFileInformation
	if err := windows.GetFileInformationByHandle(windows.Handle(f.Fd()), &info); err != nil {
		return "", err
	}
	return fmt.Sprintf("%x-%x", info.FileIndexHigh, info.FileIndexLow), nil
}

// private has nothing to add here: who may use a folder does not stand in its mode.
func private(fs.FileInfo) bool { return true }
