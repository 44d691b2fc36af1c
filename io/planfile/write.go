package planfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"syscall"

	"github.com/google/renameio/v2"

	"primaprova/model"
)

// Write puts a plan in place of what path holds: a new file in the same folder,
// synced, renamed, and the folder synced, so that at any moment the file is
// wholly the old plan or wholly the new one. A link is followed; the
// permissions of an earlier file stay. The same plan always gives the same
// bytes. A plan that Read would not take back is refused and nothing written.
func Write(path string, p *model.Plan) error {
	data, err := encode(p)
	if err != nil {
		return &fileError{path, "this plan cannot be written: " + err.Error(), err}
	}
	if _, err := decode(path, data); err != nil {
		return fmt.Errorf("this plan could not be read back, so it is not written:\n%w", err)
	}
	if err := replace(path, data); err != nil {
		return &fileError{path, "cannot be written: " + cause(err).Error(), err}
	}
	return nil
}

func replace(path string, data []byte) error {
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		// A rename would put a file in place of a device or a pipe.
		return errors.New("is not a regular file")
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	dir := filepath.Dir(path)
	// Left to itself the library may put the new file into the folder for
	// temporary files; beside the old one is where there is certainly a right to.
	if err := renameio.WriteFile(path, data, 0o644, renameio.WithTempDir(dir)); err != nil {
		return err
	}
	return syncDir(dir)
}

// syncDir makes the rename itself last. File systems that cannot do it say
// EINVAL or ENOTSUP; there is nothing more to be done on them.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, syscall.ENOTSUP) {
		return err
	}
	return nil
}

// encode writes the keys in the order of model.Plan, one a line, and each list
// with one entry a line.
func encode(p *model.Plan) ([]byte, error) {
	q := *p
	if q.Format == "" {
		q.Format = model.PlanFormat
	}
	v := reflect.ValueOf(q)
	var b bytes.Buffer
	b.WriteString("{")
	comma := ""
	for i := range v.NumField() {
		name, options, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		if options == "omitempty" && empty(v.Field(i)) {
			continue
		}
		fmt.Fprintf(&b, "%s\n  %q: ", comma, name)
		comma = ","
		if err := encodeField(&b, v.Field(i)); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	b.WriteString("\n}\n")
	return b.Bytes(), nil
}

func empty(v reflect.Value) bool {
	return v.IsZero() || v.Kind() == reflect.Slice && v.Len() == 0
}

func encodeField(b *bytes.Buffer, v reflect.Value) error {
	if v.Kind() != reflect.Slice {
		return encodeValue(b, v.Interface())
	}
	b.WriteString("[")
	for i := range v.Len() {
		if i > 0 {
			b.WriteString(",")
		}
		b.WriteString("\n    ")
		if err := encodeValue(b, v.Index(i).Interface()); err != nil {
			return err
		}
	}
	if v.Len() > 0 {
		b.WriteString("\n  ")
	}
	b.WriteString("]")
	return nil
}

func encodeValue(b *bytes.Buffer, v any) error {
	if p, ok := v.(model.Provenance); ok && p.Wishes == nil {
		p.Wishes = []model.WishValue{}
		v = p
	}
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false) // names are not web pages
	if err := e.Encode(v); err != nil {
		return err
	}
	b.Truncate(b.Len() - 1) // its newline
	return nil
}
