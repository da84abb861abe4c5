package folder

import (
	"fmt"

	"formbuck/cmd/internal/disk"
)

// Kind is what is wrong with a job folder. The list is closed.
type Kind int

// The kinds of fault.
const (
	Unwritable  Kind = iota // the system refused; Err says why
	NotFolder               // a file is where a folder is wanted
	Link                    // a link, which is not followed
	Root                    // the root of the file system cannot be exchanged
	ReadOnly                // no one may write to the folder
	InUse                   // another run is writing here
	Foreign                 // a file of this name was not written by the tool
	Changed                 // a file was changed since the tool wrote it
	Blocked                 // a folder has the name of a file to write
	BadName                 // a file's name leaves the folder, or comes twice
	BadManifest             // the manifest cannot be read
	Crowded                 // more foreign files than are carried over
	Interrupted             // the context was done before the exchange
	Mount                   // a file system is mounted here
	Stranded                // the earlier folder is aside in the workspace; the next run puts it back
	Within                  // the program was called from within the folder
	Strange                 // what has the workspace's name was not made by the tool here
	Leftover                // the new job is in place, what it replaced is not cleared away
)

// Fault is a job folder that cannot be written. Save for Leftover, the folder is as it was.
type Fault struct {
	Path string // of the folder or of the file in it, as the caller spelt the folder
	Kind Kind
	Err  error // the system's own words; may be nil
}

// Error is one line: the path and what is wrong with it.
func (f *Fault) Error() string { return fmt.Sprintf("%s: %s", f.Path, f.what()) }

// Unwrap gives the system's error.
func (f *Fault) Unwrap() error { return f.Err }

func (f *Fault) what() string {
	switch f.Kind {
	case NotFolder:
		return "is a file, and a folder is wanted here"
	case Link:
		return "is a link; give the folder that it leads to"
	case Within:
		return "you are in this folder, and it is exchanged as a whole; go to the folder above it and run again"
	case Strange:
		return "has the name of formbuck's workspace, but formbuck did not make it here; look into it and move it away"
	case Root:
		return "cannot be a job folder; give a folder inside it"
	case ReadOnly:
		return "the folder is read-only"
	case InUse:
		return "another run is writing here; try again when it is done"
	case Foreign:
		return "was not written by formbuck; move it away, or use --force to overwrite it"
	case Changed:
		return "was changed since formbuck wrote it; move it away, or use --force to overwrite it"
	case Blocked:
		return "is not a plain file, and a file of this name is to be written; move it away"
	case BadName:
		return "cannot be the name of a file in a job folder"
	case BadManifest:
		return fmt.Sprintf("cannot be read (%v); remove it, or use --force to write a new one", disk.Reason(f.Err))
	case Crowded:
		return fmt.Sprintf("holds more than %d other files; give a folder of its own", maxForeign)
	case Interrupted:
		return "interrupted; the folder is as it was"
	case Mount:
		return "a file system is mounted here, which cannot be exchanged; give a folder inside it"
	case Stranded:
		return fmt.Sprintf("could not be exchanged (%v); the earlier folder is kept aside, run again to put it back", f.Err)
	case Leftover:
		return fmt.Sprintf("the new job is in place, but clearing up after it went wrong: %v", f.Err)
	default:
		return fmt.Sprintf("cannot write here: %v", disk.Reason(f.Err))
	}
}
