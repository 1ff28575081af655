#!/usr/bin/env python3
"""Keeps files and functions small enough to read. Limits in lines: see LIMITS; exceptions need a reason."""
import pathlib
import re
import statistics
import sys

root = pathlib.Path(__file__).resolve().parent.parent
FILE, HEADER, TEST, FUNCTION = 600, 250, 900, 60
# path -> (limit, why)
FILES = {
    "include/fadewright/text/schema.h": (420, "templates that read, print and explain every kind of field"),
    "include/fadewright/plan/plan_schema.h": (300, "one line per field of the plan"),
    "include/fadewright/plan/shelf_schema.h": (300, "one line per field of the shelf's files"),
}
# path:name -> (limit, why)
FUNCTIONS = {}


def functions(lines):
    """(name, first line, length) of brace blocks that open at a function's head, by indentation."""
    start = None
    for number, line in enumerate(lines, 1):
        head = re.match(r"^( {0,4})(?!namespace|struct|class|enum|union|extern|#|//|template|using)\S.*\)[^;=]*\{\s*$", line)
        if start is None and head:
            name = re.search(r"([\w:~]+)\s*\(", line)
            start = (number, head.group(1), name.group(1) if name else "?")
        elif start is not None and line.rstrip() in (start[1] + "}", start[1] + "};"):
            yield start[2], start[0], number - start[0] + 1
            start = None


wrong, sizes = 0, []
for folder in ("include", "src", "tests"):
    for path in sorted((root / folder).rglob("*")):
        if path.suffix not in (".h", ".cpp"):
            continue
        name = str(path.relative_to(root))
        lines = path.read_text().splitlines()
        sizes.append(len(lines))
        limit = TEST if folder == "tests" else HEADER if path.suffix == ".h" else FILE
        limit = FILES.get(name, (limit,))[0]
        if len(lines) > limit:
            print(f"{name}:1: error: {len(lines)} lines, at most {limit}: split it by idea")
            wrong += 1
        if folder == "tests":
            continue
        for function, line, length in functions(lines):
            allowed = FUNCTIONS.get(f"{name}:{function}", (FUNCTION,))[0]
            if length > allowed:
                print(f"{name}:{line}: error: {function} has {length} lines, at most {allowed}")
                wrong += 1
ordered = sorted(sizes)
print(f"sizes: {len(sizes)} files, {sum(sizes)} lines, median {int(statistics.median(sizes))}, "
      f"90 % under {ordered[int(0.9 * (len(ordered) - 1))]}, {wrong} too long")
sys.exit(1 if wrong else 0)
