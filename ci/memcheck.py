"""Runs tests of a build under valgrind: ci/memcheck.py BUILD LOGS [REGEX]."""
import json
import os
import re
import shutil
import subprocess
import sys
import time

# Tests left out unless they are named: those that measure time, those whose faults are put in by objects that stand where
# valgrind stands itself, and those that are somebody else's program for the most part.
LEFT_OUT = re.compile(r"^(bench.*|fuzz_.*_changed|hostile_faults|hostile_outputs|hostile_limits|published_.*)$")
SUPPRESSED = os.path.abspath("ci/memcheck.supp")
# Programs that tests start and that are not ours.
NOT_OURS = "*/node,*/npm,*/git,*/bash,*/sh,*/dash,*/zsh,*/fish,*/nvim,*/chromium,*/python3*,*/sqlite3,*/java,*/jing,*/xmllint"

build, logs = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2])
wanted = sys.argv[3] if len(sys.argv) > 3 else ""
shutil.rmtree(logs, ignore_errors=True)
os.makedirs(logs)
listed = subprocess.run(["ctest", "--show-only=json-v1"], cwd=build, capture_output=True, check=True)
bad = 0
count = 0
for test in json.loads(listed.stdout)["tests"]:
    name = test["name"]
    if not (re.search(wanted, name) if wanted else not LEFT_OUT.search(name)):
        continue
    properties = {p["name"]: p["value"] for p in test.get("properties", [])}
    environment = dict(os.environ)
    environment.update(line.split("=", 1) for line in properties.get("ENVIRONMENT", []))
    command = ["valgrind", "--quiet", "--error-exitcode=99", "--leak-check=full", "--show-leak-kinds=definite",
               "--errors-for-leak-kinds=definite", f"--suppressions={SUPPRESSED}", "--trace-children=yes",
               "--trace-children-skip=" + NOT_OURS,
               f"--log-file={logs}/{name}.%p"]
    begin = time.monotonic()
    with open(f"{logs}/{name}.output", "wb") as output:
        status = subprocess.run(command + test["command"], cwd=properties.get("WORKING_DIRECTORY", build),
                                stdin=subprocess.DEVNULL, stdout=output, stderr=subprocess.STDOUT,
                                env=environment, check=False).returncode
    # A child's errors stand in a log of its own.
    told = [log for log in sorted(os.listdir(logs))
            if log.startswith(name + ".") and not log.endswith(".output") and os.path.getsize(os.path.join(logs, log))]
    count += 1
    verdict = "ok"
    if told:
        verdict = f"{len(told)} processes with errors: see " + " ".join(os.path.join(logs, log) for log in told[:3])
    elif status != 0:
        verdict = f"exit status {status}: see {logs}/{name}.output"
    bad += verdict != "ok"
    print(f"{name}: {verdict} ({time.monotonic() - begin:.0f} s)", flush=True)
print(f"{count} tests, {bad} with errors")
sys.exit(1 if bad or not count else 0)
