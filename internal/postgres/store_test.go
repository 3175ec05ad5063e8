package postgres_test

import (
	"rockledger/internal/app"
	"rockledger/internal/postgres"
)

// The use cases ask for exactly what the store offers; postgres itself does
// not know them.
var _ app.Store = (*postgres.Store)(nil)
