package wording

import "strconv"

// FinderChosen stands above what is chosen of a long list.
const FinderChosen = "Chosen"

// finderLabels name the search of each long list.
var finderLabels = map[string]string{
	"batch_ids": "Find a batch, by its text or product", "product_ids": "Find a product",
	"setter_ids": "Find a person", "site_ids": "Find a place",
	"over": "Find a site, an anchor, a person or a landowner, by name",
}

// FinderLabel names the search of a long list.
func FinderLabel(field string) string {
	if label := finderLabels[field]; label != "" {
		return label
	}
	return "Find"
}

// FinderState says how many are shown, of how many that match and of how many
// there are, those chosen aside.
func FinderState(shown, matching, all int, searched bool) string {
	of := strconv.Itoa(matching)
	switch {
	case all == 0:
		return "All are chosen."
	case matching == 0:
		return "None of " + strconv.Itoa(all) + " has that in it. Try less of it."
	case shown < matching && searched:
		return "The first " + strconv.Itoa(shown) + " of " + of + " that match. Type more to see the others."
	case shown < matching:
		return "The first " + strconv.Itoa(shown) + " of " + of + ". Type part of it to find the others; what is chosen stays."
	case searched && matching == 1:
		return "One matches."
	case searched:
		return of + " match."
	}
	return "All that are not chosen are shown."
}
