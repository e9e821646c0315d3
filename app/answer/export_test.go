package answer

// What tests need, which see the package from outside.
var (
	ShownCreep = shownCreep
	KindName   = kindName
	HoldText   = holdText
)
