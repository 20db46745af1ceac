package circuit

import (
	"fmt"
	"os"
	"path/filepath"
)

// Save writes a file so that at no moment, not even at a power cut, there is half a file: beside it under another name,
// down to the disk, then renamed over it. A link is followed, and the file's permissions are kept.
func Save(path string, text []byte) (err error) {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	mode := os.FileMode(0o644)
	if info, err := os.Stat(path); err == nil {
		if !info.Mode().IsRegular() {
			return fmt.Errorf("saving %s: it is not a file", path)
		}
		mode = info.Mode().Perm()
	}
	folder := filepath.Dir(path)
	temp, err := os.CreateTemp(folder, "."+filepath.Base(path)+".*.tmp")
	if err != nil {
		return fmt.Errorf("saving %s: %w", path, err)
	}
	defer func() {
		if err != nil {
			os.Remove(temp.Name())
			err = fmt.Errorf("saving %s: %w", path, err)
		}
	}()
	_, err = temp.Write(text)
	if err == nil {
		err = temp.Chmod(mode)
	}
	if err == nil {
		err = temp.Sync()
	}
	if closing := temp.Close(); err == nil {
		err = closing
	}
	if err == nil {
		err = os.Rename(temp.Name(), path)
	}
	if err != nil {
		return err
	}
	// The new name is in the folder, which must reach the disk as well; not every system can do that, so no failure here.
	if dir, e := os.Open(folder); e == nil {
		_ = dir.Sync()
		_ = dir.Close()
	}
	return nil
}
