// Package openapi holds the contract of the API. It is edited first; the
// server's interface and types in package api are generated from it.
package openapi

import _ "embed"

//go:generate go tool -modfile=../.ci/tools.mod oapi-codegen -config oapi-codegen.yaml rockledger.yaml

// Spec is the contract as written, OpenAPI 3.0.3 in YAML.
//
//go:embed rockledger.yaml
var Spec []byte
