"""The rules of cost as formulas of a spreadsheet: each line at the cheapest pack, rounded to the cent; totals are sums of
lines; a bar is rounded up; a price holds its margin once all is rounded."""

from decimal import Decimal

from batch import WATER_DENSITY
from fods import total
from units import grams


class Prices:
    """Price of a gram of each material, with packs of any size: formulas."""

    def __init__(self, prices, catalog, off=Decimal(0)):  # off: what every price is moved by, to prove the comparison
        self.per_gram = {}
        for p in prices["packs"]:
            row = catalog.rows.get(p["material"])
            if p["material"] == "water":
                density = WATER_DENSITY
            else:
                density = p.get("density_g_per_ml") or row and Decimal(row["density_g_per_ml"] or "NaN")
            usable = f"{grams(p['size'], density)}*(1-{p['waste_pct']}/100)"
            self.per_gram.setdefault(p["material"].lower(), []).append(f"({Decimal(p['price']) + off}+{p['freight'] or 0})/({usable})")

    def of(self, material):
        """The cheapest price of a gram, or None."""
        packs = self.per_gram.get(material.lower())
        return f"MIN({';'.join(packs)})" if packs else None


def materials(batch, prices):
    """What is paid for: (weigh line, material, grams)."""
    fats = {f["id"]: f for f in batch.recipe["fats"]}
    for d in batch.recipe["doses"]:
        yield d["id"], d.get("additive") or d["custom"]["name"], batch.weigh[d["id"]]
        if c := d.get("carrier"):
            yield from fat(d["id"] + "/carrier", None if c.get("water") else fats[c["fat"]], batch, prices)
    for f in fats.values():
        yield from fat(f["id"], f, batch, prices)
    yield "water", "water", batch.weigh["water"]
    for kind, mass in batch.material.items():
        made = batch.recipe["alkali"].get(kind, {}).get("made")
        if made and not prices.of(kind + "-solution"):
            solid, wet = grams(made["solid"]), grams(made["water"], WATER_DENSITY)
            yield kind, kind, f"{mass}*{solid}/({solid}+{wet})"
            yield kind, "water", f"{mass}*{wet}/({solid}+{wet})"
        else:
            yield kind, kind + "-solution" if made else kind, mass


def fat(line, of, batch, prices):
    """A fat, the fats of a premix without a price of its own, or water."""
    mass = batch.weigh[line]
    if of is None:
        yield line, "water", mass
    elif "premix" not in of or prices.of(of["premix"]["name"]):
        yield line, of.get("fat") or of["premix"]["name"], mass
    else:
        shares = total([str(p["share_of_fats_pct"]) for p in of["premix"]["fats"]])
        for p in of["premix"]["fats"]:
            yield line, p["fat"], f"{mass}*{p['share_of_fats_pct']}/{shares}"


def settle(batch, prices, terms):
    """Add the rows of cost; those of sums by weigh line are called cost.line."""
    def put(key, content):
        return batch.put("cost." + key, content)

    def money(text):
        return Decimal(text or 0)

    lines = {}
    for line, material, mass in materials(batch, prices):
        price = prices.of(material)
        lines.setdefault(line, []).append(f"ROUND({mass}*{price};2)" if price else "0")
    sums = [put("line " + line, total(amounts)) for line, amounts in lines.items()]
    bars = terms["saleable_bars"]
    base = put("base", total(sums + [f"ROUND({bars}*{money(terms['packaging_per_bar'])};2)",
                                     f"ROUND({terms['labor_minutes']}*{money(terms['labor_per_hour'])}/60;2)"]))
    batch_cost = put("per_batch", f"{base}+{money(terms['overhead_per_batch'])}+ROUND({base}*{terms['overhead_pct']}/100;2)")
    bar = put("per_bar", f"ROUNDUP({batch_cost}/{bars}-0.000000001;2)")
    asked(put, terms, bar, batch_cost, money(terms["fee_per_bar"]))


def asked(put, terms, bar, batch_cost, fixed):
    """The price by margin, markup or as stated; fees and what is left."""
    fee, tax, inside = f"{terms['fee_pct']}/100", f"{terms['tax_pct']}/100", terms["price_includes_tax"]

    def up(x):
        return f"ROUNDUP({x}-0.000000001;2)"

    def fitted(name, x):
        """A price before and with tax: where tax is inside, the taxed price is whole cents and the other follows."""
        if not inside:
            before = put(name, x)
            return before, put(name + " with tax", f"ROUND({before}*(1+{tax});2)")
        taxed = put(name + " with tax", up(f"({x})*(1+{tax})"))
        return put(name, f"ROUND({taxed}/(1+{tax});2)"), taxed

    if "margin_pct" in terms:
        margin = f"{terms['margin_pct']}/100"
        first = fitted("first price", up(f"({bar}+{fixed})/(1-{margin}-{fee})"))
        second = fitted("second price", up(f"({bar}+{fixed}+0.005)/(1-{margin}-{fee})"))
        holds = put("first price holds", f"{first[0]}-ROUND({fixed}+{first[0]}*{fee};2)-{bar}>={first[0]}*{margin}-0.000000001")
        before, taxed = (f"IF({holds};{a};{b})" for a, b in zip(first, second))
    elif "markup_pct" in terms:
        before, taxed = fitted("price", up(f"{bar}*(1+{terms['markup_pct']}/100)"))
    elif "price" in terms:
        before, taxed = f"ROUND({terms['price']}{f'/(1+{tax})' if inside else ''};2)", f"ROUND({terms['price']}{'' if inside else f'*(1+{tax})'};2)"
    else:
        return
    before = put("price_before_tax", before)
    put("price_with_tax", taxed)
    fees = put("fees_per_bar", f"ROUND({fixed}+{before}*{fee};2)")
    left = put("margin_per_bar", f"{before}-{fees}-{bar}")
    put("margin_pct", f"100*{left}/{before}")
    put("markup_pct", f"100*({before}-{bar})/{bar}")
    put("break_even_bars", f"IF(ROUNDUP({batch_cost}/({before}-{fees})-0.000000001;0)<={terms['saleable_bars']};ROUNDUP({batch_cost}/({before}-{fees})-0.000000001;0);0)")
