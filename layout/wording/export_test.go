package wording

// KeepEarth is for the tests, which stand outside.
const KeepEarth = keepEarth
