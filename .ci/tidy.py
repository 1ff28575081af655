#!/usr/bin/env python3
"""clang-tidy over src/, skipping sources that were clean before and have not changed since.

.ci/tidied.txt has a hash for every clean source: of the source, of the project's headers it includes and of .clang-tidy.
A source whose hash is missing is checked; `python3 .ci/tidy.py --keep` also writes the hashes of the clean ones.
`--all` checks everything.
"""
import concurrent.futures
import functools
import hashlib
import os
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
DATABASE = ROOT / "build" / "tidy"
KEPT = ROOT / ".ci" / "tidied.txt"
INCLUDE = re.compile(rb'^\s*#\s*include\s+"([^"]+)"', re.MULTILINE)
NOT_OURS = re.compile(r"/stb_")


@functools.lru_cache(maxsize=None)
def below(path):
    """The file and every header of the project that it includes, however deep."""
    found = {path}
    for name in INCLUDE.findall(path.read_bytes()):
        for folder in (ROOT / "include", path.parent):
            header = folder / name.decode()
            if header.is_file():
                found |= below(header.resolve())
                break
    return frozenset(found)


def hash_of(source):
    total = hashlib.sha256((ROOT / ".clang-tidy").read_bytes())
    for path in sorted(below(source)):
        total.update(str(path.relative_to(ROOT)).encode())
        total.update(path.read_bytes())
    return total.hexdigest()[:16]


def is_clean(source):
    done = subprocess.run(
        ["clang-tidy", "--quiet", "-p", str(DATABASE), str(source)], cwd=ROOT, capture_output=True, text=True
    )
    if done.returncode != 0:
        print(done.stdout, done.stderr, sep="\n", flush=True)
    return done.returncode == 0


def main():
    # Every source by itself: in build/release several are compiled at a time.
    subprocess.run(["cmake", "--preset", "release", "-B", DATABASE, "-DFW_UNITY=OFF", "-DFW_TESTS=OFF", "-DFW_BENCH=OFF"],
                   cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    listed = subprocess.run(["git", "ls-files", "src/*.cpp"], cwd=ROOT, capture_output=True, text=True, check=True)
    sources = [ROOT / name for name in listed.stdout.split() if not NOT_OURS.search(name)]
    hashes = {source: hash_of(source) for source in sources}
    known = set(KEPT.read_text().split()) if KEPT.exists() and "--all" not in sys.argv else set()
    wanted = [source for source in sources if hashes[source] not in known]
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        clean = dict(zip(wanted, pool.map(is_clean, wanted)))
    bad = [source for source in wanted if not clean[source]]
    if "--keep" in sys.argv:
        lines = [f"{hashes[source]} {source.relative_to(ROOT)}" for source in sources if source not in bad]
        KEPT.write_text("\n".join(sorted(lines, key=lambda line: line.split()[1])) + "\n")
    print(f"clang-tidy: {len(sources)} sources, {len(wanted)} checked, {len(bad)} not clean")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
