package model

// DefaultStock is for the tests, which stand outside.
var DefaultStock = defaultStock
