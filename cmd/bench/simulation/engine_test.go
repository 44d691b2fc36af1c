package simulation

import (
	"context"
	"testing"

	"primaprova/solver/highs"
	"primaprova/solver/ortools"
)

func engine(t *testing.T) *highs.Library {
	t.Helper()
	path, err := ortools.Locate(context.Background(), ortools.HiGHS, "")
	if err != nil {
		t.Fatal(err)
	}
	l, err := highs.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return l
}
