package app

import (
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// metalOf returns the grades named, each once or, where none is, those that can
// be read from the words.
func metalOf(named metal.Set, words string) metal.Set {
	if !named.Known() {
		return RereadMetal(nil, words)
	}
	return metal.NewSet(named...)
}

// RereadMetal returns what is known of a metal once other words say what it is:
// the grades that the words can mean or, where what was known before is more
// exact and goes with them, that. Blank words, and words that cannot be read, say
// nothing.
func RereadMetal(known metal.Set, words string) metal.Set {
	said, err := metal.Parse(words)
	if err != nil || words == "" || known.Known() && known.Within(said) {
		return known
	}
	return said
}

// fromProduct gives an anchor the form and the metal of its product where
// nothing is said of its own.
func fromProduct(n *registry.Anchor, p *registry.Product) {
	if n.Form == "" && n.FormWords == "" {
		n.Form = p.Form
	}
	if !n.Metal.Known() && n.MetalWords == "" {
		n.Metal = p.Metal
	}
}
