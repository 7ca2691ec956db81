#!/usr/bin/env python3
"""A second witness of the answers to every demo recipe: works each worksheet out anew in decimals, looks for every
number of the answer on it and for every leaf in request and data, and proves that it notices what is tampered with."""

import json
import sys
from collections import Counter
from pathlib import Path

import calls
import methods
import server
import sheet
import tamper

# What is taken on trust by method; the figures may only shrink.
TRUSTED = Path(__file__).resolve().parent / "trusted.json"


def main():
    with server.running() as address:
        calls.lixi.server = address
        known = calls.catalog()
        answers = list(calls.every_call())
    wrong, total = [], Counter()
    for call in answers:
        heard, seen = call.judge(known)
        total += seen
        wrong += [f"{call.command} {call.name}: {words}" for words in heard]
    wrong += tamper.prove(answers, known, total)
    wrong += sheet.check(answers, known, keep=sys.argv[1] if len(sys.argv) > 1 else None)
    wrong += trust(total, len(answers))
    summary(total, len(answers))
    for words in wrong:
        print("witness:", words, file=sys.stderr)
    return 1 if wrong else 0


def trust(total, answers):
    """Compare what was trusted with the figures that were written down."""
    names = {key[1]: n for key, n in total.items() if key[0] == "trusted"}
    rates = {name: n for name, n in sorted(names.items())}
    written = json.loads(TRUSTED.read_text(encoding="utf-8"))
    out = []
    for name in sorted(rates.keys() | written.keys()):
        now, then = rates.get(name, 0), written.get(name, 0)
        if now > then:
            out.append(f"{now} lines by {name} are taken on trust, and {then} may be")
        elif now < then:
            out.append(f"only {now} lines by {name} are taken on trust now: write that into {TRUSTED.name} in place of {then}")
    return out


def summary(total, answers):
    trusted = sum(n for key, n in total.items() if key[0] == "trusted")
    print(f"{answers} answers, {total['worksheets']} worksheets: {total['lines']} lines, {total['leaves']} leaves, {total['numbers']} numbers of answers")
    print(f"{total['expressions']} lines by expression and {total['worked out anew']} by method worked out anew; {trusted} taken on trust:")
    for key, n in sorted(total.items(), key=str):
        if key[0] == "trusted":
            print(f"  {n:5} {key[1]}: {methods.TRUSTED.get(key[1], 'molds and what they hold, checked in the tests of the engine')}")
    print(f"{total['ends']} lines are read by no other and are no number of their answer: a costing carries those of its batch")
    print("numbers without a line of their own:")
    for key, n in sorted(total.items(), key=str):
        if key[0] == "exempt":
            print(f"  {n:5} {key[1]}")
    print(f"{total['tamperings']} tamperings of {total['ways']} kinds, {total['caught']} caught")


if __name__ == "__main__":
    sys.exit(main())
