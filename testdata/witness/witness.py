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

# The figures that are taken on trust, by method.
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
    wrong += trust(total)
    summary(total, len(answers))
    for words in wrong:
        print("witness:", words, file=sys.stderr)
    return 1 if wrong else 0


def trust(total):
    """Compare the figures that were trusted with those that were written down: the list may only shrink."""
    now = {}
    for _, method, figure in (key for key in total if key[0] == "trusted"):
        now.setdefault(method, set()).add(figure)
    written = json.loads(TRUSTED.read_text(encoding="utf-8"))
    out = []
    for method in sorted(now.keys() | written.keys()):
        new, gone = now.get(method, set()) - set(written.get(method, [])), set(written.get(method, [])) - now.get(method, set())
        out += [f"{x} comes by {method}, which nobody works out anew: work it out, the list of what is trusted may only shrink" for x in sorted(new)]
        out += [f"{x} is no longer taken on trust: take it off {TRUSTED.name}" for x in sorted(gone)]
    return out


def summary(total, answers):
    trusted, figures = Counter(), Counter()
    for key in total:
        if key[0] == "trusted":
            trusted[key[1]] += total[key]
            figures[key[1]] += 1
    print(f"{answers} answers, {total['worksheets']} worksheets: {total['lines']} lines, {total['leaves']} leaves, {total['numbers']} numbers of answers")
    print(f"{total['expressions']} lines by expression and {total['worked out anew']} by method worked out anew; {sum(trusted.values())} lines of {sum(figures.values())} figures taken on trust:")
    for method, n in sorted(trusted.items()):
        print(f"  {n:5} of {figures[method]} by {method}: {methods.TRUSTED[method]}")
    print(f"{total['ends']} lines are read by no other and are no number of their answer: a costing carries those of its batch")
    print("numbers without a line of their own:")
    for key, n in sorted(total.items(), key=str):
        if key[0] == "exempt":
            print(f"  {n:5} {key[1]}")
    print(f"{total['tamperings']} tamperings of {total['ways']} kinds, {total['caught']} caught")


if __name__ == "__main__":
    sys.exit(main())
