package planfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"

	"primaprova/io/disk"
	"primaprova/model"
)

// Write puts a plan in place of what path holds, wholly (see disk.Write). The
// same plan always gives the same bytes. A plan that Read would not take back is refused and nothing written.
func Write(path string, p *model.Plan) error {
	data, err := encode(p)
	if err != nil {
		return disk.Said(path, "this plan cannot be written: ", err)
	}
	if _, err := decode(path, data); err != nil {
		return fmt.Errorf("this plan could not be read back, so it is not written:\n%w", err)
	}
	if err := disk.Write(path, data, 0o644); err != nil {
		return disk.Said(path, "cannot be written: ", err)
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
