// Package exchange reads and writes the formats others use: anchor lists as
// text with separators come in and go out again; the overdue and suspect
// reports go out as CSV and as tables for a terminal, the import report as text.
//
// Of a list it answers what each cell says: headings, encoding, the order of
// day and month and the order of coordinates are guessed here, and every guess
// and everything that cannot be right is listed as a doubt. It refuses to say
// what becomes of a row: whether it is new, a repeat or refused is the
// register's matter.
package exchange
