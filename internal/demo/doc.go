// Package demo invents a small register for trying Rockledger out: four sites,
// about four hundred anchors, thirty years. Every name, place, person and
// product in it is invented.
package demo
