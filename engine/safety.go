package engine

// safetyLines belong on every sheet, once. Sources: usual cautions of the trade
// (common practice) and, for first aid, the New Jersey Hazardous Substance Fact
// Sheet on sodium hydroxide, 2015 (published and seen).
var safetyLines = []SafetyLine{
	{"safety/protect", "Wear goggles, gloves and long sleeves from the first gram of alkali until the tools are washed."},
	{"safety/room", "Work with fresh air, without children or animals, and with an hour that nobody interrupts."},
	{"safety/alkali-into-water", "Put alkali into cold water, a little at a time, stirring. Never pour water onto alkali."},
	{"safety/metals", "No aluminum, zinc or tin anywhere: they give off hydrogen. Use stainless steel, polypropylene or HDPE."},
	{"safety/looks-like-water", "Lye gets hot and looks like water. Label it, cover it, stand it in a tray out of reach."},
	{"safety/no-grains", "Stir or wait until no grain is left, and pour through a strainer."},
	{"safety/first-aid", "On skin: brush dry alkali off, then running water at once for 30 minutes. In eyes: rinse with lids held open for 30 minutes and call for help. If swallowed: rinse the mouth, do not vomit, call for help. No vinegar."},
	{"safety/alcohol", "Alcohol burns: none near a flame, a heating pad or a warm oven."},
	{"safety/lye-kept", "Keep lye closed but vented while it is warm, labeled, out of reach of children, never beside food."},
	{"safety/no-food-oven", "No food oven or freezer: nothing of this belongs beside food."},
	{"safety/liquid-under-loaf", "A loaf with liquid under it has lye under it: gloves on, do not use it."},
	{"safety/test-before-use", "Handle with gloves until tested. Test for free alkali before use: titration in neutral alcohol with phenolphthalein, or a meter; paper errs. More curing does not mend a lye-heavy bar."},
	{"safety/law", "Local rules and a qualified assessor decide what may be sold."},
}
