package exchange

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// CureRowForm is how one row of a cure table is written.
const CureRowForm = "5..9: 25 min, 2 h, wet 4 h"

var (
	cureTable = regexp.MustCompile(`^([+-]?\d{1,3}(?:[.,]\d{1,2})?)(?: ?(?:\.\.\.?|…|to) ?([+-]?\d{1,3}(?:[.,]\d{1,2})?))? ?(?:°? ?c)? ?: ?(.+)$`)
	cureTime  = regexp.MustCompile(`^(?:(\d{1,4}(?:[.,]\d{1,2})?) ?(?:h|hours?|hrs?))? ?(?:(\d{1,6}) ?(?:min|mins|minutes?))?$`)
	cureSigns = strings.NewReplacer("−", "-", "–", "-", "\u00a0", " ", "℃", "°c")
)

// ParseCureRows reads a sheet's cure table, one row a line: the rock
// temperatures in degC between which it holds (or the one for which it is
// printed), the working time, the cure time and, where printed, that in a wet
// hole: "5..9: 25 min, 2 h, wet 4 h". Times are minutes or hours, "80 min",
// "1.5 h", "1 h 20 min". Blank lines are left out; no line is no row.
//
// Whether the rows can be right together is for ProductVersion.Validate.
//
// Errors are Invalid, a violation of "cure_rows" for each line that cannot be
// read, with the values "line" (counted from 1), "text" and "wanted".
func ParseCureRows(text string) ([]registry.CureRow, error) {
	var c fault.Checks
	var rows []registry.CureRow
	for i, line := range strings.Split(text, "\n") {
		line = strings.Join(strings.Fields(line), " ")
		if line == "" {
			continue
		}
		row, ok := parseCureRow(line)
		c.Require(ok, "cure_rows", fault.Malformed, "line", strconv.Itoa(i+1), "text", line, "wanted", CureRowForm)
		rows = append(rows, row)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return rows, nil
}

func parseCureRow(line string) (row registry.CureRow, ok bool) {
	found := cureTable.FindStringSubmatch(strings.ToLower(cureSigns.Replace(line)))
	if found == nil {
		return row, false
	}
	row.FromC = rockDegrees(found[1])
	row.ToC = row.FromC
	if found[2] != "" {
		row.ToC = rockDegrees(found[2])
	}
	times := splitTimes(found[3])
	if len(times) < 2 || len(times) > 3 {
		return row, false
	}
	var work, cure bool
	row.WorkMinutes, work = minutes(times[0])
	row.CureMinutes, cure = minutes(times[1])
	if len(times) == 2 {
		return row, work && cure
	}
	wet, named := strings.CutPrefix(times[2], "wet ")
	m, known := minutes(wet)
	row.CureWetMinutes = &m
	return row, work && cure && named && known
}

// splitTimes takes the times apart at the commas between them, but not at a
// decimal comma.
func splitTimes(text string) []string {
	var times []string
	for _, part := range strings.Split(text, ", ") {
		times = append(times, strings.Trim(part, " ,"))
	}
	return times
}

// minutes reads "25 min", "2 h", "1.5 h" and "1 h 20 min" in minutes, rounded up
// to whole ones, so that a cure time never becomes shorter.
func minutes(text string) (int, bool) {
	found := cureTime.FindStringSubmatch(text)
	if found == nil || found[1] == "" && found[2] == "" {
		return 0, false
	}
	hours, _ := strconv.ParseFloat("0"+strings.Replace(found[1], ",", ".", 1), 64)
	rest, _ := strconv.Atoi("0" + found[2])
	whole := hours*60 + float64(rest)
	m := int(math.Ceil(whole - 1e-9))
	return m, m > 0 && m <= registry.MaxMinutes
}

func rockDegrees(text string) quantity.Temperature {
	v, _ := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	return quantity.Temperature(v)
}

// FormatCureRows writes rows as ParseCureRows reads them.
func FormatCureRows(rows []registry.CureRow) string {
	lines := make([]string, len(rows))
	for i, r := range rows {
		lines[i] = figure(r.FromC.Celsius()) + ".." + figure(r.ToC.Celsius()) + ": " +
			wording.SheetMinutes(r.WorkMinutes) + ", " + wording.SheetMinutes(r.CureMinutes)
		if r.CureWetMinutes != nil {
			lines[i] += ", wet " + wording.SheetMinutes(*r.CureWetMinutes)
		}
	}
	return strings.Join(lines, "\n")
}
