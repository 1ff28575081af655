#!/usr/bin/env python3
"""The retired words of .ci/retired_words.txt stay away, from names and from all that is shown or written.

vocabulary.py [--count] [--files GLOB]    --count: hits per word and folder; GLOB: 'src/page/*', 'src/plan/*.cpp', ...
"""
import argparse
import collections
import fnmatch
import pathlib
import re
import subprocess
import sys

root = pathlib.Path(__file__).resolve().parent.parent
LIST = ".ci/retired_words.txt"
SKIPPED = {LIST, ".ci/vocabulary.py", "LICENSE", "src/sources.bib", "tests/web/package-lock.json"}
CODE = (".h", ".cpp", ".js", ".mjs", ".css", ".py")
HASH_COMMENTS = (".py",)
SPANS = re.compile(r'//[^\n]*|/\*.*?\*/|R"(\w*)\(.*?\)\1"|"(?:\\.|[^"\\\n])*"|(?<![0-9a-fA-F])\'(?:\\.|[^\'\\\n])*\''
                   r'|`(?:\\.|[^`\\])*`', re.S)
SPANS_PY = re.compile(r'#[^\n]*|""".*?"""|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])*\'', re.S)
SPANS_CSS = re.compile(r'/\*.*?\*/|"[^"\n]*"', re.S)
IDENTIFIER = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
IDENTIFIER_CSS = re.compile(r"[A-Za-z_][\w-]*")
COMPOUND = re.compile(r"\b[A-Za-z][A-Za-z0-9]*(?:_[A-Za-z0-9]+)+\b|\b[a-z]+[A-Z]\w*|\b[A-Z][a-z]+[A-Z]\w*")
METHODS = ("under",)  # keys that are words of a method too, and may be quoted
PARTS = re.compile(r"[A-Z]+(?![a-z])|[A-Z]?[a-z]+|\d+")


def blank(text):
    return re.sub(r"[^\n]", " ", text)


def views(name, text):
    """code without strings and comments; strings and comments without code"""
    if not name.endswith(CODE):
        return "", text
    spans = SPANS_PY if name.endswith(HASH_COMMENTS) else SPANS_CSS if name.endswith(".css") else SPANS
    code, written, at = [], [], 0
    for span in spans.finditer(text):
        between = text[at:span.start()]
        code += [between, blank(span.group())]
        written += [blank(between), span.group()]
        at = span.end()
    code.append(text[at:])
    written.append(blank(text[at:]))
    return "".join(code), "".join(written)


def parts_of(identifier):
    return "_" + "_".join(part.lower() for part in PARTS.findall(identifier)) + "_"


def literal(pattern):
    """the longest piece of plain text that each match of a regex must hold, for a quick look beforehand"""
    plain, depth = [""], 0
    text = re.sub(r"\\[bwds]|\(\?[^)]*\)|\[[^]]*\]", "\0", pattern)
    text = re.sub(r"(\([^()]*\)|.)[?*]", "\0", text)
    for sign in text:
        if sign in "()":
            depth += 1 if sign == "(" else -1
        if depth or sign in "\0()|?*+.^$\\[]{}":
            plain.append("")
        else:
            plain[-1] += sign
    return "" if "|" in re.sub(r"\([^()]*\)", "", pattern) else max(plain, key=len).lower()


class Word:
    def __init__(self, kind, word, use):
        self.kind, self.word, self.use = kind, word, use

    def texts(self):
        """regexes for what is written"""
        w, e = self.word, re.escape(self.word)
        if self.kind == "text":
            return [w]
        if self.kind == "both":
            return [rf"\b(?:{w})\b"]
        if self.kind == "json":
            return [rf"[\"'`]{e}\\?[\"'`]"]
        if self.kind == "opt":
            return [rf"(?<![\w-]){e}(?![\w-])"]
        if self.kind == "cmd":
            return [rf"\bfadewright {e}(?![\w-])", rf"^command +{e}(?![\w-])"]
        if self.kind == "value":
            key, value = self.word.split(":", 1)
            quoted = rf"\\?\"{re.escape(value)}\\?\""
            return [quoted if key == "QUOTED" else rf"\b{key} *= *{quoted}"]
        if self.kind == "key":
            return [rf"(?:^|[\s{{,\"(]|\\n){e}(?:\.\w+)* *= *(?=[\[{{\"\\\d.+-]|true|false)",
                    rf"\[(?:\w+\.)*{e}(?:\.\w+)*\]", rf"\"(?:[\w{{}}]+\.)+{e}(?:\.\w+)*\"",
                    rf"^\| `{e}` \|"] + ([] if self.word in METHODS else [rf"'{e}'"])
        return []


def read_list():
    words = []
    for number, line in enumerate((root / LIST).read_text().splitlines(), 1):
        if not line.strip() or line.startswith("#"):
            continue
        left, arrow, use = line.partition("=>")
        kind, _, word = left.strip().partition(" ")
        if not arrow or not word or kind not in "id name code text both key value json opt cmd".split():
            sys.exit(f"{LIST}:{number}: error: write it as  kind  word  => what to use")
        words.append(Word(kind, word.strip(), use.strip()))
    return words


parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
parser.add_argument("--count", action="store_true")
parser.add_argument("--files", metavar="GLOB", default="*")
asked = parser.parse_args()

words = read_list()
by_parts = [(w, re.compile(rf"(?<=_)(?:{w.word})(?=_)")) for w in words if w.kind in ("id", "both")]
by_name = {w.word: w for w in words if w.kind == "name"}
in_code = [(w, re.compile(w.word)) for w in words if w.kind == "code"]
in_text = []  # (word, regex, what each match holds)
for w in words:
    for pattern in w.texts():
        held = re.escape(w.word).replace("\\", "") if w.kind in ("json", "opt", "key", "cmd") else \
            w.word.split(":", 1)[1] if w.kind == "value" else literal(w.word)
        in_text.append((w, re.compile(pattern, (0 if w.kind == "key" else re.I) | re.M), held.lower()))

FIELD = re.compile(r"Field\{\"(\w+)\"")  # a key where it is declared
keys = {w.word: w for w in words if w.kind == "key"}
known = {}  # identifier -> its retired word, or nothing


def retired(identifier):
    if identifier not in known:
        parts = parts_of(identifier)
        known[identifier] = by_name.get(identifier) or next((w for w, regex in by_parts if regex.search(parts)), None)
    return known[identifier]


def hits_of(name, text):
    """(offset, length, word) of a file"""
    code, written = views(name, text)
    css = name.endswith(".css")
    for found in (IDENTIFIER_CSS if css else IDENTIFIER).finditer(code):
        word = retired(found.group())
        if word:
            yield found.start(), found.group(), word
    if not css:
        for word, regex in in_code:
            for found in regex.finditer(code):
                yield found.start(), found.group(), word
    for found in COMPOUND.finditer(written):
        word = retired(found.group())
        if word:
            yield found.start(), found.group(), word
    for found in FIELD.finditer(text):
        if found.group(1) in keys:
            yield found.start(1), found.group(1), keys[found.group(1)]
    small = written.lower()
    for word, regex, held in in_text:
        at = small.find(held) if held else -1
        while at >= 0:  # the lines that hold it
            begin, end = small.rfind("\n", 0, at) + 1, small.find("\n", at + 1)
            end = len(small) if end < 0 else end
            for found in regex.finditer(written[begin:end]):
                if found.group():
                    yield begin + found.start(), found.group(), word
            at = small.find(held, end)
        if not held:
            for found in regex.finditer(written):
                if found.group():
                    yield found.start(), found.group(), word


listed = subprocess.run(["git", "ls-files", "-zco", "--exclude-standard"], cwd=root, capture_output=True, text=True,
                        check=True).stdout.split("\0")
counts, files, total = collections.Counter(), 0, 0
folders = collections.Counter()
for name in sorted(set(filter(None, listed))):
    path = root / name
    if name in SKIPPED or not fnmatch.fnmatch(name, asked.files) or not path.is_file():
        continue
    data = path.read_bytes()
    if b"\0" in data[:4096] or path.suffix in (".png", ".pdf", ".icc", ".gz"):
        continue
    files += 1
    text = data.decode(errors="replace")
    found = sorted(hits_of(name, text), key=lambda hit: (hit[0], -len(hit[1])))
    stem = pathlib.PurePath(name).stem
    of_name = retired(stem.replace("-", "_"))
    if of_name:
        found.insert(0, (-1, stem, of_name))
    end = -2
    for at, what, word in found:
        if at < end:  # inside the hit before it
            continue
        end = at + len(what) if at >= 0 else at
        total += 1
        counts[word, name.split("/")[0] if "/" in name else "."] += 1
        folders[name.split("/")[0] if "/" in name else "."] += 1
        if not asked.count:
            line = text.count("\n", 0, max(at, 0)) + 1
            column = max(at, 0) - text.rfind("\n", 0, max(at, 0))
            print(f"{name}:{line}:{column}: error: '{what.strip()}' -> use '{word.use}'")
if asked.count:
    places = sorted(folders, key=lambda folder: -folders[folder])
    print(f"{'':40}" + "".join(f"{place:>10}" for place in ["all", *places]))
    print(f"{'all':40}" + "".join(f"{n:>10}" for n in [total, *(folders[place] for place in places)]))
    for word in sorted(words, key=lambda w: -sum(counts[w, place] for place in places)):
        row = [counts[word, place] for place in places]
        if sum(row):
            print(f"{word.kind + ' ' + word.word:40.40}" + "".join(f"{n or '':>10}" for n in [sum(row), *row]))
print(f"vocabulary: {files} files, {len(words)} words, {total} retired")
sys.exit(1 if total else 0)
