// Package adhesive answers how long a resin or mortar can be worked and how
// long it must cure, from the table of the product's own sheet.
//
// It ships no table and knows no product: without a sheet there is no time, and
// a person reads the label. It never interpolates, never reckons warmer than it
// was, and gives no time outside the sheet. A time is advice: that it has passed
// neither makes a bond nor allows use.
//
// Sources: the form of the tables, the rule of the lowest temperature and the
// wet hole are the usual ones of approvals and data sheets of injection mortars,
// from memory.
package adhesive
