"""Figures of lye solutions, read off the project's tables and straight between their rows."""

import csv
from decimal import Decimal
from functools import lru_cache
from pathlib import Path

DATA = Path(__file__).resolve().parent.parent.parent / "engine" / "lye" / "data"
VOLUMES_AT = Decimal(25)  # degrees Celsius
DENSEST = Decimal("51.5")  # percent, the strongest lye of both tables


@lru_cache(maxsize=None)
def rows(name):
    with open(DATA / (name + ".tsv"), encoding="utf-8", newline="") as f:
        return [r for r in csv.DictReader(f, delimiter="\t", quoting=csv.QUOTE_NONE)]


def between(points, x):
    """The value at x of a broken line."""
    points = sorted(points)
    if x == points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in zip(points, points[1:]):
        if x0 <= x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    raise ArithmeticError(f"{x} lies outside the table")


def column(name, key, value, of=lambda r: True):
    return [(Decimal(r[key]), Decimal(r[value])) for r in rows(name) if of(r)]


def surface(name, strength, temperature):
    """A density by strength and temperature, straight in both."""
    at = sorted({Decimal(r["temp_c"]) for r in rows(name)})
    return between([(t, between(column(name, "wt_pct", "density_g_per_ml", lambda r, t=t: Decimal(r["temp_c"]) == t), strength)) for t in at], temperature)


def density(kind, strength):
    """Density at 25 °C: of NaOH the handbook's at 20 °C and the difference that the temperature surface gives."""
    if kind == "koh":
        return surface("koh_density", strength, VOLUMES_AT)
    at_20 = between(column("naoh_density_20c", "wt_pct", "density_g_per_ml"), strength)
    return at_20 + surface("naoh_density_by_temperature", strength, VOLUMES_AT) - surface("naoh_density_by_temperature", strength, Decimal(20))


def end(naoh, koh, start):
    """The temperature that a lye reaches: NaOH by the table for two starts; KOH by its heat and heat capacity against
    NaOH; a mixture between them by mass; never above the boiling point."""
    strength = naoh + koh
    cold, room = (between(column("naoh_end_temperature", "wt_pct", "end_c", lambda r, s=s: Decimal(r["start_c"]) == s), strength) for s in (5, 20))
    soda = cold + (room - cold) * (start - 5) / 15
    out = soda
    if koh:
        capacity = {k: between(column("heat_capacity", "wt_pct", "heat_capacity_kj_per_kg_k", lambda r, k=k: r["alkali"] == k), strength) for k in ("NaOH", "KOH")}
        heat = {k: between(column("heat_of_solution", "wt_pct", "heat_kj_per_mol", lambda r, k=k: r["alkali"] == k), Decimal(0)) for k in ("NaOH", "KOH")}
        per_gram = heat["KOH"] / Decimal("56.1056") / (heat["NaOH"] / Decimal("39.997"))
        potash = start + (soda - start) * per_gram * capacity["NaOH"] / capacity["KOH"]
        out = soda + (potash - soda) * koh / strength
    return min(out, between(column("naoh_boiling", "wt_pct", "temp_c"), strength))


def again(line, sheet):
    """A line that interpolates; None when the witness does not know how."""
    x = {i["name"]: i["value"] for i in line["inputs"]}
    pure = {k: sheet.value_or_zero(f"alkali.{k}_pure_g") for k in ("naoh", "koh")}
    if line["id"] == "jug.lye_density_g_per_ml":
        strength = min(100 * x["pure_g"] / x["lye_g"], DENSEST)
        return sum(density(k, strength) * g / x["pure_g"] for k, g in pure.items() if g)
    if line["id"] == "alkali.lye_end_c":
        whole = sum(pure.values())
        return end(*(x["jug_pure_pct"] * pure[k] / whole for k in ("naoh", "koh")), x["start_c"])
    return None
