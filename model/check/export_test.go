package check

// Names for the tests, which stand outside.
var (
	CheckTags  = checkTags
	LevelOf    = levelOf
	MainsLevel = mainsLevel
	Carries    = carries
)
