package httpapi_test

import (
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// sorted compares lists without regard to their order.
func sorted(less func(a, b string) bool) cmp.Option { return cmpopts.SortSlices(less) }
