"""Alkali, water and cost of every demo recipe once more, by a spreadsheet with formulas of its own that LibreOffice
recalculates: compared with the answers to 1e-9 relative, money to the cent."""

import copy
from decimal import Decimal, InvalidOperation

import batch
import costing
import names
import water
from fods import Book

OFF = "off "  # rows with data that were moved
TOLERANCE = Decimal("1e-9")
CENT = Decimal("0.001")  # less than half a cent: two sums of whole cents this near are the same


def write(book, answers, known, prefix="", off=Decimal(0)):
    """The rows of all demos; off moves every saponification value by itself and every price by a hundred times as much."""
    for call in answers:
        request = call.request["recipes"][0] if call.command == "cost" else call.request
        b = batch.Batch(book, f"{prefix}{call.command} {call.name}", request, known, off)
        water.settle(b)
        if call.command == "cost":
            costing.settle(b, costing.Prices(call.request["prices"], known, off * 100), request["terms"])


def figures(call):
    """The figures of an answer by the names of the sheet."""
    if call.command != "cost":
        f = call.answer["plan"] if call.command == "weigh" else call.answer["formulation"]
        out = dict(names.numbers(f))
        out.update({line["line_id"] + " weighed": line["weigh_g"] for line in f["weigh_out"]})
        return out
    costing_of = call.answer["costings"][0]
    out = {"cost." + path: value for path, value in names.numbers({k: v for k, v in costing_of.items() if k not in ("lines", "sensitivity")})}
    for line in costing_of["lines"]:
        if line["layer"] == "materials":
            key = "cost.line " + line["line_id"]
            out[key] = out.get(key, 0) + Decimal(line["amount"])
    return out


def compare(answers, values):
    """What differs, and how many figures were compared."""
    wrong, compared = [], 0
    for call in answers:
        there = figures(call)
        here = {k.split("/", 1)[1]: v for k, v in values.items() if k.startswith(f"{call.command} {call.name}/")}
        found = 0
        for key in there.keys() & here.keys():
            try:
                mine = Decimal(here[key])
            except InvalidOperation:
                wrong.append(f"{call.command} {call.name}: {key} is {here[key]!r} on the sheet")
                continue
            found += 1
            money = key.startswith("cost.") and not key.endswith("_pct")
            if abs(mine - there[key]) > (CENT if money else TOLERANCE * max(abs(there[key]), abs(mine), Decimal("1e-6"))):
                wrong.append(f"{call.command} {call.name}: {key} is {there[key]}, and {mine} on the sheet")
        if found < (6 if call.command == "cost" else 20):
            wrong.append(f"{call.command} {call.name}: only {found} figures could be compared")
        compared += found
    return wrong, compared


def prove(answers, values, off):
    """Data moved under the sheet, and figures moved in the answers: both must be noticed in every answer."""
    missed = []
    for call in answers:
        if not compare([call], off)[0]:
            missed.append(f"saponification values and prices that are off were not noticed in {call.command} {call.name}")
        spoiled = copy.deepcopy(call)
        if call.command == "cost":
            spoiled.answer["costings"][0]["per_batch"] = str(Decimal(call.answer["costings"][0]["per_batch"]) + Decimal("0.01"))
        else:
            f = spoiled.answer["plan" if call.command == "weigh" else "formulation"]
            f["alkali"]["total_mol"] *= Decimal("1.00000001")
        if not compare([spoiled], values)[0]:
            missed.append(f"a figure changed in {call.command} {call.name} was not noticed")
    return missed


def check(answers, known, keep=None):
    """Compare every answer that formulates or costs, and prove that the comparison can fail; give what is wrong."""
    answers = [c for c in answers if c.command in ("formulate", "weigh", "cost")]
    book = Book()
    write(book, answers, known)
    rows = len(book.rows)
    write(book, answers, known, OFF, Decimal("0.01"))
    values = book.recalculated(keep)
    wrong, compared = compare(answers, {k: v for k, v in values.items() if not k.startswith(OFF)})
    missed = prove(answers, values, {k.removeprefix(OFF): v for k, v in values.items() if k.startswith(OFF)})
    print(f"spreadsheet: {len(answers)} answers, {rows} rows, {compared} figures compared; {2 * len(answers)} tamperings, {2 * len(answers) - len(missed)} caught")
    return ["sheet: " + words for words in wrong + missed]
