// Package demo invents a small register for trying Rockledger out: four sites,
// about four hundred anchors, thirty years; and synthetic registers of any size
// for measuring. Every name, place, person and product in them is invented.
package demo
