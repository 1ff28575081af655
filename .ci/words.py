#!/usr/bin/env python3
"""Tracked files are about the project only: nothing about how or where it was written, and no notes of unfinished work."""
import pathlib
import re
import subprocess
import sys

root = pathlib.Path(__file__).resolve().parent.parent
NEVER = [r"\bTODO\b", r"\bFIXME\b", r"\.\./shared", r"/work/", r"(?<!--no-)\bsandbox\b", r"DESIGN\.md", r"STYLE\.md",
         r"\bthis session\b", r"\bhelper session\b", r"\bchat\b"]
files = subprocess.run(["git", "ls-files", "-z"], cwd=root, capture_output=True, text=True, check=True).stdout.split("\0")
wrong = 0
for name in filter(None, files):
    path = root / name
    if path.suffix in (".png", ".pdf", ".icc") or name in (".ci/words.py", "LICENSE") or not path.is_file():
        continue
    for number, line in enumerate(path.read_text(errors="replace").splitlines(), 1):
        for word in NEVER:
            if re.search(word, line):
                print(f"{name}:{number}: error: '{re.search(word, line).group(0)}' does not belong here")
                wrong += 1
print(f"words: {len(files)} files, {wrong} out of place")
sys.exit(1 if wrong else 0)
