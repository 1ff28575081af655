#!/usr/bin/env python3
"""Holds what people are shown to text/shown_units.h: no other format text may name the unit of a quantity."""
import pathlib
import re
import sys

root = pathlib.Path(__file__).resolve().parent.parent
unit = r"(mm|cm|m|um|µm|mil|ft|mL|L|fl oz|oz|g/L|mL/min|mm/s|bar|psi|°C|°F|m2|cm2)"
# A figure and its unit, or a unit as the beginning of an axis: "{:.0f} mm", "mm along the fade".
stray = re.compile(rf"\}} {unit}(?![\w*/])|^{unit} (along|across|up|from)|per (mm|um|litre)\b|\b(um|mm|mL) (dry|wet|wide)")
text = re.compile(r'"((?:[^"\\]|\\.)*)"')

wrong = 0
for layer in ("plan", "render", "report", "app", "serve"):
    for path in sorted((root / "src" / layer).glob("*.cpp")):
        lines = path.read_text().splitlines()
        for number, line in enumerate(lines, 1):
            # A remark "units: fixed" in the line or the one before: what is said there has one unit only.
            if "units: fixed" in line or (number > 1 and "units: fixed" in lines[number - 2]):
                continue
            for said in text.findall(line.split("//")[0]):
                if stray.search(said):
                    print(f"{path.relative_to(root)}:{number}: error: \"{said}\" names a unit; "
                          "show quantities by text/shown_units.h")
                    wrong += 1
print(f"units: {wrong} stray units")
sys.exit(1 if wrong else 0)
