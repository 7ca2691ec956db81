"""Amounts of the contract in grams and milliliters. Avoirdupois pound and US gallon by definition (NIST Handbook 44, appendix C, from memory)."""

from decimal import Decimal

GRAMS = {"g": Decimal(1), "kg": Decimal(1000), "oz": Decimal("28.349523125"), "lb": Decimal("453.59237")}
MILLILITERS = {"ml": Decimal(1), "l": Decimal(1000), "fl_oz_us": Decimal("29.5735295625")}


def grams(amount, density=None):
    """Grams of a stated amount; volumes go through a density in g/mL."""
    (unit, value), = amount.items()
    if unit in GRAMS:
        return Decimal(value) * GRAMS[unit]
    return Decimal(value) * MILLILITERS[unit] * density
