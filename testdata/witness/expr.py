"""Arithmetic of a worksheet line: + - * / ( ), numbers and input names, read by
precedence climbing and worked out with decimals of fifty digits."""

import re
from decimal import Context, Decimal
from functools import lru_cache

DIGITS = Context(prec=50)
_TOKEN = re.compile(r"\s*(?:(?P<number>\d+(?:\.\d+)?)|(?P<name>[A-Za-z_][A-Za-z0-9_]*)|(?P<sign>[-+*/()]))")
_BINDS = {"+": 1, "-": 1, "*": 2, "/": 2}


class Malformed(Exception):
    """The text is no arithmetic."""


@lru_cache(maxsize=None)
def parse(text):
    """Give the tree of an expression: ("number", d), ("name", s) or (sign, left, right)."""
    tokens, at = [], 0
    text = text.rstrip()
    while at < len(text):
        m = _TOKEN.match(text, at)
        if not m:
            raise Malformed(f"{text!r} at character {at}")
        tokens.append((m.lastgroup, m.group(m.lastgroup)))
        at = m.end()
    tree, rest = _climb(tokens, 0, 1)
    if rest != len(tokens):
        raise Malformed(f"{text!r} goes on after its end")
    return tree


def _climb(tokens, at, least):
    left, at = _atom(tokens, at)
    while at < len(tokens) and _BINDS.get(tokens[at][1], 0) >= least:
        sign = tokens[at][1]
        right, at = _climb(tokens, at + 1, _BINDS[sign] + 1)
        left = (sign, left, right)
    return left, at


def _atom(tokens, at):
    if at == len(tokens):
        raise Malformed("the expression ends where a number or a name should stand")
    kind, text = tokens[at]
    if kind == "number":
        return ("number", Decimal(text)), at + 1
    if kind == "name":
        return ("name", text), at + 1
    if text == "(":
        tree, at = _climb(tokens, at + 1, 1)
        if at == len(tokens) or tokens[at][1] != ")":
            raise Malformed("a parenthesis is not closed")
        return tree, at + 1
    raise Malformed(f"{text!r} stands where a number or a name should")


def work_out(tree, values):
    """Give the value of a tree over named decimals."""
    if tree[0] == "number":
        return tree[1]
    if tree[0] == "name":
        if tree[1] not in values:
            raise Malformed(f"no input is called {tree[1]!r}")
        return values[tree[1]]
    a, b = work_out(tree[1], values), work_out(tree[2], values)
    if tree[0] == "+":
        return DIGITS.add(a, b)
    if tree[0] == "-":
        return DIGITS.subtract(a, b)
    if tree[0] == "*":
        return DIGITS.multiply(a, b)
    if b == 0:
        raise Malformed("division by zero")
    return DIGITS.divide(a, b)


def nodes(tree):
    """Every node of a tree, the tree itself first."""
    yield tree
    if tree[0] in _BINDS:
        yield from nodes(tree[1])
        yield from nodes(tree[2])
