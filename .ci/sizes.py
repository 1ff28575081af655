#!/usr/bin/env python3
"""Keeps files and functions small enough to read. Limits in lines: see LIMITS; exceptions need a reason."""
import pathlib
import re
import statistics
import sys

root = pathlib.Path(__file__).resolve().parent.parent
FILE, HEADER, TEST, FUNCTION = 600, 400, 900, 60
# path -> (limit, why)
FILES = {
    "include/fadewright/text/schema.h": (420, "templates that read, print and explain every kind of field"),
    "include/fadewright/app/requests_schema.h": (530, "one line per option of every command"),
}
# path:name -> (limit, why)
FUNCTIONS = {}


def bare(text):
    """The text without comments, strings and preprocessor lines, on the same lines as before."""
    noise = re.compile(r'R"(\w*)\(.*?\)\1"|"(?:\\.|[^"\\\n])*"|(?<!\w)\'(?:\\.|[^\'\\\n])+\'|//[^\n]*|/\*.*?\*/'
                       r'|^[ \t]*#(?:\\\n|[^\n])*', re.S | re.M)
    return noise.sub(lambda found: "\n" * found.group().count("\n"), text)


def functions(text):
    """(name, first line, length) of every function that is not inside another one."""
    text = bare(text)
    opened = []      # (start of its statement, the statement if it is the head of a function)
    begin = 0        # of the current statement
    inside = 0       # number of open braces that are functions
    for at, mark in enumerate(text):
        if mark == "{":
            head = text[begin:at]
            scope = re.match(r"\s*(?:template\s*<.*>\s*)?(?:inline\s+)?(?:namespace|class|struct|union|enum)\b", head, re.S)
            table = re.search(r"(?<!operator)(?<![=!<>])=(?!=)", re.sub(r"\([^()]*\)", "", head))
            is_function = "(" in head and not scope and (not table or re.search(r"\]\s*\(", head)) and not inside
            opened.append((begin, head if is_function else None))
            inside += bool(is_function)
            begin = at + 1
        elif mark == "}" and opened:
            start, head = opened.pop()
            begin = at + 1
            if head is None:
                continue
            inside -= 1
            if text[at + 1:].lstrip()[:1] in (",", "{"):  # it was a member initialiser, the body follows
                begin = start
                continue
            start += len(head) - len(head.lstrip())
            name = re.search(r"([\w:~]+|operator\S+)\s*\(", re.sub(r"\[\[.*?\]\]|template\s*<.*?>", "", head))
            line = text.count("\n", 0, start) + 1
            yield name.group(1) if name else "?", line, text.count("\n", start, at) + 1
        elif mark == ";":
            begin = at + 1


wrong, sizes = 0, []
for folder in ("include", "src", "tests"):
    for path in sorted((root / folder).rglob("*")):
        if path.suffix not in (".h", ".cpp"):
            continue
        name = str(path.relative_to(root))
        text = path.read_text()
        lines = text.splitlines()
        sizes.append(len(lines))
        limit = TEST if folder == "tests" else HEADER if path.suffix == ".h" else FILE
        limit = FILES.get(name, (limit,))[0]
        if len(lines) > limit:
            print(f"{name}:1: error: {len(lines)} lines, at most {limit}: split it by idea")
            wrong += 1
        if folder == "tests":
            continue
        for function, line, length in functions(text):
            allowed = FUNCTIONS.get(f"{name}:{function}", (FUNCTION,))[0]
            if length > allowed:
                print(f"{name}:{line}: error: {function} has {length} lines, at most {allowed}")
                wrong += 1
ordered = sorted(sizes)
print(f"sizes: {len(sizes)} files, {sum(sizes)} lines, median {int(statistics.median(sizes))}, "
      f"90 % under {ordered[int(0.9 * (len(ordered) - 1))]}, {wrong} too long")
sys.exit(1 if wrong else 0)
