"""Judges one worksheet against the answer it belongs to: arithmetic, order, leaves, methods, numbers."""

import copy
from collections import Counter
from decimal import Decimal

import expr
import methods
import names
from leaves import Leaves, Missing

TOLERANCE = Decimal("1e-12")
SOURCES = ("request_path", "data_row", "adjustment")
# Numbers that an expression may hold: molar masses (IUPAC weights rounded), glycerol, percent, milligrams, hours, and
# the units of the contract. Those of fatty acids are compared with the table of the acid they stand beside.
LITERALS = {Decimal(x) for x in (
    "0", "1", "3", "60", "100", "1000", "39.997", "56.1056", "18.015", "92.094",
    "28.349523125", "453.59237", "29.5735295625", "236.5882365", "4.92892159375")}


class Sheet:
    """A worksheet, with what its lines may read."""

    def __init__(self, lines, numbers, request, behavior, catalog, elsewhere=None):
        self.lines, self.numbers, self.request, self.catalog = lines, numbers, request, catalog
        self.behavior, self.elsewhere = behavior, elsewhere or {}
        self.leaves = Leaves(request, behavior, catalog)
        costed = request["recipes"][0] if "recipes" in request else request
        self.request_balances = costed["balances"]
        recipe = self.recipe = costed["recipe"]
        fats = [f["id"] for f in recipe["fats"]]
        # A carrier that is a fat of the recipe is fat held back from it; any other brings fat.
        self.fat_lines = set(fats) | {d["id"] + "/carrier" for d in recipe["doses"] if "fat" in d.get("carrier", {})}
        self._at, self._precise = {}, {}

    def copy(self):
        """The same sheet, to be tampered with."""
        return Sheet(copy.deepcopy(self.lines), list(self.numbers), copy.deepcopy(self.request), self.behavior, self.catalog, self.elsewhere)

    def value(self, line):
        return self._at[line]["value"]

    def value_or_zero(self, line):
        """The value of a line; what would be zero is not written."""
        return self._at[line]["value"] if line in self._at else Decimal(0)

    def line(self, line):
        return self._at.get(line)

    def precise(self, line):
        """The value of a line worked out from the leaves with all digits."""
        return self._precise[line]

    def takes_alkali(self, dose):
        return any(f"{p}doses.{dose}.{x}" in self._at or f"doses.{dose}.{x}" in self._ids
                   for p in ("", "plan.") for x in ("alkali_mol", "fats_need_mol"))

    def judge(self):
        """Give what is wrong, and what was looked at: a list of words and a counter."""
        self.wrong, self.seen = [], Counter(worksheets=1)
        self.ends, self.idle = set(), set()  # lines read by none: that are no number of this answer, and that are 0
        self._ids = {line["id"] for line in self.lines}
        read = set()
        for line in self.lines:
            self._line(line)
            read.update(i["line_id"] for i in line["inputs"] if "line_id" in i)
        named = self._numbers()
        self.ends = self._ids - read - named
        self.idle = {line["id"] for line in self.lines if line["id"] not in read and not line["value"]}
        self.seen["ends"] = len(self.ends)
        return self.wrong, self.seen

    def _complain(self, line, words):
        self.wrong.append(f"{line['id']}: {words}")

    def _line(self, line):
        self.seen["lines"] += 1
        if line["id"] in self._at:
            self._complain(line, "stands twice")
        given, exact, acids = {}, {}, {}
        for i in line["inputs"]:
            if i["name"] in given:
                self._complain(line, f"input {i['name']} comes twice")
            given[i["name"]], exact[i["name"]] = i["value"], self._input(line, i)
            if i.get("data_row", "").startswith("fatty_acids/"):
                acids[i["name"]] = self.catalog.acids.get(i["data_row"].split("/")[-1], set())
        self._at[line["id"]] = line
        self._precise[line["id"]] = line["value"]
        if bool(line["method"]) == bool(line["expression"]):
            self._complain(line, "needs an expression or a method, and not both")
        elif line["method"]:
            self._method(line)
        else:
            self._expression(line, given, exact, acids)

    def _input(self, line, i):
        """Look for where an input comes from, and give its value with all digits."""
        origins = [s for s in SOURCES + ("line_id",) if s in i]
        if len(origins) != 1:
            self._complain(line, f"input {i['name']} has {len(origins)} origins")
        elif origins[0] != "line_id":
            self.seen["leaves"] += 1
            try:
                self.leaves.check(origins[0], i[origins[0]], i["value"])
            except Missing as e:
                self._complain(line, f"input {i['name']}: {e}")
        elif i["line_id"] not in self._at:
            self._complain(line, f"reads {i['line_id']} before it stands there")
        else:
            if self._at[i["line_id"]]["value"] != i["value"]:
                self._complain(line, f"reads {i['value']} off {i['line_id']}, which is {self._at[i['line_id']]['value']}")
            return self._precise[i["line_id"]]
        return i["value"]

    def _method(self, line):
        try:
            if methods.check(line, self):
                self.seen["worked out anew"] += 1
            else:
                self.seen[("trusted", line["method"], methods.figure(line["id"]))] += 1
        except (methods.Unlike, ArithmeticError, KeyError) as e:
            self._complain(line, f"{line['method']}: {e!r}, the line says {line['value']}")

    def _expression(self, line, given, exact, acids):
        try:
            tree = expr.parse(line["expression"])
            again = expr.work_out(tree, given)
            self._precise[line["id"]] = expr.work_out(tree, exact)
            self.seen["expressions"] += 1
        except expr.Malformed as e:
            return self._complain(line, str(e))
        # The difference of two sums of money is as exact as the larger of them.
        scale = max([abs(v) for v in given.values()] + [0]) if line["id"].startswith("cost.") else abs(again)
        if abs(again - line["value"]) > TOLERANCE * scale:
            self._complain(line, f"{line['expression']} gives {again:.17}, the line says {line['value']}")
        used = {n[1] for n in expr.nodes(tree) if n[0] == "name"}
        if used != set(given):
            self._complain(line, f"does not use {sorted(set(given) - used)}")
        self._literals(line, tree, acids)

    def _literals(self, line, tree, acids):
        """A number in an expression is a constant of the trade, or one of the fatty acid beside it."""
        for n in expr.nodes(tree):
            if n[0] in "*/" and n[2][0] == "number" and n[1][0] == "name" and n[1][1] in acids:
                if n[2][1] not in acids[n[1][1]]:
                    self._complain(line, f"{n[2][1]} is no figure of the fatty acid {n[1][1]} stands for")
            elif n[0] in "+-*/":
                for side in n[1:]:
                    if side[0] == "number" and side[1] not in LITERALS and not (line["id"].endswith("mass_g") and self._acid_mass(line, side[1])):
                        self._complain(line, f"{side[1]} comes from nowhere")

    def _acid_mass(self, line, number):
        acid = line["id"].removeprefix("profile.acids.").removesuffix(".mass_g")
        return number in self.catalog.acids.get(acid, set())

    def _numbers(self):
        """Look for the line of every number of the answer."""
        named = set()
        for path, value in self.numbers:
            self.seen["numbers"] += 1
            line, why = names.line_of(path)
            line = self.elsewhere.get(path, line)
            if line is None:
                self.seen[("exempt", why)] += 1
            elif line in self._at:
                named.add(line)
                if self._at[line]["value"] != value:
                    self.wrong.append(f"answer {path}: {value}, but {line} is {self._at[line]['value']}")
            elif value != 0:  # what would be zero is not written
                self.wrong.append(f"answer {path}: {value} is on no line (looked for {line or 'nothing'})")
            else:
                self.seen[("exempt", "0, and a line that would be zero is not written")] += 1
        return named
