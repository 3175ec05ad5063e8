// Package sheetcheck holds the setting of one anchor against the product sheets
// of its day: hole, embedded length, cleaning, moisture, temperatures, expiry,
// edges, rock, and whether it was loaded before it had cured. Its rules are data
// (rules.json). It also works out the cure time itself, and why there is none.
//
// It clears nothing: a finding that is missing says only that what is recorded
// does not contradict the sheet, and a cure time that has passed allows no use.
// What is not recorded is one note that lists it. Mixed metals are findings of
// package suspicion.
package sheetcheck
