"""Which line of the worksheet each number of an answer is the value of, and the
numbers that have none, each with the reason."""

import re
from decimal import Decimal, InvalidOperation

# Path of the number in the answer -> id of its line. The first that fits counts.
RULES = [(re.compile(pattern + r"\Z"), line) for pattern, line in [
    (r"weigh_out\[([^\]]+)\]\.teaspoons_us", r"doses.\1.teaspoons_us"),
    (r"weigh_out\[([^\]]+)\]\.(.+)", r"weigh.\1.\2"),
    (r"portions\[([^\]]*)\]\.(.+)", r"portion.\1.\2"),
    (r"batch_superfat\.(.+)", r"superfat.batch.\1"),
    (r"superfat_if_pct\[([^\]]+)\]\.value", r"superfat_if.\1"),
    (r"water\.shares\[([^\]]+)\]\.(.+)", r"water.share.\1.\2"),
    (r"doses\[([^\]]+)\]\.carrier_g", r"doses.\1/carrier.mass_g"),
    (r"(fats|doses|corrections)\[([^\]]+)\]\.(.+)", r"\1.\2.\3"),
    (r"profile\.(acids|groups)\[([^\]]+)\]\.(.+)", r"profile.\1.\2.\3"),
    (r"totals\.(fats_g|batter_g)", r"batch.\1"),
    (r"behavior\.trace\.(thin|medium|thick|standing_thin)\.(.+)", r"behavior.trace.\1_min.\2"),
    (r"behavior\.trace\.factors\[([^\]]+)\]\.(.+)", r"behavior.trace.factors.\1.\2"),
    (r"behavior\.(trace_time|firmness)\[([^\]]+)\]\.(.+)", r"behavior.\1_factor.\2.\3"),
    (r"(findings\[.+)", r"\1"),
    (r"cost\.(.+)\.amount", r"cost.\1"),
    (r"(cost\..+)", r"\1"),
    (r"((?:alkali|water|superfat|planned_superfat|profile|totals|behavior)\..+|factor|corrected_superfat_pct)", r"\1"),
]]

# Numbers that stand on no line, and why.
EXEMPT = [(re.compile(pattern), why) for pattern, why in [
    (r"weigh_out\[[^\]]+\]\.parts\Z", "a count of weighings, part of the rounding that is worked out anew"),
    (r"doses\[[^\]]+\]\.steps\[", "advice of a plugin on heat and patience, no figure of the batch"),
    (r"findings\[.+\.water\.measure\.(lye_concentration_pct|water_per_alkali_ratio|water_of_fats_pct)\Z",
     "a remedy that repeats how the request asks for water"),
    (r"size\.", "the change of size, which the witness works out anew beside the worksheet"),
]]

MONEY = {"amount", "per_bar", "per_batch", "price_before_tax", "price_with_tax", "fees_per_bar", "margin_per_bar"}
NO_FIGURES = {"worksheet", "origin", "recipe", "balances", "plan", "formulation"}


def numbers(value, path="", key=""):
    """Every number of an answer with its path; elements of lists go by their ids."""
    if isinstance(value, dict):
        for k, v in value.items():
            if k not in NO_FIGURES:
                yield from numbers(v, f"{path}.{k}" if path else k, k)
    elif isinstance(value, list):
        for i, v in enumerate(value):
            yield from numbers(v, f"{path}[{_called(v, i)}]", key)
    elif isinstance(value, (int, Decimal)) and not isinstance(value, bool):
        yield path, Decimal(value)
    elif isinstance(value, str) and key in MONEY and value:
        try:
            yield path, Decimal(value)
        except InvalidOperation:
            yield path, Decimal("NaN")


def _called(item, i):
    if not isinstance(item, dict):
        return i
    for k in ("line_id", "dose_id", "portion_id", "acid", "name", "code"):
        if k in item:
            text = str(item[k])
            if k == "portion_id" and not text:
                return "all"
            if k == "code":
                return ".".join([text] + item.get("subject_ids", []))
            if k == "name":
                return text.replace(" %", "_pct").replace(" ", "-" if "share_pct" in item else "_")
            return text
    return i


def line_of(path):
    """The id of the line that a number stands on, or None with the reason."""
    for pattern, why in EXEMPT:
        if pattern.match(path):
            return None, why
    for pattern, line in RULES:
        m = pattern.match(path)
        if m:
            return _finding(m.expand(line)), ""
    return "", ""


def _finding(line):
    """findings[code.subject].numbers[x].value -> findings.code.x.subject, as lines are called."""
    m = re.match(r"findings\[([^.\]]+)((?:\.[^\]]+)?)\](.+)\Z", line)
    if not m:
        return line
    code, subjects, rest = m.groups()
    if n := re.match(r"\.numbers\[([^\]]+)\]\.value\Z", rest):
        return f"findings.{code}.{n[1]}{subjects}"
    if n := re.match(r"\.remedies\[(\d+)\]\.effect\[([^\]]+)\]\.value\Z", rest):
        return f"findings.{code}.{n[2]}{subjects}.remedy{int(n[1]) + 1}.effect"
    if n := re.match(r"\.remedies\[(\d+)\]\.superfat_pct\Z", rest):
        return f"findings.{code}.superfat_pct{subjects}.remedy{int(n[1]) + 1}"
    if n := re.match(r"\.remedies\[(\d+)\]\.water\.measure\.mass\.g\Z", rest):
        return f"findings.{code}.water_g{subjects}.remedy{int(n[1]) + 1}"
    return line


def of_costing(costing):
    """The costing with its lines called as in the worksheet, under "cost", and the lines of masses that go by the
    weigh line. Several materials may come from one, so that the n-th of the answer is the n-th of the worksheet."""
    ids = [line["id"] for line in costing["worksheet"]]
    materials = iter([i for i in ids if re.match(r"cost\.line\.[^.]+(?<!_exact)\Z", i)])
    out = {k: v for k, v in costing.items() if k not in ("lines", "sensitivity", "worksheet")}
    weighed = {}
    overhead = iter([i for i in ids if i in ("cost.overhead_per_batch", "cost.overhead_share")])
    for line in costing["lines"]:
        layer = line["layer"]
        called = next({"materials": materials, "overhead": overhead}.get(layer, iter(["cost." + layer])), "cost.nothing")
        called = called.removeprefix("cost.")
        out[called] = {"amount": line["amount"], "per_bar": line["per_bar"]}
        if layer == "materials":
            own = f"cost.{called}.mass_g"
            out[called]["mass_g"] = line["mass_g"]
            if own not in ids:
                weighed[own] = f"weigh.{line['line_id']}.weigh_g"
    for i, s in enumerate(costing["sensitivity"], 1):
        out[f"doubled.{i}"] = {k: v for k, v in s.items() if k != "material"}
    return {"cost": out}, weighed
