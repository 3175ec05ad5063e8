package postgres

import (
	"context"
	"errors"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"rockledger/internal/fault"
)

// translate classifies an error of the database and says what was being done.
// An error that is classified already, and nil, are returned as they are.
func translate(err error, doing string) error {
	if err == nil {
		return nil
	}
	if _, ok := fault.As(err); ok {
		return err
	}
	if errors.Is(err, pgx.ErrNoRows) {
		return fault.New(fault.NotFound, "%s: there is no such thing in this group", doing)
	}
	var db *pgconn.PgError
	if errors.As(err, &db) {
		return translateState(db, doing)
	}
	if away(err) {
		return fault.Wrap(fault.Busy, err, "%s", doing)
	}
	return fault.Wrap(fault.Internal, err, "%s", doing)
}

// stateOf returns the SQLSTATE of an error of the database, "" for others.
func stateOf(err error) string {
	var db *pgconn.PgError
	if errors.As(err, &db) {
		return db.Code
	}
	return ""
}

// away says that the database could not be asked, or not in time.
func away(err error) bool {
	var connect *pgconn.ConnectError
	return errors.As(err, &connect) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded)
}

// SQLSTATEs, and classes of them, that are told apart.
//
// Source: PostgreSQL manual, appendix A.
const (
	uniqueViolation      = "23505"
	foreignKeyViolation  = "23503"
	checkViolation       = "23514"
	serializationFailure = "40001"
	undefinedTable       = "42P01"
	lockNotAvailable     = "55P03"
	dataException        = "22" // class
)

// busyStates are those after which the same may be tried again: connection
// exceptions, transaction rollbacks (deadlock), insufficient resources, locks
// not to be had, operator intervention (query cancelled, shutting down).
var busyStates = []string{"08", "40", "53", lockNotAvailable, "57"}

// translateState classifies by SQLSTATE; the field comes from the constraint's
// name.
func translateState(err *pgconn.PgError, doing string) error {
	switch {
	case err.Code == uniqueViolation:
		return duplicate(err, doing)
	case err.Code == foreignKeyViolation:
		return violation(err, doing, fault.NoSuchReference)
	case err.Code == checkViolation:
		return violation(err, doing, checkCode(err.ConstraintName))
	case strings.HasPrefix(err.Code, dataException):
		return fault.Wrap(fault.Invalid, err, "%s: a value the database cannot hold", doing).WithCode(fault.Malformed)
	case slices.ContainsFunc(busyStates, func(state string) bool { return strings.HasPrefix(err.Code, state) }):
		return fault.Wrap(fault.Busy, err, "%s", doing)
	}
	return fault.Wrap(fault.Internal, err, "%s", doing)
}

// duplicate tells an id used twice from a named rule of uniqueness.
func duplicate(err *pgconn.PgError, doing string) error {
	f := fault.Wrap(fault.Conflict, err, "%s: it is there already", doing)
	if strings.HasSuffix(err.ConstraintName, "_pkey") {
		return f
	}
	f = f.WithCode(fault.Duplicate)
	f.Violations = []fault.Violation{{Field: fieldOf(err), Code: fault.Duplicate}}
	return f
}

func violation(err *pgconn.PgError, doing string, code fault.Code) error {
	f := fault.Wrap(fault.Invalid, err, "%s: %s", doing, err.ConstraintName)
	f.Violations = []fault.Violation{{Field: fieldOf(err), Code: code}}
	return f
}

// fieldOf takes the field out of a constraint's name: table_field_rule.
func fieldOf(err *pgconn.PgError) string {
	field := strings.TrimPrefix(err.ConstraintName, err.TableName+"_")
	if i := strings.LastIndexByte(field, '_'); i >= 0 {
		field = field[:i]
	}
	return field
}

// checkCode takes the code from the last word of a CHECK's name; a test holds
// that every CHECK ends in one of them.
func checkCode(constraint string) fault.Code {
	return checkCodes[constraint[strings.LastIndexByte(constraint, '_')+1:]]
}

var checkCodes = map[string]fault.Code{
	"given":     fault.Blank,
	"listed":    fault.Unknown,
	"range":     fault.OutOfRange,
	"positive":  fault.NotPositive,
	"order":     fault.Order,
	"pair":      fault.Required,
	"misfit":    fault.Mismatch,
	"malformed": fault.Malformed,
}
