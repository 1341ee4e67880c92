"""Planters of what stands between captions, and of what needs no ledger: dates, measures, counts, references."""

import copy
import random

import pages
import plants
import scenes
import stories
import wording as w
from plants import Plant, captioned, changed, known, pair, scene_for
from world import later

NUMBERS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
           "thirteen", "fourteen", "fifteen", "sixteen"]


def captions_disagree(world, rng):
    kind = rng.choice(["code", "type", "lost", "photograph", "machine"])
    machine = rng.choice(list(world.open_airframes.values()))
    when = world.random_day(machine, rng)
    first = scenes.make_scene(world, machine, rng, when, sharp=True)
    second = scenes.make_scene(world, machine, rng, when, sharp=True)
    for s in (first, second):
        s.markings = []
    seeds = rng.random(), rng.random()
    fault = second
    if kind == "code":
        first.must = second.must = {"code", "date"}
        head, tail = machine.codes[0].value.split("-")
        fault = changed(second, code=f"{head}-{rng.choice([c for c in 'NPQRSTVW' if c != tail])}")
    elif kind == "type":
        first.must = second.must = {"type"}
        first.mark = second.mark = ""
        fault = changed(second, type=rng.choice([t for t in world.types if t != machine.type]))
    elif kind == "lost":
        end = later(when, rng.randint(60, 300))
        end = end.replace(day=rng.randint(1, 9))
        slip = end.replace(day=end.day + rng.choice([10, 20]) if end.day < 9 else 19)
        verb = rng.choice(stories.ENDED["lost"])
        line = "It " + verb + "."
        first.behind = [line.format(d=w.exact(end, rng).adverb)]
        second.behind = [line.format(d=w.exact(end, rng).adverb)]
        fault = changed(second, behind=[line.format(d=w.exact(slip, rng).adverb)])
    else:
        number = rng.choice(world.blank_photographs)
        first.photograph = second.photograph = number
        if kind == "machine":
            other = rng.choice([a for a in world.open_airframes.values() if a is not machine])
            fault = changed(second, serial=other.serial, code=other.codes[0].value, machine=other)
        else:
            first.must = second.must = {"date"}
            fault = changed(second, date=w.exact(later(when, rng.choice([-1, 1]) * rng.randint(30, 200)), rng))
    texts = [scenes.caption(world, s, seed) for s, seed in ((first, seeds[0]), (second, seeds[1]), (fault, seeds[1]))]
    blocks = [captioned(t) for t in texts]
    serials = tuple(world.open_airframes)
    return Plant([blocks[0], blocks[1]], [copy.copy(blocks[0]), blocks[2]], 1, serials)


def photograph_disagrees(world, rng):
    number = rng.choice(list(world.photographs))
    serial, when, _ = world.photographs[number]
    machine = world.airframes[serial]
    s = scenes.make_scene(world, machine, rng, when)
    s.photograph, s.people, s.markings = number, [], []
    kind = rng.choice(["serial", "date", "place"])
    if kind == "serial":
        others = [a for a in known(world) if a is not machine and a.taken < later(when, -40)
                  and a.struck > later(when, 40) and world.is_settled(a, when)]
        if not others:
            return None
        b = rng.choice(others)
        fault = scenes.make_scene(world, b, rng, when)
        fault = changed(fault, photograph=number, people=[], markings=[], date=s.date)
        if s.date.first != s.date.last:
            s.date = fault.date = w.exact(when, rng)
        return pair(world, rng, s, fault, (b.serial,))
    if kind == "date":
        for _ in range(60):
            other = world.random_day(machine, rng)
            same = other and world.units_of(machine, other) == world.units_of(machine, when) and (
                world.place_of(machine, other) == s.place and world.code_of(machine, other) == s.code)
            if same and abs((other - when).days) > 20:
                style = rng.random()
                s.date = w.date_phrase(when, random.Random(style))
                date = w.date_phrase(other, random.Random(style))
                if date.first > when or date.last < when:
                    s.must = {"date"}
                    return pair(world, rng, s, changed(s, date=date))
        return None
    others = [p for p in world.home + world.reach if p != s.place]
    s.must = {"place", "date"}
    return pair(world, rng, s, changed(s, place=rng.choice(others)))


def photograph_undatable(world, rng):
    """A rank given up before the marking came, both on a machine that knew either."""
    person = rng.choice(world.people)
    coming = [m for m in world.markings.values() if m.introduced.year > 1940 and not m.withdrawn]
    marking = rng.choice(coming)
    early = [s for s in person.ranks if s.last < later(marking.introduced, -40)]
    late = [s for s in person.ranks if s.first > later(marking.introduced, 5)
            or (s.first <= marking.introduced and s.last > later(marking.introduced, 60))]
    if not early or not late:
        return None
    spell, good = rng.choice(early), rng.choice(late)
    if good.value == spell.value:
        return None
    machines = [a for a in known(world) if a.taken < later(spell.last, -60)
                and a.struck > later(max(good.first, marking.introduced), 60)]
    if not machines:
        return None
    machine = rng.choice(machines)
    s = scenes.Scene(machine, None, None, machine.serial, machine.type, machine.mark)
    s.markings, s.must = [marking], {"marking", "person"}
    return pair(world, rng, changed(s, people=[(person, good.value, [], "")]),
                changed(s, people=[(person, spell.value, [], "")]))


def photograph_order(world, rng):
    one = scene_for(world, rng, sharp=True)
    if one is None:
        return None
    other = scenes.make_scene(world, one.machine, rng)
    if other is None or not (other.date.last < later(one.date.first, -14) or other.date.first > later(one.date.last, 14)):
        return None
    one.must = other.must = {"date"}
    if rng.random() < 0.5:
        gap = (other.when - one.when).days
        before, after = "some time before", "some time after"
        if 60 < abs(gap) < 600:
            before, after = rng.choice([("some months before", "some months after"), (before, after)])
    else:
        before, after = "before", "after"
    line = rng.choice(["It was taken {x} Fig. {f}.", "The picture was taken {x} that in Fig. {f}.",
                       "Taken {x} Fig. {f}.", "This was taken {x} the picture in Fig. {f}."])
    is_after = other.when > one.when
    seed = rng.random()

    def blocks(says_after):
        behind = line.format(x=after if says_after else before, f="{fig:-1}")
        texts = [scenes.caption(world, one, seed), scenes.caption(world, changed(other, behind=[behind]), seed + 1)]
        return [captioned(t) for t in texts]
    plant = Plant(blocks(is_after), blocks(not is_after), 1, (one.machine.serial,))
    plant.is_adjacent = True
    return plant


# -- what needs no ledger

def date_impossible(world, rng):
    s = scene_for(world, rng)
    if s is None:
        return None
    s.must = {"date"}
    year = s.when.year
    month = w.MONTHS[s.when.month - 1]
    if rng.random() < 0.7:
        last = w.month_end(s.when).day
        bad = 31 if last == 30 else 30 if s.when.month == 2 else 32
        if bad == 32:
            return None
        form = rng.choice(["{d} {m} {y}", "{o} {m} {y}", "{m} {d}, {y}", "the {o} of {m} {y}", "{d}.{n}.{y}",
                           "{o} {m}, {y}", "{d} {m}, {y}"])

        def words(d):
            return form.format(d=d, o=w.ordinal(d), m=month, y=year, n=s.when.month)
        good, wrong = words(s.when.day), words(bad)
        true, false = w.Phrase(f"on {good}", good, None, None), w.Phrase(f"on {wrong}", wrong, None, None)
    else:
        low, high = max(1, s.when.day - 3), s.when.day + 2
        if high > w.month_end(s.when).day or low >= high - 1:
            return None
        form = rng.choice(["between {a} and {b} {m} {y}", "from {a} to {b} {m} {y}", "between {a} {m} and {b} {m} {y}"])
        good = form.format(a=low, b=high, m=month, y=year)
        wrong = form.format(a=high, b=low, m=month, y=year)
        true, false = w.Phrase(good, good, None, None), w.Phrase(wrong, wrong, None, None)
    return pair(world, rng, changed(s, date=true), changed(s, date=false))


def weekday_wrong(world, rng):
    s = scene_for(world, rng)
    if s is None:
        return None
    s.must = {"date"}
    right = s.when.weekday()
    day = f"{s.when.day} {w.MONTHS[s.when.month - 1]} {s.when.year}"
    form = rng.choice(["{w} {d}", "{w}, {d}", "{w} {d}", "{w} the {o}"])

    def phrase(number):
        o = f"{w.ordinal(s.when.day)} of {w.MONTHS[s.when.month - 1]} {s.when.year}"
        words = form.format(w=w.WEEKDAYS[number], d=day, o=o)
        return w.Phrase(f"on {words}", words, s.when, s.when)
    return pair(world, rng, changed(s, date=phrase(right)), changed(s, date=phrase((right + rng.randint(1, 6)) % 7)))


MEASURES = [("in", "cm", 2.54, (8, 60)), ("ft", "m", 0.3048, (18, 60)), ("miles", "km", 1.609344, (8, 300)),
            ("lb", "kg", 0.45359237, (200, 9000)), ("mph", "km/h", 1.609344, (80, 400)),
            ("gallons", "litres", 4.54609, (20, 400)), ("yards", "m", 0.9144, (50, 900))]
MEASURE_LINES = {
    "in": ["The band is {x} wide.", "The figures are {x} high.", "The stripe, {x} wide, was painted by hand."],
    "ft": ["It spanned {x}.", "The wing span was {x}."], "miles": ["The strip lay {x} from the sea."],
    "lb": ["It weighed {x} empty.", "The load was {x}."], "mph": ["Its best speed was {x}."],
    "gallons": ["It held {x} of fuel."], "yards": ["The runway was {x} long.", "It ran on for {x} after landing."]}


def conversion_wrong(world, rng):
    unit, other, factor, (low, high) = rng.choice(MEASURES)
    value = rng.randint(low, high)
    if unit == "lb":
        value = value // 10 * 10
    right = value * factor
    wrong = right * rng.choice([0.8, 1.2, 1.35, 0.65])
    shown = (lambda x: f"{x:.2f}") if unit == "ft" else (lambda x: f"{round(x)}")
    if unit == "gallons" and rng.random() < 1:
        return None   # whose gallons, the text does not say
    if abs(round(wrong) - round(right)) < 3 and unit != "ft":
        return None
    line = rng.choice(MEASURE_LINES[unit])
    written = f"{value:,}"
    form = rng.choice(["{v} {u} ({c} {o})", "{v}{s}{u} ({c}{s}{o})"])
    gap = " " if unit not in ("in", "ft") else rng.choice([" ", ""])
    s = scene_for(world, rng)
    if s is None:
        return None

    def text(converted):
        x = form.format(v=written, u=unit, c=shown(converted), o=other, s=gap)
        return line.format(x=x)
    if rng.random() < 0.4:
        return Plant([pages.Block("body", text(right))], [pages.Block("body", text(wrong))], 0, (), False)
    return pair(world, rng, changed(s, behind=[text(right)]), changed(s, behind=[text(wrong)]))


def count_disagrees(world, rng):
    first, last, count, type_name, mark = rng.choice(world.runs)
    wrong = count + rng.choice([-2, -1, 1, 2])
    kind = rng.randrange(3)
    if kind == 0:
        line = rng.choice([
            "{a} to {b}, {n} aircraft in all, were delivered to the depot.", "The {n} {t} {m}s ({a} to {b}) had no heater.",
            "{a} to {b}, {n} machines, came from one works.", "The order was for {n} {t} {m}s, {a} to {b}.",
            "The {n} aircraft {a} to {b} were built side by side."])
    elif kind == 1:
        line = rng.choice(["{b} was the last of {n} {t} {m}s.", "The last of the {n} {t} {m}s was {b}.",
                           "{b}, the last of the {n} {t} {m}s, had a new engine."])
    else:
        place = rng.randint(2, count - 1)
        serial = [a.serial for a in known(world) if a.named() == f"{type_name} {mark}"][place - 1]
        ordinals = ["", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
                    "eleventh", "twelfth", "thirteenth", "fourteenth", "fifteenth"]
        line = rng.choice(["{s}, the {o} {t} {m} delivered, had no heater.", "{s} was the {o} {t} {m} delivered.",
                           "{s} was the {o} {t} {m} to be built."])
        texts = [line.format(s=serial, o=ordinals[n], t=type_name, m=mark)
                 for n in (place, place + rng.choice([1, 2]) if place < 12 else place - 2)]
        return Plant([pages.Block("body", texts[0])], [pages.Block("body", texts[1])], 0, (), False)
    number = (lambda n: NUMBERS[n]) if rng.random() < 0.7 else str
    texts = [scenes.tidy(line.format(a=first, b=last, n=number(n), t=type_name, m=mark)) for n in (count, wrong)]
    return Plant([pages.Block("body", texts[0])], [pages.Block("body", texts[1])], 0, (), False)


def reference_broken(world, rng):
    s = scene_for(world, rng)
    if s is None:
        return None
    line = rng.choice(["See also Fig. {f}.", "(Compare Fig. {f}.)", "The other side is shown in Fig. {f}.",
                       "Figure {f} was taken from the same spot.", "The hangar is that of Fig. {f}.",
                       "See Figure {f}."])
    if rng.random() < 0.5:
        texts = [line.format(f=f) for f in ("{fig:+0}", str(rng.randint(60, 99)))]
        return Plant([pages.Block("body", texts[0])], [pages.Block("body", texts[1])], 0, (), False)
    true, false = changed(s, behind=[line.format(f="{fig:-1}")]), changed(s, behind=[line.format(f=rng.randint(60, 99))])
    return pair(world, rng, true, false)


def stet_unused(world, rng):
    s = scene_for(world, rng)
    if s is None:
        return None
    text = scenes.caption(world, s, rng.random())
    check = rng.choice([c for c in CHECKS if c not in ("stet-unused",)])
    block = captioned(text, stet=(check, "the author has seen the print"))
    return Plant([captioned(text)], [block], 0, (s.machine.serial,), False, True)


def _planters():
    """Check id → planter: every public function of world and rng, in this file and in `plants`."""
    found = {}
    for functions in (vars(plants), globals()):
        for name, planter in functions.items():
            code = getattr(planter, "__code__", None)
            if code and not name.startswith("_") and code.co_varnames[:code.co_argcount] == ("world", "rng"):
                found[name.replace("_", "-")] = planter
    return found


CHECKS = _planters()
