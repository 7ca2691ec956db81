package engine

// FindingCode is a finding that can be answered: its code, the highest
// severity it carries and when it is sent.
type FindingCode struct {
	Code    string
	Highest Severity
	Meaning string
}

// WaterReference is a way to ask for water, or one of the meanings of
// "discount", with the grams it comes to for 100 g of fats that need 14 g of
// sodium hydroxide.
type WaterReference struct {
	Name, Meaning string
	TypicalValue  float64
	ExampleWaterG float64
	Evidence      Evidence
}
