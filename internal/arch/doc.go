// Package arch holds tests of the tree itself, and nothing else: who may
// import whom, what may stand at the top level, that migrations come in
// unbroken pairs, that test data name their origin, and that the contract of
// the API does not change under an unchanged version.
package arch
