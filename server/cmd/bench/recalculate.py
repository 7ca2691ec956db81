"""Times a spreadsheet's recalculation: python3 - ROUNDS.

Starts LibreOffice without a window, fills a sheet with ten fats and the formulas for alkali and water, and prints the
microseconds of one recalculation, one figure a round.
"""

import os
import shutil
import subprocess
import sys
import tempfile
import time

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException

RECALCULATIONS = 200  # a round
# Grams of fat and milligrams of potassium hydroxide a gram: figures for timing, not for soap.
FATS = [(100 + 10 * i, 185 + 5 * i) for i in range(10)]


def connect(pipe):
    """Waits until the office answers and gives its desktop."""
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    deadline = time.monotonic() + 60
    while True:
        try:
            context = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
            return context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
        except NoConnectException:
            if time.monotonic() > deadline:
                raise
            time.sleep(0.1)


def fill(sheet):
    """Writes the recipe into columns A and B, its alkali into C and what follows from it below."""
    for i, (grams, sv) in enumerate(FATS):
        sheet.getCellByPosition(0, i).setValue(grams)
        sheet.getCellByPosition(1, i).setValue(sv)
        sheet.getCellByPosition(2, i).setFormula(f"=A{i + 1}*B{i + 1}/1000/56.1056*39.9971")
    for i, formula in enumerate(("=SUM(A1:A10)", "=SUM(C1:C10)", "=A12*(1-0.05)", "=A13/0.985", "=A13*(100/33-1)")):
        sheet.getCellByPosition(0, 10 + i).setFormula(formula)
    return sheet.getCellByPosition(0, 14)


def main():
    rounds = int(sys.argv[1])
    profile = tempfile.mkdtemp()
    pipe = f"bench{os.getpid()}"
    office = subprocess.Popen(
        ["soffice", "--headless", "--norestore", f"-env:UserInstallation=file://{profile}", f"--accept=pipe,name={pipe};urp"],
        stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )
    try:
        desktop = connect(pipe)
        hidden = PropertyValue()
        hidden.Name, hidden.Value = "Hidden", True
        document = desktop.loadComponentFromURL("private:factory/scalc", "_blank", 0, (hidden,))
        water = fill(document.Sheets.getByIndex(0))
        for _ in range(rounds):
            began = time.perf_counter()
            for _ in range(RECALCULATIONS):
                document.calculateAll()
            print((time.perf_counter() - began) * 1e6 / RECALCULATIONS)
        if not water.getValue() > 0:
            sys.exit("the sheet was not calculated")
        document.close(True)
        desktop.terminate()
        office.wait(30)
    finally:
        office.kill()
        shutil.rmtree(profile, ignore_errors=True)


main()
