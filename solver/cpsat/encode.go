package cpsat

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"google.golang.org/protobuf/encoding/protowire"
)

// encode writes m as a CpModelProto. The bytes depend only on what was added
// in which order of variables and constraints, so the same program gives the
// same bytes and the engine, with the same seed, the same search.
func (m *Model) encode() ([]byte, error) {
	if m.err != nil {
		return nil, m.err
	}
	b := appendText(nil, 1, m.name)
	var part []byte // reused: a season has many small messages
	for _, v := range m.vars {
		part = appendText(part[:0], 1, v.name)
		part = appendPacked(part, 2, v.domain.flat())
		b = appendMessage(b, 2, part)
	}
	for _, c := range m.constraints {
		part = appendText(part[:0], 1, c.name)
		part = appendPacked(part, 2, c.when)
		part = appendMessage(part, protowire.Number(c.kind), c.body)
		b = appendMessage(b, 3, part)
	}
	if o := m.objective; o != nil {
		vars, coefs := split(o.terms)
		part = appendPacked(part[:0], 1, vars)
		if o.offset != 0 {
			part = appendDouble(part, 2, o.offset)
		}
		part = appendDouble(part, 3, o.factor())
		part = appendPacked(part, 4, coefs)
		b = appendMessage(b, 4, part)
	}
	if len(m.hints) > 0 {
		vars := slices.Sorted(maps.Keys(m.hints))
		values := make([]int64, len(vars))
		for i, v := range vars {
			values[i] = m.hints[v]
		}
		part = appendPacked(part[:0], 1, vars)
		part = appendPacked(part, 2, values)
		b = appendMessage(b, 6, part)
	}
	// The C interface counts bytes in 32 bits.
	if len(b) > math.MaxInt32 {
		return nil, fmt.Errorf("cpsat: the model takes %d bytes, and %d are the most", len(b), math.MaxInt32)
	}
	return b, nil
}

// linearBody is a LinearConstraintProto.
func linearBody(terms []term, in Domain) []byte {
	vars, coefs := split(terms)
	b := appendPacked(nil, 1, vars)
	b = appendPacked(b, 2, coefs)
	return appendPacked(b, 3, in.flat())
}

// appendLinear appends a LinearExpressionProto. It is written even if empty:
// a start of 0 is not the same as no start.
func appendLinear(b []byte, field protowire.Number, e linear) []byte {
	vars, coefs := split(e.terms)
	part := appendPacked(nil, 1, vars)
	part = appendPacked(part, 2, coefs)
	if e.constant != 0 {
		part = protowire.AppendTag(part, 3, protowire.VarintType)
		part = protowire.AppendVarint(part, uint64(e.constant))
	}
	return appendMessage(b, field, part)
}

func split(terms []term) (vars []int32, coefs []int64) {
	for _, t := range terms {
		vars = append(vars, t.v)
		coefs = append(coefs, t.coef)
	}
	return vars, coefs
}

func appendMessage(b []byte, field protowire.Number, message []byte) []byte {
	b = protowire.AppendTag(b, field, protowire.BytesType)
	return protowire.AppendBytes(b, message)
}

func appendText(b []byte, field protowire.Number, text string) []byte {
	if text == "" {
		return b
	}
	b = protowire.AppendTag(b, field, protowire.BytesType)
	return protowire.AppendString(b, text)
}

func appendDouble(b []byte, field protowire.Number, x float64) []byte {
	b = protowire.AppendTag(b, field, protowire.Fixed64Type)
	return protowire.AppendFixed64(b, math.Float64bits(x))
}

// appendPacked appends a repeated int32 or int64. Negative ones take ten bytes
// of either type: they are widened with their sign.
func appendPacked[T int32 | int64](b []byte, field protowire.Number, values []T) []byte {
	if len(values) == 0 {
		return b
	}
	size := 0
	for _, v := range values {
		size += protowire.SizeVarint(uint64(int64(v)))
	}
	b = protowire.AppendTag(b, field, protowire.BytesType)
	b = protowire.AppendVarint(b, uint64(size))
	for _, v := range values {
		b = protowire.AppendVarint(b, uint64(int64(v)))
	}
	return b
}
