// Package web holds the pages: forms, page structs, templ files, static files.
//
// Every page works without script and without colour: a standing is always
// words with a mark of its own shape. Handlers read the form, call one use case,
// fill a page struct and render it; they only return errors, which
// internal/server answers with Pages.ErrorPage.
package web

//go:generate go tool -modfile=../../.ci/tools.mod templ generate
