"""The rules of settling as formulas of a spreadsheet: fats, doses, alkali, superfat. Written from the rules, not from worksheets.

    A   = (B - H + sum of brought needs whose alkali is added) (1 - s) + sum of acids whose alkali is added
    s'  = 1 - (A - sum q) / (B - surface + sum b);  portion p with base share f:
    s_p = 1 - (f (A - sum q of the batch) - sum q_p) / (f (B - H + sum b of the batch) + h_p + sum b_p)
    Fats are rounded up, doses worked out anew and rounded, alkali worked out anew and rounded down.
"""

from decimal import Decimal

from fods import total
from units import grams

NAOH, KOH = Decimal("39.997"), Decimal("56.1056")
MOLAR = {"naoh": NAOH, "koh": KOH}
WATER_DENSITY = Decimal("0.9982")


class Unknown(Exception):
    """A recipe asks for what the sheet has no rules for."""


class Batch:
    """One recipe, settled in rows of a book."""

    def __init__(self, book, name, request, catalog, off=Decimal(0)):
        self.book, self.name, self.request, self.catalog = book, name, request, catalog
        self.recipe, self.off = request["recipe"], off  # off: what saponification values are moved by, to prove the comparison
        self.weigh = {}  # cells of what is weighed, by weigh line
        self._fats()
        self._shares()
        self._doses()
        self._alkali()
        self._superfat()

    def put(self, key, content):
        return self.book.put(f"{self.name}/{key}", content)

    def rounded(self, mass, way):
        """A mass on the finest balance that holds it: a formula."""
        out = "NA()"
        for b in sorted(self.request["balances"], key=lambda b: grams(b["step"]), reverse=True):
            step = grams(b["step"])
            steps = {"up": f"ROUNDUP({mass}/{step}-0.000000001;0)", "down": f"ROUNDDOWN({mass}/{step}+0.000000001;0)",
                     "nearest": f"ROUNDDOWN({mass}/{step}+0.500000001;0)"}[way] + f"*{step}"
            out = f"IF({steps}<={grams(b['capacity'])};{steps};{out})" if "capacity" in b else steps
        return out if self.request["balances"] else mass

    def _sv(self, fat):
        """The saponification value in use; a wax counts at its acid value."""
        if "custom" in fat:
            raise Unknown("a fat of the caller's own")
        row = self.catalog.rows[fat["fat"]]
        if row["acid_value_min"]:
            return f"({row['acid_value_min']}+{row['acid_value_max']})/2"
        return fat.get("certificate_sv_mg_koh_per_g", {}).get("value", Decimal(row["sv_best"])) + self.off

    def _fats(self):
        self.asked, self.need, self.free = {}, {}, {}
        fats = self.recipe["fats"]
        shares = total([str(f["share_of_fats_pct"]) for f in fats if "share_of_fats_pct" in f])
        for f in fats:
            if "mass" in f:
                mass = grams(f["mass"], Decimal(self.catalog.rows[f["fat"]]["density_g_per_ml"] or 0) if "fat" in f else None)
            else:
                mass = f"{grams(self.recipe['total_fats'])}*{f['share_of_fats_pct']}/{shares}"
            self.asked[f["id"]] = self.put(f"{f['id']} asked", mass)
            parts = f["premix"]["fats"] if "premix" in f else [{**f, "share_of_fats_pct": 1}]
            all_parts = total([str(p["share_of_fats_pct"]) for p in parts])
            terms = [f"{p['share_of_fats_pct']}/{all_parts}*{self.put(f['id'] + ' value', self._sv(p))}/1000/{KOH}" for p in parts]
            self.need[f["id"]] = self.put(f"{f['id']} need per g", total(terms))
            free = [t for p, t in zip(parts, terms) if self.catalog.rows[p["fat"]]["free_acid"] == "yes"]
            self.free[f["id"]] = self.put(f"{f['id']} free acid per g", total(free))

    def _shares(self):
        portions = self.recipe["portions"] or [{"id": "", "share_of_base_pct": 1}]
        whole = total([str(p["share_of_base_pct"]) for p in portions])
        self.shares = {p["id"]: self.put(f"portion {p['id']} share", f"{p['share_of_base_pct']}/{whole}") for p in portions}

    def per_gram(self, dose, field):
        """What one gram of a dose does."""
        if "additive" in dose:
            return self.catalog.adjustments.get((dose["additive"], field), Decimal(0))
        value = dose["custom"].get(field, Decimal(0))
        return value["value"] if isinstance(value, dict) else value

    def added(self, dose):
        """Whether the recipe adds the alkali that a dose takes."""
        if "given" in self.recipe["alkali"] or dose["portion_id"]:
            return False
        return dose["treatment"].endswith("ADD") or "additive" in dose and dose["treatment"].endswith("UNSPECIFIED")

    def _amount(self, dose, fats):
        if dose.get("parameters") or dose["basis"].endswith("BATCH_FATS") or "custom" in dose and dose["custom"]["fat_g_per_g"]:
            raise Unknown(f"dose {dose['id']}: parameters, a basis or fat that it brings")
        if "mass" in dose:
            return str(grams(dose["mass"]))
        if "of_fats_pct" not in dose:
            raise Unknown(f"dose {dose['id']}: no mass and no share of the fats")
        share = f"{self.shares[dose['portion_id']]}*" if dose["portion_id"] else ""
        return f"{fats}*{share}{dose['of_fats_pct']}/100"

    def _doses(self):
        """Grams of doses and carriers: from the recipe, then from the rounded fats; then the fats that are left."""
        held = {}  # fat line -> carrier masses before rounding
        fats = self.put("fats asked", total(list(self.asked.values())))
        for d in self.recipe["doses"]:
            c = d.get("carrier")
            if c and (c["premixed"] or c["extra"] or "custom" in c or not c.get("water") and c.get("fat") not in self.asked):
                raise Unknown(f"dose {d['id']}: a carrier that is premixed, extra or no fat of the recipe")
            if c and not c.get("water"):
                held.setdefault(c["fat"], []).append(f"{self._amount(d, fats)}*{c['g_per_g_dose']}")
        regauged = []
        for line, asked in self.asked.items():
            planned = total(held.get(line, []))
            self.weigh[line] = self.put(f"{line} weighed", self.rounded(f"({asked}-{planned})", "up"))
            regauged.append(f"{self.weigh[line]}+{planned}")
        fats = self.put("fats rounded", total(regauged))
        self.held = []  # (portion, fat line, cell)
        for d in self.recipe["doses"]:
            way = "up" if self.per_gram(d, "alkali_mol_per_g") else "nearest"
            mass = self.weigh[d["id"]] = self.put(f"{d['id']} weighed", self.rounded(f"({self._amount(d, fats)})", way))
            if c := d.get("carrier"):
                water = bool(c.get("water"))
                cell = self.put(f"{d['id']}/carrier weighed", self.rounded(f"({mass}*{c['g_per_g_dose']})", "nearest" if water else "up"))
                self.weigh[d["id"] + "/carrier"] = cell
                if not water:
                    self.held.append((d["portion_id"], c["fat"], cell, d["stage"].endswith("SURFACE")))
        self.grams = {line: self.put(f"{line} in all", total([self.weigh[line]] + [cell for _, of, cell, _ in self.held if of == line])) for line in self.asked}
        self.fats = self.put("totals.fats_g", total(list(self.grams.values())))

    def _alkali(self):
        self.b = self.put("alkali.fats_need_mol", total([f"{g}*{self.need[line]}" for line, g in self.grams.items()]))
        away = [x for x in self.held if x[0] or x[3]]  # fat held back for the whole batch goes back into it
        self.h = self.put("held back", total([f"{cell}*{self.need[of]}" for _, of, cell, _ in away]))
        self.q = {d["id"]: self.put(f"{d['id']} takes", f"{self.weigh[d['id']]}*{self.per_gram(d, 'alkali_mol_per_g')}") for d in self.recipe["doses"]}
        self.sum_q = self.put("alkali.acids_mol", total(list(self.q.values())))
        a = self.recipe["alkali"]
        koh = f"({a.get('koh_of_moles_pct', 0)}/100)"
        if "koh_of_grams_pct" in a:
            raise Unknown("potash by grams of the mixture")
        self.mol, self.counts, self.pure, self.material, self.stock_water, self.own_water = {}, {}, {}, {}, [], []
        need = self.put("alkali asked", f"({self.b}-{self.h})*(1-{a.get('superfat_pct', 0)}/100)+" + total([self.q[d["id"]] for d in self.recipe["doses"] if self.added(d)]))
        for kind, share in (("naoh", f"(1-{koh})"), ("koh", koh)):
            if "given" in a and kind not in a["given"] or "given" not in a and share in ("(1-(100/100))", "(0/100)"):
                continue
            stock = a.get(kind, {})
            if "solution" in stock or stock.get("also_holds"):
                raise Unknown("a solution as bought, or a stock that holds more than alkali and water")
            purity = stock.get("purity_pct", {"naoh": 100 if "given" in a else 98, "koh": 90}[kind])
            pure, water = f"({purity}/100)", "0"
            if made := stock.get("made"):
                solid, wet = grams(made["solid"]), grams(made["water"], WATER_DENSITY)
                pure, water = f"({solid}*{made.get('purity_pct', 98)}/100/({solid}+{wet}))", f"({wet}/({solid}+{wet}))"
            if "given" in a:
                cell = self.put(f"{kind} given", str(grams(a["given"][kind])))
            else:
                cell = self.put(f"{kind} weighed", self.rounded(f"({need}*{share}*{MOLAR[kind]}/{pure})", "down"))
            self.weigh[kind] = self.material[kind] = cell
            self.pure[kind] = self.put(f"alkali.{kind}_pure_g", f"{cell}*{pure}")
            self.mol[kind] = self.put(f"{kind} mol", f"{self.pure[kind]}/{MOLAR[kind]}")
            self.counts[kind] = self.put(f"alkali.{kind}_g", self.pure[kind] if made else cell)
            self.stock_water.append(f"{cell}*{water}")
            if kind == "koh" and not made:
                self.own_water.append(f"({cell}-{self.pure[kind]})")
        self.a = self.put("alkali.total_mol", total(list(self.mol.values())))

    def _superfat(self):
        surface = total([f"{cell}*{self.need[of]}" for _, of, cell, on in self.held if on])
        self.put("batch_superfat.superfat_pct", f"100*(1-({self.a}-{self.sum_q})/({self.b}-{surface}))")
        whole = total([self.q[d["id"]] for d in self.recipe["doses"] if not d["portion_id"]])
        cells = []
        for p, share in self.shares.items():
            own = total([self.q[d["id"]] for d in self.recipe["doses"] if p and d["portion_id"] == p])
            held = total([f"{cell}*{self.need[of]}" for portion, of, cell, on in self.held if p and portion == p and not on])
            cells.append(self.put(f"portions[{p or 'all'}].superfat.superfat_pct", f"100*(1-({share}*({self.a}-{whole})-{own})/({share}*({self.b}-{self.h})+{held}))"))
        self.put("superfat.superfat_pct", f"MIN({';'.join(cells)})")
