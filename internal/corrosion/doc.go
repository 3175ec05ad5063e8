// Package corrosion answers what an atmosphere does to the metal of an anchor:
// the category of the atmosphere for four metals (ISO 9223), the depth lost over
// the years (ISO 9224), how long a zinc coating lasts, which class of stainless
// steel a place asks for (EN 1993-1-4, Annex A), which metals get on with each
// other, and whether stress-corrosion cracking must be reckoned with.
//
// It refuses to call anything safe. The two ISO standards describe uniform loss
// of carbon steel, zinc, copper and aluminium and say nothing of pits, crevices,
// the shank in the hole or cracking, so that no category ever clears a stainless
// anchor. Caves lie outside the model; there are stated defaults instead. A
// coated bolt is taken to have no coating in its hole.
//
// Which figures were seen in a source, which are from memory and which are the
// judgement of this project is said beside each; a figure from memory is to be
// checked against the standard before it decides anything.
package corrosion
