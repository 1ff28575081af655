#!/usr/bin/env python3
"""Units of shown quantities come from text/display_units.h alone: no other format text may name one."""
import pathlib
import re
import sys

root = pathlib.Path(__file__).resolve().parent.parent
unit = r"(mm|cm|m|um|µm|mil|ft|mL|L|fl oz|oz|g/L|mL/min|mm/s|bar|psi|°C|°F|m2|cm2|m²|cm²|mils)"
# A number and its unit, or a unit at the start of an axis label: "{:.0f} mm", "mm along the fade".
stray = re.compile(rf"\}} {unit}(?![\w*/])|^{unit} (along|across|up|from)|per (mm|um|litre)\b|\b(um|mm|mL) (dry|wet|wide)")
text = re.compile(r'"((?:[^"\\]|\\.)*)"')

wrong = 0
for layer in ("plan", "render", "report", "app", "serve"):
    for path in sorted((root / "src" / layer).glob("*.cpp")):
        lines = path.read_text().splitlines()
        for number, line in enumerate(lines, 1):
            # A comment "units: fixed" on this line or the one before: the text there has one unit only.
            if "units: fixed" in line or (number > 1 and "units: fixed" in lines[number - 2]):
                continue
            for shown in text.findall(line.split("//")[0]):
                if stray.search(shown):
                    print(f"{path.relative_to(root)}:{number}: error: \"{shown}\" names a unit; "
                          "show quantities with text/display_units.h")
                    wrong += 1
print(f"units: {wrong} stray units")
sys.exit(1 if wrong else 0)
