"""Proves the witness: tampers with answers in every way it claims to notice, and expects to be caught each time."""

import copy
from decimal import Decimal

import methods

MORE = Decimal("1.000000001")
# Of the lines that a way fits, every so many are tampered with.
EVERY = 50


def _lines(sheet, fits):
    return [i for i, line in enumerate(sheet.lines) if fits(line)][::EVERY]


def _off(value):
    return value * MORE if value else Decimal("0.001")


def _value(sheet):
    for i in _lines(sheet, lambda l: l["expression"]):
        yield i, lambda s, i=i: s.lines[i].update(value=_off(s.lines[i]["value"]))


def _method_value(sheet):
    for i in _lines(sheet, lambda l: l["method"] in methods.AGAIN or l["id"].endswith((".low95_pct", "_probability_pct"))):
        yield i, lambda s, i=i: s.lines[i].update(value=s.lines[i]["value"] + 1)


def _expression(sheet):
    for i in _lines(sheet, lambda l: l["value"] and l["expression"]):
        yield i, lambda s, i=i: s.lines[i].update(expression=f"({s.lines[i]['expression']}) * 1.000000001")


def _sign(sheet):
    for i in _lines(sheet, lambda l: l["value"] and l["expression"] and l["inputs"]):
        yield i, lambda s, i=i: s.lines[i].update(expression=f"0 - ({s.lines[i]['expression']})")


def _with(sheet, origin):
    return _lines(sheet, lambda l: any(origin in x for x in l["inputs"]))


def _path(sheet):
    for origin in ("line_id", "request_path", "data_row", "adjustment"):
        for i in _with(sheet, origin):
            def change(s, i=i, origin=origin):
                x = next(x for x in s.lines[i]["inputs"] if origin in x)
                x[origin] += "x"
            yield f"{origin} {i}", change


def _operand(sheet):
    for origin in ("line_id", "request_path", "data_row", "adjustment"):
        for i in _with(sheet, origin):
            def change(s, i=i, origin=origin):
                x = next(x for x in s.lines[i]["inputs"] if origin in x)
                x["value"] = _off(x["value"])
            yield f"{origin} {i}", change


def _order(sheet):
    for i in _with(sheet, "line_id"):
        def change(s, i=i):
            s.lines.insert(0, s.lines.pop(i))
        yield i, change


def _missing(sheet):
    # Left out, a 0 that nobody reads says the same: what would be zero is not written.
    sheet.judge()
    for i in _lines(sheet, lambda l: l["id"] not in sheet.ends | sheet.idle):
        yield i, lambda s, i=i: s.lines.pop(i)


def _doubled(sheet):
    for i in range(0, len(sheet.lines), EVERY):
        yield i, lambda s, i=i: s.lines.insert(i + 1, copy.deepcopy(s.lines[i]))


def _request(sheet):
    """Takes the leaf out of the request that a line reads."""
    for i in _with(sheet, "request_path"):
        path = next(x["request_path"] for x in sheet.lines[i]["inputs"] if "request_path" in x)
        if "[" in path or path.endswith((".carrier.fat", ".carrier.water")):
            continue

        def change(s, path=path):
            *steps, last = path.split(".")
            at = s.request
            for step in steps:
                at = at[step]
            del at[last]
        yield path, change


def _number(sheet):
    for i in range(0, len(sheet.numbers), EVERY):
        def change(s, i=i):
            path, value = s.numbers[i]
            s.numbers[i] = (path, _off(value))
        if not sheet.numbers[i][0].startswith(("weigh_out", "doses")) or "_g" in sheet.numbers[i][0]:
            yield sheet.numbers[i][0], change


WAYS = {
    "the value of a line": _value, "the value of a method": _method_value, "an expression": _expression, "a sign": _sign,
    "the path of an operand": _path, "an operand": _operand, "the order of lines": _order, "a line left out": _missing,
    "a line twice": _doubled, "a leaf that is not in the request": _request, "a number of the answer": _number,
}


# The same for what stands beside the worksheets.
BESIDE = {
    "scale": {"the factor": lambda a: a.update(factor=a["factor"] * Decimal("1.02"))},
    "swap": {"a figure after": lambda a: a["after"]["alkali"].update(total_mol=_off(a["after"]["alkali"]["total_mol"])),
             "a change": lambda a: a["changes"][0].update(before=_off(a["changes"][0]["before"]))},
}


def prove(answers, known, total):
    """Tamper with the first answer of each command in every way; give what was not noticed."""
    missed, done, caught_in = [], set(), dict.fromkeys(WAYS, 0)
    for call in answers:
        # The richest demo of each command, and the one where alkali is given.
        if (call.command, call.name) not in PROVEN or (call.command, call.name) in done:
            continue
        done.add((call.command, call.name))
        for n, sheet in enumerate(call.sheets(known)):
            for way, changes in WAYS.items():
                for where, change in changes(sheet):
                    total["tamperings"] += 1
                    spoiled = sheet.copy()
                    change(spoiled)
                    if spoiled.judge()[0]:
                        total["caught"] += 1
                        caught_in[way] += 1
                    else:
                        missed.append(f"tampering with {way} ({where}) of {call.command} {call.name}, sheet {n + 1}, was not noticed")
    for call in answers:
        for way, change in BESIDE.get(call.command, {}).items():
            total["tamperings"] += 1
            spoiled = copy.deepcopy(call)
            change(spoiled.answer)
            if spoiled.beside()[0]:
                total["caught"] += 1
            else:
                missed.append(f"tampering with {way} of {call.command} {call.name} was not noticed")
    total["ways"] = len(WAYS) + sum(map(len, BESIDE.values()))
    missed += [f"{way} was never tried" for way, n in caught_in.items() if n == 0]
    missed += [f"no answer to {command} for {name} to tamper with" for command, name in PROVEN - done]
    return missed


PROVEN = {("formulate", "harbor-morning"), ("formulate", "lye-heavy-check"), ("weigh", "before-combining"),
          ("cost", "harbor-morning"), ("scale", "kitchen-bar-mild")}
