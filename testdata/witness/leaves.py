"""Where the leaves of a worksheet come from: the request, the data, the adjustments of additives."""

import csv
import re
from decimal import Decimal, InvalidOperation
from pathlib import Path

import expr

HERE = Path(__file__).resolve().parent
FAT_DATA = HERE.parent.parent / "engine" / "fat" / "data"

# Column of fats.tsv behind the last part of a data path.
COLUMNS = {
    "sv_mg_koh_per_g": "sv_best", "sv_low": "sv_min", "sv_high": "sv_max", "acid_value_low": "acid_value_min",
    "acid_value_high": "acid_value_max", "density_g_per_ml": "density_g_per_ml", "unsaponifiable_max_pct": "unsaponifiable_max_pct",
}

# What is reckoned with where nothing is stated: conventions of this project, written here a second time.
DEFAULTS = {
    "naoh_purity_design_pct": "98", "naoh_purity_judged_pct": "100", "naoh_other_purity_98_pct": "98", "naoh_other_purity_96_pct": "96",
    "koh_purity_design_pct": "90", "koh_purity_judged_pct": "90", "koh_other_purity_95_pct": "95", "koh_other_purity_85_pct": "85",
    "naoh_half_width_stated_pct": "1", "naoh_half_width_design_pct": "2", "naoh_half_width_judged_pct": "0",
    "koh_half_width_stated_pct": "2", "koh_half_width_design_pct": "5", "koh_half_width_judged_pct": "5",
    "water_c": "20", "water_density_g_per_ml": "0.9982", "density_g_per_ml": "1", "fat_density_g_per_ml": "0.91515",
}


# A leaf is the very number that stands there; what a plugin works out is as exact as its own arithmetic.
TOLERANCE = {"request_path": Decimal(0), "data_row": Decimal(0), "adjustment": Decimal("1e-12")}


class Missing(Exception):
    """There is no such leaf, or it has another value."""


def table(path, key):
    with open(path, encoding="utf-8", newline="") as f:
        return {row[key]: row for row in csv.DictReader(f, delimiter="\t", quoting=csv.QUOTE_NONE)}


class Leaves:
    """The leaves that one worksheet may read."""

    def __init__(self, request, behavior, catalog):
        self.request, self.behavior, self.catalog = request, behavior, catalog

    def check(self, source, path, value):
        """Raise Missing unless the leaf exists with this very value."""
        for there in getattr(self, "_" + source)(path):
            if there is None:
                raise Missing(f"{source} {path!r} does not exist")
            if abs(there - value) > TOLERANCE[source] * abs(value):
                raise Missing(f"{source} {path!r} is {there}, not {value}")

    def _request_path(self, path):
        at = self.request
        for step in re.findall(r"[^.\[\]]+|\[\d+\]", path):
            try:
                at = at[int(step[1:-1])] if step[0] == "[" else at[step]
            except (KeyError, IndexError, TypeError):
                return [None]
        if at is True or path.endswith(".carrier.fat"):
            return [Decimal(1)]  # a carrier that is water, or a fat: a gram of it in each gram
        if at == "":
            return [Decimal(0)]  # money that is left out: none
        try:
            return [Decimal(at) if isinstance(at, (int, str, Decimal)) else None]
        except InvalidOperation:
            return [None]  # a text

    def _data_row(self, path):
        parts = path.split("/")
        if parts[0] == "fats" and len(parts) == 3:
            return self._fat(*parts[1:])
        if parts[0] == "fatty_acids" and len(parts) == 3:
            return [self.catalog.fats.get(parts[1], {}).get("fatty_acid_pct", {}).get(parts[2])]
        if parts[0] == "defaults" and len(parts) == 2:
            return [Decimal(DEFAULTS[parts[1]]) if parts[1] in DEFAULTS else None]
        return [None]

    def _fat(self, fat, field):
        """A figure of a fat: by the table, and by the catalog of the service where that has it."""
        row = self.catalog.rows.get(fat)
        if row is None:
            return [None]
        if field == "acid_value_mg_koh_per_g":
            return [(Decimal(row["acid_value_min"]) + Decimal(row["acid_value_max"])) / 2]
        text = row.get(COLUMNS.get(field, ""), "")
        out = [Decimal(text) if text else None]
        also = {"sv_low": "sv_low_mg_koh_per_g", "sv_high": "sv_high_mg_koh_per_g"}.get(field, field)
        if also in self.catalog.fats[fat] and not row["acid_value_min"]:
            out.append(Decimal(self.catalog.fats[fat][also]))
        return out

    def _adjustment(self, path):
        dose, _, field = path.partition("/")
        band, _, end = field.partition(".")
        if band.endswith("_factor"):
            for x in self.behavior.get(band.removesuffix("_factor"), []):
                if x["line_id"] == dose:
                    return [x.get(end)]
            return [None]
        recipe = self.request.get("recipe") or self.request["recipes"][0]["recipe"]
        names = {d["id"]: d.get("additive") for d in recipe["doses"]}
        additive = names.get(dose)
        if field == "g_per_teaspoon_us" and additive in self.catalog.additives:
            return [Decimal(self.catalog.additives[additive][field])]
        return [self.catalog.adjustments.get((additive, field))]


class Catalog:
    """What the service says of fats and additives, the project's own table of fats, and what is known of additives."""

    def __init__(self, fats, additives):
        self.fats = {f["id"]: f for f in fats["fats"]}
        self.additives = {a["id"]: a for a in additives["additives"]}
        self.rows = table(FAT_DATA / "fats.tsv", "id")
        self.acids = {name: {Decimal(r[c]) for c in ("molar_mass_g_per_mol", "iv_factor_triglyceride", "iv_factor_free_acid")}
                      for name, r in table(FAT_DATA / "fatty_acid_constants.tsv", "fatty_acid").items()}
        with open(HERE / "adjustments.tsv", encoding="utf-8", newline="") as f:
            self.adjustments = {(r["additive"], r["field"]): expr.work_out(expr.parse(r["value"]), {})
                                for r in csv.DictReader(f, delimiter="\t")}
