#!/usr/bin/env python3
"""Plants one error of each kind into consistent manuscripts and counts what the checks make of it.

Every mutant has a twin that differs only in the fault, and the twin must have no query at all. Of the mutant
exactly one query is wanted: of that check, at that block. The rest of both manuscripts is the same: captions,
paragraphs and a table about other machines.
"""

import argparse
import collections
import copy
import json
import pathlib
import random
import subprocess
import sys
import tempfile

import asides
import pages
import scenes
import stories
import wording
from plants_between import CHECKS
from world import World, write_ledger


def surroundings(world, rng, apart):
    """Consistent blocks about machines other than those of the fault."""
    machines = [a for a in world.airframes.values() if a.serial not in apart]
    blocks = []
    for machine in rng.sample(machines, rng.randint(3, 7)):
        scene = scenes.make_scene(world, machine, rng)
        if scene is None:
            continue
        scene.behind = [asides.harmless(world, scene, rng) for _ in range(rng.choice([0, 1, 1, 2]))]
        blocks.append(pages.Block("caption", scenes.caption(world, scene, rng.random())))
    for machine in rng.sample(machines, rng.randint(1, 3)):
        blocks.append(pages.Block("body", stories.biography(world, machine, rng)))
    for person in rng.sample(world.people, rng.randint(0, 2)):
        blocks.append(pages.Block("body", stories.person_paragraph(world, person, rng)))
    if rng.random() < 0.4:
        rows = [["Serial", "Type", "Taken on charge"]]
        for machine in rng.sample(machines, 3):
            if (machine.serial, "taken") not in world.doubts:
                rows.append([machine.serial, machine.named(), f"{machine.taken.day} "
                             f"{wording.MONTHS[machine.taken.month - 1]} {machine.taken.year}"])
        if len(rows) > 1:
            blocks.append(pages.Block("table", rows=rows))
    rng.shuffle(blocks)
    return blocks


def assemble(rest, planted, places):
    blocks = copy.deepcopy(rest)
    at = []
    for place, block in zip(places, planted):
        block = copy.deepcopy(block)
        blocks.insert(place, block)
        at.append(block)
    # A reference "{fig:-1}" needs a caption before it.
    pages.number(blocks)
    return blocks, at


def make(world, check, seed):
    """A mutant and its twin: (text of the twin, text of the mutant, lines of the fault, suffix, blocks)."""
    rng = random.Random(f"{world.seed} {check} {seed}")
    plant = None
    for _ in range(400):
        plant = CHECKS[check](world, rng)
        if plant is not None:
            break
    if plant is None:
        return None
    rest = surroundings(world, rng, plant.machines)
    lead = scenes.make_scene(world, next(a for a in world.airframes.values() if a.serial not in plant.machines
                                         and world.random_day(a, rng)), rng)
    rest.insert(0, pages.Block("caption", scenes.caption(world, lead, rng.random())))
    low = 1
    if len(plant.false) == 2 and getattr(plant, "is_adjacent", False):
        place = rng.randint(low, len(rest))
        places = [place, place + 1]
    else:
        places = sorted(rng.randint(low, len(rest)) for _ in plant.false)
        places = [p + k for k, p in enumerate(places)]
    forms = ["md", "xml", "txt"] + (["csv"] if plant.is_caption and not plant.is_stet else [])
    form = rng.choice(forms)
    style = rng.random()
    made = []
    for planted in (plant.true, plant.false):
        blocks, own = assemble(rest, planted, places)
        text, spans = pages.write(blocks, form, random.Random(style))
        made.append((text, spans[[b is own[plant.at] for b in blocks].index(True)], own[plant.at].text))
    return made[0], made[1], form


def queries_of(program, ledger, path):
    result = subprocess.run([program, "check", "--ledger", ledger, "--format", "json", "--at-least", "note", path],
                            capture_output=True, text=True, check=False)
    if result.returncode == 2 or not result.stdout:
        raise RuntimeError(f"{path}: {result.stderr}")
    return json.loads(result.stdout)["queries"]


def judge(check, span, queries):
    """found, elsewhere (at another block), as (another check there), missed; and the queries besides."""
    here = [q for q in queries if span[0] <= q["line"] <= span[1]]
    own = [q for q in here if q["check"] == check]
    if own:
        return "found", [q for q in queries if q is not own[0]]
    if any(q["check"] == check for q in queries):
        return "elsewhere", [q for q in queries if q["check"] != check]
    if here:
        return "as another", [q for q in queries if q is not here[0]]
    return "missed", queries


def tell(kind, check, where, made, queries, out):
    text, span, words = made
    print(f"--- {kind}: {check} {where} (lines {span[0]} to {span[1]})\n    {words}", file=out)
    lines = text.split("\n")
    for q in queries:
        if not span[0] <= q["line"] <= span[1]:
            low = high = q["line"] - 1
            while low > 0 and lines[low - 1].strip() and not lines[low].startswith(("<fig", "<para", "Fig", "!")):
                low -= 1
            while high + 1 < len(lines) and lines[high + 1].strip() and not where.endswith("csv"):
                high += 1
            print("    @ " + " ".join(lines[low if not where.endswith("csv") else high:high + 1]), file=out)
        print(f"    {q['line']}:{q['column']}: {q['level']}: {q['message']} [{q['check']}] \"{q['text']}\"", file=out)


def main():
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("program")
    options.add_argument("--worlds", type=int, default=5, help="ledgers")
    options.add_argument("--each", type=int, default=5, help="mutants of each check in each world")
    options.add_argument("--first", type=int, default=1, help="the seed of the first world")
    options.add_argument("--only", nargs="*", help="these checks")
    options.add_argument("--misses", type=pathlib.Path, help="write every miss and false alarm here")
    options.add_argument("--keep", type=pathlib.Path, help="leave ledgers and manuscripts here")
    options.add_argument("--found", type=float, default=0, help="fail below this share of faults found, in per cent")
    options.add_argument("--false-alarms", type=int, default=10**9, help="fail above this number of false alarms")
    given = options.parse_args()
    checks = given.only or sorted(CHECKS)
    counts = {c: collections.Counter() for c in checks}
    twins = alarms = 0
    out = open(given.misses, "w", encoding="utf-8") if given.misses else None
    with tempfile.TemporaryDirectory() as scratch:
        top = given.keep or pathlib.Path(scratch)
        for seed in range(given.first, given.first + given.worlds):
            world = World(seed)
            ledger = top / f"{seed}" / "ledger"
            write_ledger(world, ledger)
            for check in checks:
                for number in range(given.each):
                    made = make(world, check, number)
                    if made is None:
                        counts[check]["not made"] += 1
                        continue
                    twin, mutant, form = made
                    name = f"{check}-{number}"
                    found = {}
                    for kind, (text, span, words) in (("twin", twin), ("mutant", mutant)):
                        path = top / f"{seed}" / f"{name}-{kind}.{form}"
                        path.write_text(text, encoding="utf-8")
                        found[kind] = queries_of(given.program, ledger, path)
                        if not given.keep:
                            path.unlink()
                    where = f"{seed}/{name}.{form}"
                    twins += 1
                    if found["twin"]:
                        alarms += len(found["twin"])
                        counts[check]["false"] += len(found["twin"])
                        if out:
                            tell("false", check, where, twin, found["twin"], out)
                    verdict, besides = judge(check, mutant[1], found["mutant"])
                    counts[check]["planted"] += 1
                    counts[check][verdict] += 1
                    known = {(q["check"], q["message"]) for q in found["twin"]}
                    besides = [q for q in besides if (q["check"], q["message"]) not in known]
                    counts[check]["besides"] += len(besides)
                    if out and (verdict != "found" or besides):
                        tell(verdict if verdict != "found" else "besides", check, where, mutant,
                             found["mutant"] if verdict != "found" else besides, out)
    print("| check | planted | found | at another place | as another check | missed | queries besides | false in twins |")
    print("| --- | --: | --: | --: | --: | --: | --: | --: |")
    total = collections.Counter()
    for check in checks:
        c = counts[check]
        total.update(c)
        print(f"| {check} | {c['planted']} | {c['found']} | {c['elsewhere']} | {c['as another']} | {c['missed']} | "
              f"{c['besides']} | {c['false']} |")
    print(f"| all | {total['planted']} | {total['found']} | {total['elsewhere']} | {total['as another']} | "
          f"{total['missed']} | {total['besides']} | {total['false']} |")
    if total["not made"]:
        print(f"{total['not made']} could not be made", file=sys.stderr)
    share = 100 * total["found"] / max(1, total["planted"])
    print(f"\n{share:.2f} % found; {alarms} queries in {twins} consistent manuscripts")
    return 0 if share >= given.found and alarms + total["besides"] <= given.false_alarms and not total["not made"] else 1


if __name__ == "__main__":
    sys.exit(main())
