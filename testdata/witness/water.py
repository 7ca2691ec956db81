"""The rules of water as formulas of a spreadsheet. plain = asked - water of the stock - water of doses and carriers from
the recipe; what is on top comes beyond it; acids form 18.015 g a mol; strength counts alkali as weighed."""

from batch import WATER_DENSITY, Unknown
from fods import total
from units import grams


def settle(batch):
    """Add the rows of water to a settled batch."""
    recipe, put = batch.recipe, batch.put
    asked_of = recipe["water"]
    if asked_of.get("grant_requests"):
        raise Unknown("granted requests")
    form, keep = asked_of.get("measure"), "1"
    if cut := asked_of.get("discount"):
        form, keep = cut["reference"], f"(1-{cut['off_pct']}/100)"
    alkali = put("alkali that counts", total(list(batch.counts.values())))
    (way, value), = form.items()
    asked = {
        "mass": lambda: str(grams(value, WATER_DENSITY)), "lye_concentration_pct": lambda: f"{alkali}*(100-{value})/{value}",
        "water_per_alkali_ratio": lambda: f"{alkali}*{value}", "water_of_fats_pct": lambda: f"{batch.fats}*{value}/100",
    }[way]()
    asked = put("water.asked_g", f"({asked})*{keep}")
    brought, from_recipe, bound, before, forming = [], [], [], [], []
    for d in recipe["doses"]:
        mass, catalog = batch.weigh[d["id"]], batch.catalog.additives.get(d.get("additive"), {})
        water = f"{mass}*{batch.per_gram(d, 'water_g_per_g')}"
        brought.append(water)
        on_top = d["water_source"].endswith("ON_TOP") or d["water_source"].endswith("UNSPECIFIED") and catalog.get("water_on_top", False)
        if not on_top:
            from_recipe.append(water)
        if d.get("carrier", {}).get("water"):
            brought.append(batch.weigh[d["id"] + "/carrier"])
            from_recipe.append(batch.weigh[d["id"] + "/carrier"])
        bound.append(f"{mass}*{batch.per_gram(d, 'bound_water_g_per_g')}")
        stage = catalog.get("usual_stage", "") if d["stage"].endswith("UNSPECIFIED") else d["stage"]
        if stage == "STAGE_WATER_BEFORE_LYE":
            before.append(mass)
        if d.get("custom", {}).get("alkali_forms_no_water"):
            raise Unknown("an acid that forms no water")
        forming.append(batch.q[d["id"]])
    stock = put("water.from_stock_g", total(batch.stock_water))
    brought = put("water.brought_g", total(brought))
    plain = put("water.plain_g", batch.rounded(f"({asked}-{stock}-{total(from_recipe)})", "nearest"))
    batch.weigh["water"] = plain
    put("water.on_top_g", f"{brought}-{total(from_recipe)}")
    free_acid = total([f"{g}*{batch.free[line]}" for line, g in batch.grams.items()])
    formed = put("water.formed_g", f"18.015*MIN({batch.a};{total(forming)}+{free_acid})")
    own = put("water.in_alkali_g", total(batch.own_water))
    everything = put("water.total_g", total([plain, stock, own, brought, formed]))
    bound = put("water.bound_g", total(bound))
    free = put("water.free_g", f"MAX(0;{everything}-{bound})")
    jug = put("jug", total(list(batch.material.values()) + [plain] + before))
    put("water.jug_strength_pct", f"100*{alkali}/{jug}")
    put("water.jug_pure_pct", f"100*{total(list(batch.pure.values()))}/{jug}")
    put("water.batch_strength_pct", f"100*({alkali}-{own})/({alkali}-{own}+{free})")
    put("water.lye_concentration_pct", f"100*{alkali}/({alkali}+{asked})")
    put("water.water_per_alkali_ratio", f"{asked}/{alkali}")
    put("water.water_of_fats_pct", f"100*{asked}/{batch.fats}")
