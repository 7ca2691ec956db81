"""Asks the built lixi for every demo recipe, and gives each worksheet with the answer it belongs to."""

import json
import subprocess
from collections import Counter
from decimal import Decimal
from pathlib import Path

import beside
import names
from judge import Sheet
from leaves import Catalog

ROOT = Path(__file__).resolve().parent.parent.parent
RECIPES = ROOT / "testdata" / "recipes"
PRICES = RECIPES / "prices.yaml"


def lixi(*arguments, unless=None, said=None, text=False):
    """The message that lixi prints. A danger finding (exit code 1) is an answer too; None where it refuses in these words."""
    run = subprocess.run([ROOT / "bin" / "lixi", *arguments, "--server", lixi.server], capture_output=True, text=True, check=False, cwd=ROOT, input=said)
    if unless and run.returncode == 2 and unless in run.stderr:
        return None
    if run.returncode > 1:
        raise SystemExit(f"witness: lixi {' '.join(map(str, arguments))}: {run.stderr}")
    if text:
        return run.stdout
    return json.loads(run.stdout, parse_float=Decimal, parse_int=Decimal)


def ask(command, path, *more, unless=None):
    """One call: what is asked and what is answered. None where the recipe is not made for it."""
    request = lixi(command, path, *more, "--request", "--worksheet", unless=unless)
    if request is None or command == "cost" and not request["recipes"][0].get("terms"):
        return None
    return Call(path.stem, command, request, lixi(command, path, *more, "--json", "--worksheet"))


def catalog():
    return Catalog(lixi("catalog", "fats", "--json"), lixi("catalog", "additives", "--json"))


class Call:
    """One answer of lixi: what was asked, what came, and the worksheets in it."""

    def __init__(self, name, command, request, answer):
        self.name, self.command, self.request, self.answer = name, command, request, answer
        self.before = self.after = None  # formulated, of a swap
        self.behavior = {}  # what additives do, for an answer that does not repeat it

    def sheets(self, known):
        a, q = self.answer, self.request
        if self.command == "cost":
            for costing in a["costings"]:
                renamed, elsewhere = names.of_costing(costing)
                yield Sheet(costing["worksheet"], list(names.numbers(renamed)), q, self.behavior, known, elsewhere)
            return
        f = a["plan"] if self.command == "weigh" else a.get("formulation")
        if self.command == "swap":  # the worksheet is that of its recipe, formulated
            q, f = self.after.request, self.after.answer["formulation"]
        if self.command == "scale":  # the worksheet is that of the recipe at its new size
            q = {"recipe": a["recipe"], "balances": a["balances"]}
        yield Sheet(f["worksheet"], list(names.numbers(f)), q, f["behavior"], known)
        if self.command == "weigh":
            yield Sheet(a["worksheet"], list(names.numbers(a)), q, f["behavior"], known)

    def judge(self, known):
        """What is wrong with the answer, and what was looked at."""
        wrong, seen = self.beside()
        for sheet in self.sheets(known):
            heard, looked = sheet.judge()
            wrong, seen = wrong + heard, seen + looked
        return wrong, seen

    def beside(self):
        """What is wrong with the figures that stand on no worksheet, and what was looked at."""
        if self.command == "scale":
            return beside.size(self.request, self.answer)
        if self.command == "swap":
            return beside.swap(self.answer, self.before.answer["formulation"], self.after.answer["formulation"])
        return [], Counter()


def swapped(path, plain):
    """The first fat of a recipe that has an id, replaced by lard, or lard by olive oil."""
    line = next(f for f in plain.request["recipe"]["fats"] if "fat" in f)
    change = f"{line['id']}={'olive-oil' if line['fat'] == 'lard' else 'lard'}"
    call = Call(path.stem, "swap", plain.request, lixi("swap", path, change, "--json"))
    recipe = lixi("swap", path, change, "--recipe", text=True)
    call.before = plain
    call.after = Call(path.stem, "formulate", *(lixi("formulate", "-", "--worksheet", as_, said=recipe) for as_ in ("--request", "--json")))
    return call


def every_call():
    """All calls of all demo recipes."""
    for path in sorted(RECIPES.glob("*.yaml")):
        if path == PRICES:
            continue
        plain = ask("formulate", path, unless="weighed masses belong to lixi weigh")
        if plain is None:
            yield ask("weigh", path)
            continue
        yield plain
        yield swapped(path, plain)
        if scale := ask("scale", path, unless="no size"):
            yield scale
        if cost := ask("cost", path, "--prices", PRICES, "--partial") or ask("cost", path, "--prices", PRICES, "--partial", "--bars", "10"):
            cost.behavior = plain.answer["formulation"]["behavior"]
            yield cost
