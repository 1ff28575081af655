#!/usr/bin/env python3
"""Holds every #include "fadewright/<layer>/..." to the fw_layer() lines of CMakeLists.txt."""
import pathlib
import re
import sys

root = pathlib.Path(__file__).resolve().parent.parent
listing = (root / "CMakeLists.txt").read_text()
allowed = {}
for name, rest in re.findall(r"^fw_layer\((\w+)([^)]*)\)", listing, re.M):
    uses = re.search(r"USES\s+([\w\s]*?)(?:\s+LIBS|$)", rest)
    allowed[name] = set(uses.group(1).split()) if uses else set()
allowed["cli"] = {"base", "text", "app"}

wrong = 0
for folder in ("include/fadewright", "src"):
    for path in sorted((root / folder).rglob("*")):
        if path.suffix not in (".h", ".cpp"):
            continue
        layer = path.relative_to(root / folder).parts[0]
        for number, line in enumerate(path.read_text().splitlines(), 1):
            found = re.match(r'#include "fadewright/(\w+)/', line)
            if not found or found.group(1) == layer:
                continue
            if layer not in allowed or found.group(1) not in allowed[layer]:
                may = " ".join(sorted(allowed.get(layer, ()))) or "nothing"
                print(f"{path.relative_to(root)}:{number}: error: {layer} may not include {found.group(1)} "
                      f"(allowed: {may})")
                wrong += 1
if not allowed or len(allowed) < 10:
    sys.exit("no fw_layer() lines found in CMakeLists.txt")
print(f"layers: {len(allowed)} layers, {wrong} wrong includes")
sys.exit(1 if wrong else 0)
