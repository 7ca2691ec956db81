"""How sure a superfat is: the standard uncertainty by first-order propagation (JCGM 100:2008, 5.1.2), what dominates it,
and every source at its worst end. Sources are rectangles: purities, ranges of saponification values, assays, and the steps
of balances, twice each because tare and reading are both rounded."""

import math
from decimal import ROUND_CEILING, Decimal
from functools import lru_cache

from units import grams

KOH = Decimal("56.1056")


class Doubt:
    """The sources of one superfat, read off a worksheet: half-widths in mol of alkali and of need."""

    def __init__(self, line, sheet):
        self.sheet, self.sources = sheet, []  # of (alkali, need, times)
        # A reconciliation carries the lines of its plan under this.
        self.under = "plan." if line["id"].startswith("plan.") else ""
        x = {i["name"]: i for i in line["inputs"]}
        self.alkali, self.need = x["alkali"]["value"], x["need"]["value"]
        side = x["alkali"]["line_id"].removeprefix(self.under)
        whole = side == "alkali.net_mol"
        name = None if whole else side.removeprefix("portion.").removesuffix(".alkali_mol")
        self.portion, self.share = name, Decimal(1) if whole else self.value(f"portion.{name}.share")
        self.recipe = sheet.recipe
        for kind in ("naoh", "koh"):
            self._alkali(kind, x)
        self._fats()
        for dose in self.recipe["doses"]:
            self._dose(dose)

    def value(self, line):
        return self.sheet.value(self.under + line)

    def _step(self, line):
        """Half a step of the balance that carries a line, or None; split lines add up by squares."""
        for at in ("plan.weigh.", "weigh."):
            rounded = self.sheet.line(f"{at}{line}.weigh_g")
            if rounded and rounded["method"] == "balance-rounding":
                step = next(i for i in rounded["inputs"] if i["name"] == "step")
                balance = self.sheet.request_balances[int(step["line_id"].split(".")[-2])]
                parts = Decimal(1)
                if "capacity" in balance:
                    parts = max(parts, (rounded["value"] / grams(balance["capacity"])).to_integral_value(ROUND_CEILING))
                return step["value"] / 2 * parts.sqrt()
        return None

    def _weighing(self, line, alkali, need):
        half = self._step(line)
        if half is not None:
            self.sources.append((half * alkali, half * need, 2))

    def _alkali(self, kind, inputs):
        half = next((i["value"] for name, i in inputs.items() if name.startswith(kind + "_half_width")), None)
        mol = self.sheet.value_or_zero(f"{self.under}alkali.{kind}.mol") * self.share
        if half is None or not mol:
            return
        self.sources.append((mol * half / 100 / self.value(f"alkali.{kind}.pure"), Decimal(0), 1))
        self._weighing(kind, self.share / self.value(f"alkali.{kind}.balance_g_per_mol"), Decimal(0))

    def _mass(self, line):
        """Grams of a fat line that the portion has, or the batch without its surface."""
        mass = self.value(f"line.{line}.mass_g" if self.sheet.line(f"{self.under}line.{line}.mass_g") else f"fats.{line}.mass_g")
        everywhere = here = Decimal(0)
        for d in self.recipe["doses"]:
            if d.get("carrier", {}).get("fat") != line:
                continue
            g = self.value(f"doses.{d['id']}/carrier.mass_g")
            if d["stage"].endswith("SURFACE"):
                mass -= g
            elif d["portion_id"]:
                everywhere += g
                here += g if d["portion_id"] == self.portion else 0
        return mass if self.portion is None else self.share * (mass - everywhere) + here

    def _fats(self):
        ranges = {}  # two lots of one fat are one source
        for f in self.recipe["fats"]:
            parts = [(f"{f['id']}/{p['id']}", p) for p in f["premix"]["fats"]] if "premix" in f else [(f["id"], f)]
            for name, p in parts:
                base = "fats." + name
                g = self._mass(f["id"]) * self.value(base + ".share")
                low, high, use = (self.value(f"{base}.{x}_mg_koh_per_g") for x in ("sv_low", "sv_high", "sv"))
                key = name if "certificate_sv_mg_koh_per_g" in p or "custom" in p else p["fat"]
                ranges[key] = ranges.get(key, 0) + g * (high - low) / 2 / 1000 / KOH
                self.need += g * ((high + low) / 2 - use) / 1000 / KOH  # the range need not lie evenly about the value
            self._weighing(f["id"], Decimal(0), self.share * self.value(f"line.{f['id']}.need_mol_per_g"))
        self.sources += [(Decimal(0), half, 1) for half in ranges.values()]

    def _dose(self, d):
        part = self.share if not d["portion_id"] else Decimal(1)
        if d["stage"].endswith("SURFACE") or self.portion is not None and d["portion_id"] not in ("", self.portion):
            return
        g = part * self.value(f"doses.{d['id']}.mass_g")
        if "additive" in d:
            acid, half = (self.sheet.catalog.adjustments.get((d["additive"], f"alkali_{x}mol_per_g"), Decimal(0)) for x in ("", "half_width_"))
        else:
            stated = d["custom"].get("alkali_mol_per_g", {})
            acid, half = stated.get("value", Decimal(0)), stated.get("half_width", Decimal(0))
        if half:
            self.sources.append((-g * half, Decimal(0), 1))
        if acid:
            self._weighing(d["id"], -part * acid, Decimal(0))

    def variances(self):
        """What each source adds to the variance of the superfat."""
        r = self.alkali / self.need
        return [n * ((a - r * b) / self.need) ** 2 / 3 for a, b, n in self.sources]

    def worst(self):
        """The lowest superfat: every source at the end that helps least (Dinkelbach, Management Science 13, 1967)."""
        r = self.alkali / self.need
        while True:
            a, b = self.alkali, self.need
            for da, db, n in self.sources:
                way = 1 if da - r * db >= 0 else -1
                a, b = a + way * n * da, b + way * n * db
            if a / b <= r:
                return 1 - r
            r = a / b

    def below(self, superfat):
        """The probability of a superfat below this one: that A - (1 - s) B, a sum of rectangles, is above zero. By the
        inversion of its characteristic function, a product of sines (Gil-Pelaez, Biometrika 38, 1951)."""
        q = float(1 - superfat)
        middle = float(self.alkali) - q * float(self.need)
        return _above(middle, tuple(abs(float(a) - q * float(b)) for a, b, n in self.sources for _ in range(n)))


@lru_cache(maxsize=None)
def _above(middle, halves):
    """The probability that a sum of rectangles about a middle is above zero."""
    sigma = math.sqrt(sum(h * h for h in halves) / 3)
    if abs(middle) > 6 * sigma:
        return float(middle > 0)
    total, step = 0.0, 0.03 / sigma
    for k in range(800):
        u = (k + 0.5) * step
        total += math.sin(u * middle) / u * math.prod(math.sin(u * h) / (u * h) for h in halves if h)
    return 0.5 + total * step / math.pi


# How far a probability of the engine may lie from the inversion, which is exact but for its step.
LIKELY = 0.002
PROBABLE = {"lye_excess_probability_pct": Decimal(0), "free_caustic_probability_pct": Decimal("-0.005")}


def likely(line, sheet):
    """Compare an interval or a probability with the distribution: the chance that was found and the one that should be.
    The upper end is None where it is widened by what waxes and sugars may take, which the worksheet does not list."""
    doubt = Doubt(line, sheet)
    base, _, field = line["id"].rpartition(".")
    value, best = line["value"] / 100, sheet.value(base + ".superfat_pct") / 100
    if field in PROBABLE:
        return doubt.below(PROBABLE[field]), float(value)
    found = doubt.below(value)
    if field == "low95_pct":
        return found, min(0.025, found) if value == best else 0.025
    if found > 0.975 + LIKELY:
        return None
    return found, max(0.975, found) if value == best else 0.975


def again(line, sheet):
    """A line of doubt worked out anew."""
    doubt = Doubt(line, sheet)
    base, _, field = line["id"].rpartition(".")
    if field == "worst_pct":
        return min(100 * doubt.worst(), sheet.value(base + ".low95_pct"))
    variances = doubt.variances()
    if field == "standard_uncertainty_pct":
        return 100 * sum(variances).sqrt()
    if field == "dominated_share_pct":
        return 100 * max(variances) / sum(variances)
    return None
