// Package check is the desk check: it looks in a plant for the errors that wiring tests
// find on site, and for values that do not fit each other. One file holds the checks of
// one subject.
package check

import (
	"ringout/model"
	"ringout/model/finding"
)

// checks are all checks of a plant, one a line.
var checks = []func(*model.Plant, func(finding.Finding)){
	// Open.
	eachCircuit(checkEnds),
	checkFieldDevices,
	checkEmptyLoops,
	// Short.
	checkCores,
	checkTerminals,
	checkJumpers,
	eachCircuit(checkThrough),
	checkLivePins,
	eachCircuit(checkJumperRuns),
	checkChannels,
	checkContacts,
	eachCircuit(checkChannelParts),
	eachCircuit(checkSupplies),
	eachCircuit(checkCommonCores),
	checkUnusedCommons,
	eachCircuit(checkOwnCommons),
	// Earth.
	checkScreens,
	checkOverallScreens,
	checkEarthedTwice,
	// Polarity.
	eachCircuit(checkPolarity),
	// Termination.
	checkCableEnds,
	checkScreenTerminals,
	checkSizes,
	checkSignals,
	checkWiresPlace,
	checkKnown,
	checkEarthColour,
	// Safety.
	checkBarriers,
	checkBarrierEarths,
	checkSurgeEarths,
	checkSafeCables,
	checkSafeTerminals,
	checkEntities,
	// Segments.
	checkSegments,
	checkRacks,
	checkPorts,
	checkFibres,
	// Engineering.
	eachCircuit(checkShorted),
	eachCircuit(checkFeeding),
	eachCircuit(checkChain),
	eachCircuit(checkInService),
	checkLevels,
	checkTwist,
	checkAlloys,
	checkLeads,
	checkRanges,
	checkFunctions,
	eachCircuit(checkSplit),
	eachCircuit(checkParallel),
	checkSpares,
	checkFronts,
	checkTags,
	checkConfusable,
	eachCircuit(checkSolved),
	eachCircuit(checkMargins),
	checkLoads,
	checkCardSupplies,
}

// Check runs the desk check over a plant and returns what it finds, sorted.
func Check(p *model.Plant) finding.Findings {
	var found finding.Findings
	for _, ask := range checks {
		ask(p, func(pr finding.Finding) { found = append(found, pr) })
	}
	return found.Say(p.Say).Sort()
}

// eachCircuit runs a check of one circuit on all that could be bound.
func eachCircuit(question func(*model.Plant, *model.Circuit, func(finding.Finding))) func(*model.Plant, func(finding.Finding)) {
	return func(p *model.Plant, found func(finding.Finding)) {
		p.EachCircuit(func(c *model.Circuit) { question(p, c, found) })
	}
}
