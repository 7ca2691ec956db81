package engine

// The fats and alkali that the examples below are for.
const exampleFatsG, exampleNaOHG = 100, 14

// WaterReferences lists the ways to ask for water and the meanings of discount.
func WaterReferences() []WaterReference {
	practice := Evidence{Basis: CommonPractice}
	return []WaterReference{
		{"mass", "grams of water, or its volume", 28, 28, practice},
		{"lye_concentration_pct", "alkali as weighed over alkali and water, percent", 33, exampleNaOHG * (100 - 33.0) / 33, practice},
		{"water_per_alkali_ratio", "grams of water per gram of alkali as weighed", 2, exampleNaOHG * 2, practice},
		{"water_of_fats_pct", "percent of the recipe fats: a different strength in every recipe", 38, exampleFatsG * 0.38, practice},
		{"discount of a named reference", "a percent less than a water that is named: the only discount accepted", 20, exampleFatsG * 0.38 * 0.8, practice},
		{"discount meaning the lye concentration", "refused: say lye_concentration_pct", 33, exampleNaOHG * (100 - 33.0) / 33, practice},
		{"discount meaning the usual water of the fats", "refused: say water_of_fats_pct; it takes nothing off", 38, exampleFatsG * 0.38, practice},
		{"discount in points of the fats", "refused: say water_of_fats_pct with the result, such as 35 for 3 points off 38", 3, exampleFatsG * 0.35, practice},
		{"discount meaning a smaller ratio", "refused: say water_per_alkali_ratio", 1.5, exampleNaOHG * 1.5, practice},
		{"discount meaning water held back", "refused: no water is saved; dose the other liquid from the recipe water", 0, exampleFatsG * 0.38, practice},
	}
}
