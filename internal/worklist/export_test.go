package worklist

// Kinds is what the findings of rules ask for, for tests.
var Kinds = kinds
