"""Prints which lines of src/ were run, from the counters of a build: ci/coverage.py BUILD [--lines]."""
import collections
import json
import os
import subprocess
import sys

build = os.path.abspath(sys.argv[1])
top = os.getcwd() + os.sep
counts = collections.defaultdict(dict)  # file -> line -> times it was run
for folder, _, names in os.walk(build):
    for name in names:
        if not name.endswith(".gcda"):
            continue
        answer = subprocess.run(["gcov", "--json-format", "--stdout", os.path.join(folder, name)], cwd=build,
                                capture_output=True, check=True)
        for unit in answer.stdout.splitlines():
            for file in json.loads(unit)["files"]:
                path = os.path.normpath(os.path.join(build, file["file"]))
                if not path.startswith((top + "src" + os.sep, top + "include" + os.sep)):
                    continue
                lines = counts[path[len(top):]]
                for line in file["lines"]:
                    number = line["line_number"]
                    lines[number] = max(lines.get(number, 0), line["count"])

stations = collections.defaultdict(lambda: [0, 0])
for path, lines in counts.items():
    parts = path.split(os.sep)
    station = stations[parts[1] if parts[0] == "src" else parts[0]]
    station[0] += sum(1 for count in lines.values() if count > 0)
    station[1] += len(lines)
for name, (run, all_lines) in sorted(stations.items()):
    print(f"{name:12} {run:6} of {all_lines:6} lines  {100 * run / all_lines:5.1f} %")
run = sum(station[0] for station in stations.values())
all_lines = sum(station[1] for station in stations.values())
if all_lines == 0:
    sys.exit("ci/coverage: no counters; did any test run?")
print(f"{'together':12} {run:6} of {all_lines:6} lines  {100 * run / all_lines:5.1f} %")
if "--lines" in sys.argv:
    for path, lines in sorted(counts.items()):
        missed = sorted(number for number, count in lines.items() if count == 0)
        if missed:
            print(f"{path}: {' '.join(map(str, missed))}")
