"""Lines that come from a method instead of an expression: those that can be worked out anew are, the rest are trusted."""

import re
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

import doubt
import tables
from expr import DIGITS
from units import grams

# Methods that are taken on trust, with the reason.
TRUSTED = {
    "superfat-distribution": "an upper end that waxes or sugars widen by what no line lists",
    "settled-again": "the whole reckoning with one change",
    "trace-estimate": "an estimate with a band, marked as one in the answer",
    "change of size": "molds and what they hold, which the tests of the engine look at",
    "finding": "a limit or comparison that the text of the finding states",
}
CENT = Decimal("0.01")
SLACK = Decimal("1e-9")


class Unlike(Exception):
    """The method gives another value."""


def figure(line):
    """The figure that a line is, without the ids of the recipe."""
    line = re.sub(r"^findings\..*", "findings", line.removeprefix("plan."))
    line = re.sub(r"^portion\.[^.]+\.", "portion.*.", line)
    return re.sub(r"^(behavior\.trace\.factors)\.[^.]+", r"\1.*", line)


def check(line, sheet):
    """Work a line out anew. True: it was; False: it is trusted. Unlike when it differs."""
    method = line["method"]
    if method == "superfat-distribution":
        return _likely(line, sheet)
    if method in TRUSTED:
        return False
    again = AGAIN.get(method)
    if again is None:
        raise Unlike(f"method {method!r} is not known")
    value = again(line, {i["name"]: i["value"] for i in line["inputs"]}, sheet)
    # A doubt sums squares of small differences, which floats do to nine digits and not to twelve.
    tolerance = Decimal("1e-9" if again is _doubt else "1e-12")
    if value is None or abs(value - line["value"]) > tolerance * max(abs(value), CENT):
        raise Unlike(f"{method} gives {value}")
    return True


def _balance(line, x, sheet):
    """Whole steps of the finest balance that holds the rounded mass; several weighings above every capacity."""
    way = _direction(line["id"], sheet)
    shelf = [(grams(b["step"]), grams(b["capacity"]) if "capacity" in b else None) for b in sheet.request_balances]
    adding = line["id"].endswith(".add_g")
    fine = [(s, c) for s, c in shelf if c is None or _steps(x["exact"], s, way) <= c]
    if adding:
        return _steps(x["exact"], x["step"], way)  # on the balance of its line
    results = []
    for direction in way if isinstance(way, tuple) else (way,):
        if fine:
            step = min(s for s, _ in fine)
            results.append((step, _steps(x["exact"], step, direction)))
        else:
            step, most = max(shelf, key=lambda b: b[1])
            n = (x["exact"] / most).to_integral_value(ROUND_CEILING)
            while _steps(x["exact"] / n, step, direction) > most:
                n += 1
            results.append((step, n * _steps(x["exact"] / n, step, direction)))
    if any(step != x["step"] for step, _ in results):
        raise Unlike(f"the finest balance that holds it has a step of {results[0][0]} g")
    return next((v for _, v in results if abs(v - line["value"]) < SLACK), results[0][1])


def _steps(mass, step, way):
    k = DIGITS.divide(mass, step)
    rounding = {"up": (ROUND_CEILING, -SLACK), "down": (ROUND_FLOOR, SLACK)}.get(way if isinstance(way, str) else way[0], (ROUND_FLOOR, Decimal("0.5") + SLACK))
    return (k + rounding[1]).to_integral_value(rounding[0]) * step


def _direction(line, sheet):
    """Fats up, alkali down; doses that take alkali or bring fat up, others to the nearest; water too, up where the jug needs it."""
    of = line.removeprefix("plan.").removeprefix("weigh.").removeprefix("corrections.").rsplit(".", 1)[0]
    if of in ("naoh", "koh"):
        return "down"
    if of == "water":
        return ("nearest", "up")
    if of in sheet.fat_lines or sheet.takes_alkali(of):
        return "up"
    return "nearest"


def half_up(x, unit=CENT):
    return x.quantize(unit, ROUND_HALF_UP, DIGITS)


def up(x, unit=CENT):
    return x.quantize(unit, ROUND_CEILING, DIGITS)


def _cents(line, x, sheet):
    name = line["id"]
    exact = sheet.precise(line["inputs"][0]["line_id"])
    terms = sheet.request["recipes"][0]["terms"]
    asked = "margin_pct" in terms or "markup_pct" in terms
    if name == "cost.per_bar":
        return up(exact)
    if name.endswith(".per_bar"):
        return half_up(exact, Decimal("0.0001"))
    if asked and name == ("cost.price_held" if terms["price_includes_tax"] else "cost.price_before_tax"):
        return _held(exact, terms, sheet)
    if asked and terms["price_includes_tax"] and name == "cost.price_with_tax":
        return up(exact)
    return half_up(exact)


def _held(exact, terms, sheet):
    """The price in whole cents; one worked out with half a cent more where the margin would not hold otherwise."""
    price, cost = up(exact), sheet.value("cost.per_bar")
    if "margin_pct" not in terms:
        return price
    fixed, tax = Decimal(terms["fee_per_bar"] or 0), Decimal(terms["tax_pct"]) / 100
    margin, fee = Decimal(terms["margin_pct"]) / 100, Decimal(terms["fee_pct"]) / 100
    before = half_up(up(price * (1 + tax)) / (1 + tax)) if terms["price_includes_tax"] else price
    if before - half_up(fixed + before * fee) - cost >= before * margin:
        return price
    return up(DIGITS.divide(cost + fixed + Decimal("0.005"), 1 - margin - fee))


def _bars(line, x, sheet):
    earned = x["price"] - x["fees"]
    if earned <= 0:
        return Decimal(0)
    bars = DIGITS.divide(x["batch"], earned).to_integral_value(ROUND_CEILING)
    return bars if bars <= x["bars"] else Decimal(0)


def _doubled(line, x, sheet):
    more = sum((half_up(2 * e) - half_up(e) for e in (sheet.precise(i["line_id"]) for i in line["inputs"] if i["name"].startswith("line_"))), Decimal(0))
    batch = x["batch"] + more
    if "overhead_pct" in x:
        batch += half_up((x["base"] + more) * x["overhead_pct"] / 100) - x["overhead"]
    return up(DIGITS.divide(batch, x["bars"]))


def _likely(line, sheet):
    chances = doubt.likely(line, sheet)
    if chances is None:
        return False
    if abs(chances[0] - chances[1]) > doubt.LIKELY:
        raise Unlike(f"a chance of {chances[0]:.5f} where {chances[1]:.5f} should be")
    return True


def _table(line, x, sheet):
    return tables.again(line, sheet)


def _doubt(line, x, sheet):
    return doubt.again(line, sheet)


AGAIN = {"balance-rounding": _balance, "cent-rounding": _cents, "whole-bars": _bars, "price-doubled": _doubled,
         "table-interpolation": _table, "first-order-propagation": _doubt, "worst-case": _doubt}
