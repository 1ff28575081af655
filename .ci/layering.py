#!/usr/bin/env python3
"""Checks every #include of a layer's header against the fw_layer() lines of CMakeLists.txt, lowest layer first."""
import pathlib
import re
import sys

root = pathlib.Path(__file__).resolve().parent.parent
listing = (root / "CMakeLists.txt").read_text()
allowed = {}
for name, rest in re.findall(r"^fw_layer\((\w+)([^)]*)\)", listing, re.M):
    uses = re.search(r"USES\s+([\w\s]*?)\s*(?:LIBS|$)", rest)
    allowed[name] = uses.group(1).split() if uses else []
if len(allowed) < 10:
    sys.exit("layers: no fw_layer() lines found in CMakeLists.txt")
allowed["cli"] = ["base", "text", "app", "serve"]  # the program itself, which has no fw_layer() line

wrong = 0
for folder in ("include/fadewright", "src"):
    for path in sorted((root / folder).rglob("*")):
        if path.suffix not in (".h", ".cpp"):
            continue
        layer, name = path.relative_to(root / folder).parts[0], path.relative_to(root)
        may = allowed.get(layer, [])
        for number, line in enumerate(path.read_text().splitlines(), 1):
            found = re.match(r'\s*#\s*include\s*["<](?:fadewright/(\w+)/|(\.\./)|(\w+)/)', line)
            if not found:
                continue
            used, upwards, folder_used = found.groups()
            if upwards or folder_used in allowed:
                print(f"{name}:{number}: error: include a layer's header as \"fadewright/LAYER/NAME.h\"; headers in src/ "
                      "are private to their folder")
                wrong += 1
            elif used and used != layer and used not in may:
                print(f"{name}:{number}: error: {layer} may not include {used} "
                      f"(allowed: {' '.join(may) or 'nothing'})")
                wrong += 1
print(f"layers: {len(allowed)} layers, {wrong} wrong includes")
sys.exit(1 if wrong else 0)
