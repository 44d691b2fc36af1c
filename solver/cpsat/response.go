package cpsat

import (
	"fmt"
	"math"

	"google.golang.org/protobuf/encoding/protowire"
)

// Response is the answer to one solve.
type Response struct {
	Status Status
	// Stopped reports that the context ended the search before its time.
	Stopped bool

	// Work is the engine's count of work done by all workers, in the unit of
	// Params.Work.
	Work float64
	// Log is the engine's log, if Params asked for it.
	Log string

	model  *Model
	values []int64
	// objective is the one solved for, nil if none; bound is what its terms
	// cannot sum to less than, if known.
	objective *objective
	bound     int64
	bounded   bool
}

// Solution returns the values found. ok is false if there are none.
func (r Response) Solution() (s Solution, ok bool) {
	return Solution{r.model, r.values}, r.Status.HasSolution()
}

// Objective returns the value of the objective at the solution, exactly. ok
// is false if there is no solution, or no objective.
func (r Response) Objective() (value float64, ok bool) {
	if r.objective == nil || !r.Status.HasSolution() {
		return 0, false
	}
	return r.objective.shown(r.objective.inner(r.values)), true
}

// Bound returns what no solution can be less than. ok is false if none is known,
// or there is no objective.
func (r Response) Bound() (value float64, ok bool) {
	if !r.bounded {
		return 0, false
	}
	return r.objective.shown(r.bound), true
}

// Solution is a value for each variable of a model.
type Solution struct {
	m      *Model
	values []int64
}

// Int returns the value of x. It panics if x is not of the model solved.
func (s Solution) Int(x Int) int64 {
	if s.m == nil || x.m != s.m || int(x.index) >= len(s.values) {
		panic(fmt.Sprintf("cpsat: variable %v is not in this solution", x))
	}
	return s.values[x.index]
}

// Bool reports whether b is true. It panics if b is not of the model solved.
func (s Solution) Bool(b Bool) bool {
	return (s.Int(b.Int()) != 0) != b.Negated()
}

// Point returns the values of all variables as the program of FromMIP has
// them, ready for its own checks.
func (s Solution) Point() []float64 {
	x := make([]float64, len(s.values))
	for i, v := range s.values {
		x[i] = float64(v)
	}
	return x
}

// answer is a CpSolverResponse as far as it is read.
type answer struct {
	status           Status
	solution         []int64
	objective, bound float64 // as shown by the engine
	innerBound       int64   // what the objective's terms cannot sum to less than
	work             float64
	info, log        string
}

// decode reads a CpSolverResponse. Fields that are absent are zero, unknown
// ones are skipped, and repeated numbers may come packed or one by one. Any
// input gives an answer or an error.
func decode(b []byte) (answer, error) {
	var a answer
	for len(b) > 0 {
		field, wire, n := protowire.ConsumeTag(b)
		if n < 0 {
			return answer{}, broken(protowire.ParseError(n))
		}
		b = b[n:]
		var err error
		switch field {
		case 1:
			var v int64
			v, n, err = consumeInt(b, wire)
			a.status = Status(v)
		case 2:
			a.solution, n, err = consumeInts(a.solution, b, wire)
		case 3:
			a.objective, n, err = consumeDouble(b, wire)
		case 4:
			a.bound, n, err = consumeDouble(b, wire)
		case 17:
			a.work, n, err = consumeDouble(b, wire)
		case 20:
			a.info, n, err = consumeText(b, wire)
		case 26:
			a.log, n, err = consumeText(b, wire)
		case 29:
			a.innerBound, n, err = consumeInt(b, wire)
		default:
			n = protowire.ConsumeFieldValue(field, wire, b)
			err = parseError(n)
		}
		if err != nil {
			return answer{}, broken(fmt.Errorf("field %d: %w", field, err))
		}
		b = b[n:]
	}
	return a, nil
}

func broken(err error) error { return fmt.Errorf("cpsat: the engine's answer cannot be read: %w", err) }

func parseError(n int) error {
	if n < 0 {
		return protowire.ParseError(n)
	}
	return nil
}

func wantWire(got, want protowire.Type) error {
	if got != want {
		return fmt.Errorf("wire type %d where %d belongs", got, want)
	}
	return nil
}

func consumeInt(b []byte, wire protowire.Type) (int64, int, error) {
	if err := wantWire(wire, protowire.VarintType); err != nil {
		return 0, 0, err
	}
	v, n := protowire.ConsumeVarint(b)
	return int64(v), n, parseError(n)
}

// consumeInts reads one number, or a packed run of them. An int32 keeps its
// lowest 32 bits, as protocol buffers have it.
func consumeInts[T int32 | int64](to []T, b []byte, wire protowire.Type) ([]T, int, error) {
	if wire == protowire.VarintType {
		v, n := protowire.ConsumeVarint(b)
		return append(to, T(v)), n, parseError(n)
	}
	if err := wantWire(wire, protowire.BytesType); err != nil {
		return nil, 0, err
	}
	packed, n := protowire.ConsumeBytes(b)
	if n < 0 {
		return nil, 0, protowire.ParseError(n)
	}
	for len(packed) > 0 {
		v, n := protowire.ConsumeVarint(packed)
		if n < 0 {
			return nil, 0, protowire.ParseError(n)
		}
		to = append(to, T(v))
		packed = packed[n:]
	}
	return to, n, nil
}

func consumeDouble(b []byte, wire protowire.Type) (float64, int, error) {
	if err := wantWire(wire, protowire.Fixed64Type); err != nil {
		return 0, 0, err
	}
	v, n := protowire.ConsumeFixed64(b)
	return math.Float64frombits(v), n, parseError(n)
}

func consumeText(b []byte, wire protowire.Type) (string, int, error) {
	if err := wantWire(wire, protowire.BytesType); err != nil {
		return "", 0, err
	}
	v, n := protowire.ConsumeString(b)
	return v, n, parseError(n)
}

// Status is what a solve found out about its model. That the engine refused
// the model is not a Status but an error.
type Status int32

// The numbers are those of CpSolverStatus.
const (
	// Unknown: a limit or a stop came before anything was found.
	Unknown Status = 0
	// Feasible: there is a solution, not proven best.
	Feasible Status = 2
	// Infeasible: proven to have no solution.
	Infeasible Status = 3
	// Optimal: the solution is the best, or within the gap that Params allow, or
	// there is no objective.
	Optimal Status = 4

	invalid Status = 1
)

var statusText = map[Status]string{
	Unknown: "unknown", invalid: "model invalid", Feasible: "feasible",
	Infeasible: "infeasible", Optimal: "optimal",
}

// String is the status in lower case.
func (s Status) String() string {
	if text, ok := statusText[s]; ok {
		return text
	}
	return fmt.Sprintf("status %d", int32(s))
}

// HasSolution reports whether a solution comes with this status.
func (s Status) HasSolution() bool { return s == Feasible || s == Optimal }
