#!/usr/bin/env python3
"""Holds every "Source: [key]." to the bibliography src/sources.bib, and the bibliography to the project."""
import pathlib
import re
import subprocess
import sys

root = pathlib.Path(__file__).resolve().parent.parent
BIB = "src/sources.bib"
NOTES = ("checked", "from memory")
WITHOUT_KEY = ("common practice, no source", "own derivation")
TEXT = (".h", ".cpp", ".cmake", ".csv", ".toml", ".css", ".js", ".mjs", ".md", ".py", ".txt", ".html", ".test")
CODE = (".h", ".cpp", ".js", ".mjs")
SOURCE = re.compile(r"(?<![\w.])Source:(?![:\w])")
OLD_FORM = re.compile(r"^\s*(//|#)\s+([Ss]ource\s\s|source:)")
KEY = re.compile(r"(?<![\w\])])\[([A-Za-z][\w-]*)\]")
LIKE_A_KEY = re.compile(r"[a-z]{2,}[A-Z]*-?\d{2,}[\w-]*")  # kubelka1948, cie15, astmE308, iso6504-1
wrong = 0


def error(place, text):
    global wrong
    wrong += 1
    print(f"{place}: error: {text}")


def entries(text):
    """key -> (line, fields) of a BibTeX file whose entries and fields begin on lines of their own"""
    found = {}
    for begin in re.finditer(r"^@(\w+)\{([^,\s]+),\n(.*?)^\}", text, re.M | re.S):
        line = text.count("\n", 0, begin.start()) + 1
        fields = {name: " ".join(value.split()) for name, value in
                  re.findall(r"^  (\w+) = \{(.*?)\},?\n(?=  \w+ = |\Z)", begin.group(3), re.M | re.S)}
        if begin.group(2) in found:
            error(f"{BIB}:{line}", f"'{begin.group(2)}' is here twice")
        found[begin.group(2)] = (line, fields)
    return found


def statement(lines, at):
    """the "Source:" of a line with the deeper-set comment lines after it"""
    text = [lines[at][SOURCE.search(lines[at]).end():]]
    mark = re.match(r"\s*(//|#|\*)\s*Source:", lines[at])
    for line in lines[at + 1:] if mark else []:
        more = re.match(r"\s*" + re.escape(mark.group(1)) + r"\s{8,}(\S.*)", line)
        if not more:
            break
        text.append(more.group(1))
    return " ".join(text)


def comment_of(name, line):
    """what may cite: the comment of a line of code, all of any other line"""
    if not name.endswith(CODE):
        return line
    return line[line.index("//"):] if "//" in line else ""


bib = entries((root / BIB).read_text()) if (root / BIB).is_file() else {}
if not bib:
    sys.exit(f"sources: no entries found in {BIB}")
listed = subprocess.run(["git", "ls-files", "-zco", "--exclude-standard"], cwd=root, capture_output=True, text=True,
                        check=True).stdout.split("\0")
cited, statements = set(), 0
for name in sorted(filter(None, listed)):
    path = root / name
    if not name.endswith(TEXT) or name.startswith(".ci/") or not path.is_file():
        continue
    text = path.read_text(errors="replace")
    if "ource" not in text and "[" not in text:
        continue
    lines = text.splitlines()
    for i, line in enumerate(lines):
        keys = {key for key in KEY.findall(comment_of(name, line)) if key in bib or LIKE_A_KEY.fullmatch(key)}
        if OLD_FORM.match(line):
            error(f"{name}:{i + 1}", "write it as 'Source: [key].'")
        if SOURCE.search(line):
            statements += 1
            claim = statement(lines, i)
            keys |= set(KEY.findall(claim))
            if not KEY.search(claim) and not any(phrase in claim for phrase in WITHOUT_KEY):
                error(f"{name}:{i + 1}", f"a source needs a [key] of {BIB}, or " +
                      " or ".join(f"'{phrase}'" for phrase in WITHOUT_KEY))
        for key in sorted(keys - bib.keys()):
            error(f"{name}:{i + 1}", f"[{key}] is not in {BIB}")
        cited |= keys

for key, (line, fields) in bib.items():
    place, evidence = f"{BIB}:{line}", fields.get("annote", "").replace("\\_", "_")
    if key not in cited:
        error(place, f"'{key}' is cited nowhere")
    for needed in ("title", "note"):
        if needed not in fields:
            error(place, f"'{key}' has no {needed}")
    if "note" in fields and fields["note"] not in NOTES:
        error(place, f"the note of '{key}' must be one of: {', '.join(NOTES)}")
    tests = re.findall(r"tests/[\w/.-]*\w", evidence)
    if fields.get("note") == "checked" and not tests:
        error(place, f"'{key}' is checked, but its annote names no file of tests/ that shows it")
    for test in tests:
        if not (root / test).is_file():
            error(place, f"the annote of '{key}' names {test}, which is not there")
print(f"sources: {len(bib)} entries, {statements} statements, {wrong} wrong")
sys.exit(1 if wrong else 0)
