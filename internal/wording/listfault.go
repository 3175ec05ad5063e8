package wording

import (
	"fmt"
	"strings"
)

// listFaults say why a list or its mapping cannot be read, and what to do.
var listFaults = map[string]string{
	"empty":             "the file is empty: send a list with its headings and one row per anchor",
	"too-long":          "the file is longer than %[1]s: cut the list into parts and send them one by one",
	"too-many-rows":     "the file has far more lines than a list may have, which is 250,000 rows: take out blank ones, or cut the list into parts and send them one by one",
	"too-wide":          "the file has a line with a thousand cells or more: save the list as CSV with one anchor per line",
	"spreadsheet":       "the file is a spreadsheet, not text: save it as CSV and send that",
	"not-text":          "the file is not text: save the list as CSV and send that",
	"open-quote":        "line %[2]s opens a double quote that is never closed: close it, or take it out",
	"no-headings":       "no line of headings for site, route or position was found: give each column a heading, or say in a mapping file which heading is which",
	"no-site":           "no column holds the site (the headings seen are %[3]s): head it \"site\", say in a mapping file which one it is (columns: {Your heading: site}), or name the one site of the list (site: Its name)",
	"no-positions":      "no column holds positions or routes (the headings seen are %[3]s): head one \"position\", or say in a mapping file which one it is (columns: {Your heading: position})",
	"no-position":       "no column holds the position, and nothing is said of any anchor (the headings seen are %[3]s): head it \"position\", or say in a mapping file which one it is (columns: {Your heading: position})",
	"no-such-heading":   "no column of the list is headed “%[3]s”: write the heading as it stands in the list, or take it out of the mapping file",
	"mapping-too-long":  "the mapping file is longer than %[1]s: name only the headings that are guessed wrongly",
	"mapping-malformed": "the mapping file cannot be read (%[3]s): write it as YAML with the keys columns, site, site_kind, site_kinds and date_order only",
}

// ListFault returns why a list or its mapping cannot be read and the remedy, in
// one sentence without capital or full stop. values are those of the fault's
// violation; its value "why" is the first argument.
func ListFault(why string, values map[string]string) string {
	sentence, ok := listFaults[why]
	if !ok {
		return "the list cannot be read: save it as CSV with a heading for each column"
	}
	// The empty fourth verb takes up the values that a sentence does not use.
	return fmt.Sprintf(sentence+"%[4]s", values["limit"], values["line"], values["text"], "")
}

// ListFaults lists the values of "why".
func ListFaults() []string {
	list := make([]string, 0, len(listFaults))
	for why := range listFaults {
		list = append(list, why)
	}
	return list
}

// ColumnsAdded says which columns an export under a list's own headings has beside
// them, and why.
func ColumnsAdded(headings []string) string {
	return "The list whose headings these are does not say where all anchors stand. Added behind them: " + strings.Join(headings, ", ") + "."
}
