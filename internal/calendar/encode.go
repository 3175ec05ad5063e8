package calendar

import (
	"database/sql/driver"
	"encoding/json"
	"fmt"
	"time"
)

// MarshalJSON returns "2006-01-02" in quotes, null for "no date".
func (d Date) MarshalJSON() ([]byte, error) {
	if d == 0 {
		return []byte("null"), nil
	}
	return json.Marshal(d.String())
}

// UnmarshalJSON reads what MarshalJSON writes; its errors are those of
// ParseDate, or json's own for something that is no string.
func (d *Date) UnmarshalJSON(b []byte) error {
	if string(b) == "null" {
		*d = 0
		return nil
	}
	var s string
	if err := json.Unmarshal(b, &s); err != nil {
		return fmt.Errorf("read date: %w", err)
	}
	parsed, err := ParseDate(s)
	if err != nil {
		return err
	}
	*d = parsed
	return nil
}

// MarshalText returns "2006-01-02", nothing for "no date".
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText writes; its errors are those of
// ParseDate.
func (d *Date) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*d = 0
		return nil
	}
	parsed, err := ParseDate(string(b))
	if err != nil {
		return err
	}
	*d = parsed
	return nil
}

// Value returns midnight in UTC for a DATE column, nil (NULL) for "no date".
func (d Date) Value() (driver.Value, error) {
	if d == 0 {
		return nil, nil
	}
	return d.Time(), nil
}

// Scan reads a DATE column: NULL is "no date", of a time the day as it stands
// in its own zone, text as by ParseDate.
func (d *Date) Scan(src any) error {
	switch v := src.(type) {
	case nil:
		*d = 0
	case time.Time:
		*d = NewDate(v.Date())
	case string:
		return d.UnmarshalText([]byte(v))
	default:
		return fmt.Errorf("scan date: cannot read %T", src)
	}
	return nil
}
