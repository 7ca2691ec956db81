"""What answers say beside a worksheet: the change of size of scale, the comparison of swap."""

from collections import Counter
from decimal import Decimal

import names
from units import grams

TOLERANCE = Decimal("1e-9")


def _like(a, b):
    return abs(a - b) <= TOLERANCE * max(abs(a), abs(b))


def size(request, answer):
    """The factor between the recipes, what is left on the shelf, the bar after the cure. Molds are taken on trust."""
    wrong, seen = [], Counter()
    factor = answer["factor"]
    seen["numbers"] = seen["worked out anew"] = 1
    if "total_fats" in request["recipe"]:
        pairs = [(grams(request["recipe"]["total_fats"]), sum(grams(f["mass"]) for f in answer["recipe"]["fats"]))]
    else:
        pairs = [(grams(a["mass"]), grams(b["mass"])) for a, b in zip(request["recipe"]["fats"], answer["recipe"]["fats"])]
    # The recipe at its size is rounded up to the balances, each line by less than the coarsest step.
    coarsest = max((grams(b["step"]) for b in answer["balances"]), default=Decimal(0)) * (len(answer["recipe"]["fats"]) if len(pairs) == 1 else 1)
    for before, after in pairs:
        if not -TOLERANCE * after <= after - before * factor <= coarsest + TOLERANCE * after:
            wrong.append(f"factor {factor}: {before} g became {after} g")
    weighed = {}
    for line in answer["formulation"]["weigh_out"]:
        of = line["of_line_id"] or line["line_id"]
        weighed[of] = weighed.get(of, 0) + line["weigh_g"]
    on_hand = {x["line_id"]: grams(x["mass"]) for x in request.get("fit", {}).get("stock", {}).get("on_hand", [])}
    for x in answer["stock"]:
        seen["numbers"] += 3
        seen["worked out anew"] += 3
        if x["on_hand_g"] != on_hand[x["line_id"]] or not _like(x["used_g"], weighed[x["line_id"]]) or abs(x["on_hand_g"] - x["used_g"] - x["left_g"]) > TOLERANCE * x["on_hand_g"]:
            wrong.append(f"stock of {x['line_id']}: {x['on_hand_g']} g less {x['used_g']} g is not {x['left_g']} g, or not what is weighed")
    if bar := answer.get("bar"):
        seen["numbers"] += 3
        seen["worked out anew"] += 1
        seen[("trusted", "change of size", "bar")] += 2
        if not _like(bar["fresh_g"] * (1 - bar["cure_loss_pct"] / 100), bar["cured_g"]):
            wrong.append(f"a bar of {bar['fresh_g']} g does not cure to {bar['cured_g']} g")
    rest = len(list(names.numbers({"wanted_batter_g": answer["wanted_batter_g"], "molds": answer["molds"], "findings": answer["findings"]})))
    seen["numbers"] += rest
    seen[("trusted", "change of size", "molds, findings and batter wanted")] += rest
    return wrong, seen


def swap(answer, before, after):
    """Both batches of a swap are those that formulate gives for their recipes, and what changes is the difference of numbers in them."""
    wrong, seen = [], Counter()
    for word, mine in (("before", before), ("after", after)):
        there, here = (dict(names.numbers(x)) for x in (answer[word], mine))
        seen["numbers"] += len(there)
        for path in there.keys() | here.keys():
            if there.get(path) != here.get(path):
                wrong.append(f"{word} {path}: {there.get(path)} of swap, {here.get(path)} of formulate")
    for change in answer["changes"]:
        for word in ("before", "after"):
            seen["numbers"] += 1
            if change[word] != 0 and change[word] not in dict(names.numbers(answer[word])).values():
                wrong.append(f"change of {change['name']}: {change[word]} is no figure of the batch {word}")
    return wrong, seen
