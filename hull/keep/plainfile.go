package keep

import (
	"io"
	"io/fs"
	"os"
	"syscall"
	"unicode/utf8"

	"github.com/strakewright/strakewright/assets/tongue"
	"github.com/strakewright/strakewright/hull/fault"
)

// OpenPlain opens a regular file of at most limit bytes for reading. It refuses
// a folder, a pipe, a socket or a device before opening it, since opening or
// reading one may never end, and a file that is too large before reading any of
// it. The error is a Fault.
func OpenPlain(path string, limit int64) (*os.File, error) {
	if err := checkName(path); err != nil {
		return nil, err
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, openFault(path, err)
	}
	if err := checkPlain(path, info, limit); err != nil {
		return nil, err
	}
	// The file may have been replaced since, so the open is told not to wait, which
	// makes no difference to a regular file.
	file, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, openFault(path, err)
	}
	if info, err = file.Stat(); err != nil {
		err = openFault(path, err)
	} else {
		err = checkPlain(path, info, limit)
	}
	if err != nil {
		_ = file.Close() // nothing was read
		return nil, err
	}
	return file, nil
}

// ReadPlain reads the whole of a plain file of at most limit bytes, as OpenPlain
// opens it.
func ReadPlain(path string, limit int64) ([]byte, error) {
	file, err := OpenPlain(path, limit)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, limit+1)) // it may grow meanwhile
	switch {
	case err != nil:
		return nil, fault.OfFile(path, "cannot be read", "check the file and the disk it is on", err)
	case int64(len(data)) > limit:
		return nil, tooLarge(path, limit)
	}
	return data, nil
}

func openFault(path string, err error) fault.Fault {
	return fault.OfFile(path, "cannot be opened", "check that you may read it", err)
}

// checkPlain refuses what is not a regular file, or is too large.
func checkPlain(path string, info fs.FileInfo, limit int64) error {
	const copied = "name a plain file: copy the contents into one first"
	mode := info.Mode()
	switch {
	case mode.IsDir():
		return fault.Fault{File: path, What: tongue.T("it is a folder"), Mend: tongue.T("name a file in it")}
	case mode&fs.ModeNamedPipe != 0:
		return fault.Fault{File: path, What: tongue.T("it is a pipe, which may never end"), Mend: tongue.T(copied)}
	case mode&fs.ModeSocket != 0:
		return fault.Fault{File: path, What: tongue.T("it is a socket"), Mend: tongue.T("name a plain file")}
	case mode&fs.ModeDevice != 0:
		return fault.Fault{File: path, What: tongue.T("it is a device, which may never end"), Mend: tongue.T(copied)}
	case !mode.IsRegular():
		return fault.Fault{File: path, What: tongue.T("it is not a plain file"), Mend: tongue.T("name one")}
	case info.Size() > limit:
		return tooLarge(path, limit)
	}
	return nil
}

func tooLarge(path string, limit int64) fault.Fault {
	return fault.Fault{File: path, What: tongue.T("the file is larger than %d MB, the most that the program reads", limit>>20), Mend: tongue.T("check that it is the right file, and leave out what you do not need")}
}

// checkName refuses a path that no message, title or sheet could show as it is.
func checkName(path string) error {
	if utf8.ValidString(path) {
		return nil
	}
	return fault.Fault{File: path, What: tongue.T("the name is not UTF-8 text"), Mend: tongue.T("name the file and its folders with letters and figures")}
}

// Opened reads the file at a path; if it cannot be opened, that is a Fault.
func Opened[T any](path string, limit int64, read func(io.Reader) (*T, error)) (*T, error) {
	file, err := OpenPlain(path, limit)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return read(file)
}
