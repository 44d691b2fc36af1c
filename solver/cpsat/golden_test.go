package cpsat

import (
	"encoding/hex"
	"reflect"
	"testing"
	"time"
)

// The wanted bytes below were made with the Python package ortools 9.15.6755:
// each message was written by field names in protocol buffers' text form,
// parsed into ortools.sat.cp_model_pb2 or sat_parameters_pb2, and written with
// SerializeToString(deterministic=True). So they check field numbers, types
// and packing independently of this package.

// goldenVars are variables a and b (0 or 1), x (-5..3 or 7..300), y (0..10).
const goldenVars = "12070a01611202000112070a01621202000112130a0178120efbffffffffffffffff010307ac0212070a01791202000a"

func TestModelBytes(t *testing.T) {
	type handles struct {
		a, b Bool
		x, y Int
	}
	for _, c := range []struct {
		name  string
		build func(m *Model, h handles)
		want  string
	}{
		{"variables", func(*Model, handles) {}, ""},
		{"or", func(m *Model, h handles) { m.Or(h.a, h.b.Not()) },
			"1a0f1a0d0a0bfeffffffffffffffff0100"},
		{"and", func(m *Model, h handles) { m.Implies(h.a, h.b.Not()).Named("so") },
			"1a150a02736f120100220c0a0afeffffffffffffffff01"},
		{"at most one", func(m *Model, h handles) { m.AtMostOne(h.b, h.a.Not()) },
			"1a10d2010d0a0bffffffffffffffffff0101"},
		{"exactly one", func(m *Model, h handles) { m.ExactlyOne(h.a).OnlyIf(h.b.Not()) },
			"1a12120afeffffffffffffffff01ea01030a0100"},
		// 3(1-a) + 2x - y in ..-1 or 9, so -3a + 2x - y in ..-4 or 6.
		{"linear", func(m *Model, h handles) {
			sum := Sum(Times(2, h.x), Times(3, h.a.Not())).AddTerm(-1, h.y)
			m.Linear(sum, Union(Range(9, 9), UpTo(-1))).Named("row").OnlyIf(h.b, h.a.Not())
		}, "1a480a03726f77120bffffffffffffffffff010162340a030002031215fdffffffffffffffff0102ffffffffffffffffff011a1680808080808080808001fcffffffffffffff" +
			"ff010606"},
		{"never", func(m *Model, h handles) { m.Linear(h.x, Range(1, 0)) },
			"1a0862060a0102120101"},
		{"interval", func(m *Model, h handles) { m.Interval("i", Sum(h.x, Const(-1)), Const(4), h.y) },
			"1a250a01699a011f22110a010212010118ffffffffffffffffff012a060a0103120101320218041a2c0a016962270a020203120b01ffffffffffffffffff011a14fdff" +
				"ffffffffffffff01fdffffffffffffffff01"},
		{"optional interval", func(m *Model, h handles) { m.OptionalInterval("i", Const(0), h.x, h.y, h.a.Not()) },
			"1a240a0169120affffffffffffffffff019a011222002a060a010312010132060a01021201011a230a0169120affffffffffffffffff0162120a01021201011a0a00ff" +
				"ffffffffffffff7f1a260a0169120affffffffffffffffff0162150a020203120b01ffffffffffffffffff011a020000"},
		{"no overlap", func(m *Model, h handles) {
			i, j := m.Task("i", h.x, 5), m.Task("j", h.y, 2)
			m.NoOverlap(j, i)
		}, "1a1c0a01699a011622060a01021201012a080a01021201011805320218051a1c0a016a9a011622060a01031201012a080a01031201011802320218021a07a201040a020001"},
		{"minimize", func(m *Model, h handles) { m.Minimize(Sum(Times(7, h.x), Times(2, h.a.Not()))) },
			"22230a02000211000000000000004019000000000000f03f220bfeffffffffffffffff0107"},
		{"hints", func(m *Model, h handles) {
			m.Hint(h.x, -5)
			m.Hint(h.b.Int(), 1)
			m.Hint(h.a.Int(), 0)
		}, "32130a03000102120c0001fbffffffffffffffff01"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := NewModel("")
			h := handles{a: m.NewBool("a"), b: m.NewBool("b")}
			h.x = m.NewInt("x", Union(Range(7, 300), Range(-5, 3)))
			h.y = m.NewInt("y", Range(0, 10))
			c.build(m, h)
			got, err := m.encode()
			if err != nil {
				t.Fatal(err)
			}
			if want := goldenVars + c.want; hex.EncodeToString(got) != want {
				t.Errorf("got  %x\nwant %s", got, want)
			}
		})
	}
}

func TestModelNameBytes(t *testing.T) {
	got, err := NewModel("all").encode()
	if want := "0a03616c6c"; err != nil || hex.EncodeToString(got) != want {
		t.Errorf("got %x, %v, want %s", got, err, want)
	}
}

func TestParamsBytes(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Params
		want string
	}{
		{"zero", Params{}, "f80100a102000000000000f07fc802009904000000000000f07f900500b00501b80500d00501900600b80800c00800d00801c809" +
			"0af9090000000000000000810a0000000000000000b80a00e80a01a00b00d00b00d80b00800c00c80c00f00c01"},
		{"all", Params{
			Workers: 4, Seed: -7, Work: 20, MaxTime: 1500 * time.Millisecond, FirstSolution: true,
			AbsoluteGap: 0.25, RelativeGap: 0.01, Relaxation: FullRelaxation,
			HintConflicts: 3, FixHint: true, Log: true,
		}, "f801f9ffffffffffffffff01a102000000000000f83fc8020199040000000000003440900500b00501b80500d00502900601b808" +
			"00c00800d00801c80903f909000000000000d03f810a7b14ae47e17a843fb80a00e80a01a00b00d00b00d80b01800c01c80c00f00c04"},
	} {
		if got := hex.EncodeToString(c.p.encode()); got != c.want {
			t.Errorf("%s:\ngot  %s\nwant %s", c.name, got, c.want)
		}
	}
}

// goldenAnswer also holds fields that are not read: 10 to 12, 15, 21 to 23 and 27.
const goldenAnswer = "0802120c03feffffffffffffffff010019000000000000f8bf2100000000000010c050095805600679000000000000d03f8901000000000000c03f" +
	"a20105666f756e64aa010412020001b1010000000000000440ba010bfdffffffffffffffff0101d201036c6f67da01030a0101"

func TestAnswerBytes(t *testing.T) {
	want := answer{
		status: Feasible, solution: []int64{3, -2, 0}, objective: -1.5, bound: -4,
		work: 0.125, info: "found", log: "log",
	}
	packed, err := hex.DecodeString(goldenAnswer)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := decode(packed); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v, %v\nwant %+v", got, err, want)
	}

	// A parser has to take lists packed, one number at a time, and mixed.
	for _, c := range []struct {
		hex  string
		want answer
	}{
		{"", answer{}},
		{"e801feffffffffffffffff01", answer{innerBound: -2}},
		{"1200", answer{}},
		{"100310feffffffffffffffff011000", answer{solution: []int64{3, -2, 0}}},
		{"1003120205061007", answer{solution: []int64{3, 5, 6, 7}}},
	} {
		raw, err := hex.DecodeString(c.hex)
		if err != nil {
			t.Fatal(c.hex, err)
		}
		if got, err := decode(raw); err != nil || !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: got %+v, %v, want %+v", c.hex, got, err, c.want)
		}
	}
}

func TestBrokenAnswer(t *testing.T) {
	for name, h := range map[string]string{
		"tag cut short":           "80",
		"field number 0":          "0000",
		"varint cut short":        "08ff",
		"varint too long":         "08ffffffffffffffffffff01",
		"double cut short":        "1900000000",
		"length past the end":     "1205010203",
		"packed varint cut short": "120180",
		"status as bytes":         "0a0101",
		"objective as varint":     "1801",
		"text as varint":          "a00101",
		"solution as double":      "110000000000000000",
		"unknown field cut short": "da010a00",
		"group never ended":       "f30100",
	} {
		raw, err := hex.DecodeString(h)
		if err != nil {
			t.Fatal(name, err)
		}
		if a, err := decode(raw); err == nil {
			t.Errorf("%s: no error, but %+v", name, a)
		}
	}
}

func FuzzDecode(f *testing.F) {
	raw, err := hex.DecodeString(goldenAnswer)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(raw)
	f.Add(raw[:len(raw)/2])
	f.Add([]byte("\x10\x03\x10\x05\x12\x02\x06\x07\xb8\x01\xfd\xff\xff\xff\x0f"))
	f.Add([]byte("\x08\x04\xf3\x01\x08\x01\xf4\x01"))
	m := NewModel("")
	x := m.NewInt("x", Range(0, 1))
	f.Fuzz(func(t *testing.T, raw []byte) {
		a, err := decode(raw)
		if err != nil {
			if !reflect.DeepEqual(a, answer{}) {
				t.Fatal("a broken answer was partly read")
			}
			return
		}
		// What passes the judge must be safe to ask.
		if m.judge(a, nil) != nil {
			return
		}
		r := Response{Status: a.status, model: m, values: a.solution}
		if s, ok := r.Solution(); ok {
			if v := s.Int(x); v != 0 && v != 1 {
				t.Fatalf("x is %d", v)
			}
		}
	})
}
