"""A flat OpenDocument spreadsheet of two columns, names and formulas, and what headless LibreOffice makes of it.
The format is OpenDocument 1.3 (ISO/IEC 26300), its formulas OpenFormula."""

import csv
import shutil
import subprocess
import tempfile
from decimal import Decimal
from pathlib import Path
from xml.sax.saxutils import escape

HEAD = """<?xml version="1.0" encoding="UTF-8"?>
<office:document xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"
 xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"
 xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" office:version="1.3"
 office:mimetype="application/vnd.oasis.opendocument.spreadsheet"><office:body><office:spreadsheet><table:table table:name="batches">
"""
TAIL = "</table:table></office:spreadsheet></office:body></office:document>\n"
# Comma, quotes, UTF-8, from the first line, cells as they are and not as they would be shown.
CSV = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false"


class Book:
    """Rows of a name and a number or a formula; a formula refers to rows by what put gave."""

    def __init__(self):
        self.rows = []

    def put(self, name, content):
        """Add a row and give the reference to its cell."""
        self.rows.append((name, content))
        return f"[.B{len(self.rows)}]"

    def text(self):
        """The document."""
        out = [HEAD]
        for name, content in self.rows:
            if isinstance(content, str):
                cell = f'<table:table-cell table:formula="of:={escape(content, {chr(34): "&quot;"})}"/>'
            else:
                cell = f'<table:table-cell office:value-type="float" office:value="{Decimal(content)}"/>'
            out.append(f'<table:table-row><table:table-cell office:value-type="string"><text:p>{escape(name)}</text:p></table:table-cell>{cell}</table:table-row>\n')
        return "".join(out) + TAIL

    def recalculated(self, keep=None):
        """The value of every row as LibreOffice works it out; keep names a file for the document."""
        with tempfile.TemporaryDirectory() as folder:
            source = Path(folder) / "batches.fods"
            source.write_text(self.text(), encoding="utf-8")
            if keep:
                shutil.copy(source, keep)
            run = subprocess.run(
                ["soffice", "--headless", f"-env:UserInstallation={(Path(folder) / 'profile').as_uri()}",
                 "--convert-to", CSV, "--outdir", folder, str(source)], capture_output=True, text=True, check=False)
            made = source.with_suffix(".csv")
            if not made.exists():
                raise SystemExit(f"sheet: soffice wrote nothing: {run.stdout}{run.stderr}")
            with open(made, encoding="utf-8", newline="") as f:
                read = list(csv.reader(f))
        if len(read) != len(self.rows):
            raise SystemExit(f"sheet: {len(read)} rows came back for {len(self.rows)}")
        return {name: value for (name, _), (_, value) in zip(self.rows, read)}


def total(cells):
    """The sum of cells as a formula; nothing sums to 0."""
    return "(" + "+".join(cells) + ")" if cells else "0"
