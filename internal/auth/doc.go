// Package auth answers who is asking: a person with a web session or a program
// with an access token. It hands on a registry.Actor; what the actor may do is
// for app to say.
//
// It keeps no password and no token in the clear: passwords as Argon2id hashes,
// tokens as SHA-256 hashes.
package auth
