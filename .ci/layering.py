#!/usr/bin/env python3
"""Checks every #include of a layer against the fw_layer() lines of CMakeLists.txt: the layers and the libraries it may
use, lowest layer first. A library that a layer names but does not include is an error too."""
import pathlib
import re
import sys

# How the headers of a library begin -> how fw_layer() names it.
LIBRARIES = {
    "CLI/": "CLI11::CLI11", "Eigen/": "fw_eigen", "cairo": "PkgConfig::pangocairo", "fmt/": "fmt::fmt",
    "geos_c.h": "PkgConfig::geos", "glib": "PkgConfig::glib", "httplib.h": "PkgConfig::httplib",
    "lcms2": "PkgConfig::lcms2", "libdeflate.h": "PkgConfig::deflate", "librsvg/": "PkgConfig::rsvg",
    "nlohmann/": "nlohmann_json::nlohmann_json", "nlopt": "PkgConfig::nlopt", "pango/": "PkgConfig::pangocairo",
    "pugixml.hpp": "pugixml::pugixml", "stb/": "fw_stb", "tbb/": "TBB::tbb", "toml++/": "PkgConfig::tomlplusplus",
}
# Headers of the operating system, for the layers that talk to it; C++'s own have no dot.
SYSTEM = re.compile(r"(?:sys|arpa)/\w+\.h|(?:fcntl|ifaddrs|poll|unistd)\.h")
SYSTEM_LAYERS = {"base", "serve", "cli"}
INCLUDE = re.compile(r'\s*#\s*include\s*(?:"(?:fadewright/(\w+)/|(\.\./)|(\w+)/)?[^"]*"|<([^>]+)>)')

root = pathlib.Path(__file__).resolve().parent.parent
listing = (root / "CMakeLists.txt").read_text()
layers, libraries = {}, {}
for name, rest in re.findall(r"^fw_layer\((\w+)([^)]*)\)", listing, re.M):
    uses = re.search(r"USES\s+([\w\s]*?)\s*(?:LIBS|$)", rest)
    libs = re.search(r"LIBS\s+([\w\s:]*)", rest)
    layers[name] = uses.group(1).split() if uses else []
    libraries[name] = libs.group(1).split() if libs else []
if len(layers) < 10:
    sys.exit("layers: no fw_layer() lines found in CMakeLists.txt")
# The program itself, which has no fw_layer() line.
layers["cli"], libraries["cli"] = ["base", "text", "app", "serve"], ["CLI11::CLI11"]

wrong = 0
included = {name: set() for name in layers}


def report(place, message):
    global wrong
    wrong += 1
    print(f"{place}: error: {message}")


def check_library(layer, header, place):
    if "." not in header and "/" not in header:
        return
    library = next((named for start, named in LIBRARIES.items() if header.startswith(start)), None)
    if library:
        included[layer].add(library)
        if library not in libraries[layer]:
            report(place, f"{layer} may not include <{header}>: its fw_layer() line does not name {library}")
    elif not SYSTEM.fullmatch(header):
        report(place, f"<{header}> belongs to no library that .ci/layering.py knows")
    elif layer not in SYSTEM_LAYERS:
        report(place, f"{layer} may not include <{header}>: what talks to the operating system is in base, serve or cli")


for folder in ("include/fadewright", "src"):
    for path in sorted((root / folder).rglob("*")):
        layer, name = path.relative_to(root / folder).parts[0], path.relative_to(root)
        if path.suffix not in (".h", ".cpp") or layer not in layers:
            continue
        for number, line in enumerate(path.read_text().splitlines(), 1):
            found = INCLUDE.match(line)
            if not found:
                continue
            used, upwards, folder_used, header = found.groups()
            place = f"{name}:{number}"
            if header:
                check_library(layer, header, place)
            elif upwards or folder_used in layers:
                report(place, 'include a layer\'s header as "fadewright/LAYER/NAME.h"; headers in src/ are private to '
                              "their folder")
            elif used and used != layer and used not in layers[layer]:
                report(place, f"{layer} may not include {used} (allowed: {' '.join(layers[layer]) or 'nothing'})")
for layer, named in libraries.items():
    for library in sorted(set(named) - included[layer]):
        report("CMakeLists.txt", f"{layer} names {library} and includes nothing of it")
print(f"layers: {len(layers)} layers, {len(LIBRARIES)} beginnings of library headers, {wrong} wrong includes")
sys.exit(1 if wrong else 0)
