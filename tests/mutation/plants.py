"""One planter for each check: a block or two that are true, and the same with one fault that is that check's alone.

A planter returns None where the chance it was given does not serve; it is then asked again with another.
"""

import copy
import dataclasses
import datetime
import random

import pages
import scenes
import stories
import wording as w
from world import later


@dataclasses.dataclass
class Plant:
    true: list                # blocks, in order
    false: list
    at: int = 0               # the block of `false` at which the query must stand
    machines: tuple = ()      # serials that the rest of the manuscript leaves alone
    is_caption: bool = True   # may stand in a caption list
    is_stet: bool = False


def captioned(text, **more):
    return pages.Block("caption", text, **more)


def known(world):
    return list(world.airframes.values())


def pair(world, rng, scene, fault, serials=()):
    """The scene in words and its faulty twin, worded by the same chance; now and then with a second machine, or
    as running text."""
    seed, style = rng.random(), rng.random()
    serials = (scene.machine.serial,) + tuple(serials)
    # In wide words ("1943") the second machine may have been elsewhere on most of the days.
    is_same_day = fault.date is scene.date and scene.date is not None and (
        scene.date.first is not None and (scene.date.last - scene.date.first).days < 10)
    if style < 0.2 and is_same_day and fault.machine is scene.machine and fault.place == scene.place:
        beside = scenes.companion(world, scene, rng)
        if beside:
            both = [captioned(scenes.caption(world, changed(s, behind=list(s.behind) + [beside[0]]), seed))
                    for s in (scene, fault)]
            return Plant([both[0]], [both[1]], 0, serials + (beside[1],))
    if style > 0.85 and is_same_day and not scene.photograph and not scene.behind and not fault.behind:
        texts = [scenes.prose(world, s, seed) for s in (scene, fault)]
        if all(texts) and texts[0] != texts[1]:
            return Plant([pages.Block("body", texts[0])], [pages.Block("body", texts[1])], 0, serials, False)
    both = [captioned(scenes.caption(world, s, seed)) for s in (scene, fault)]
    return Plant([both[0]], [both[1]], 0, serials)


def scene_for(world, rng, machines=None, **kinds):
    machine = rng.choice(machines or known(world))
    return scenes.make_scene(world, machine, rng, **kinds)


def changed(scene, **values):
    fault = copy.copy(scene)
    for key, value in values.items():
        setattr(fault, key, value)
    return fault


# -- machines

def serial_unknown(world, rng):
    s = scene_for(world, rng)
    if s is None or not world.missing:
        return None
    return pair(world, rng, s, changed(s, serial=rng.choice(world.missing)))


def serial_malformed(world, rng):
    s = scene_for(world, rng)
    if s is None:
        return None
    letters, between, digits = world.forms[0]
    number = s.serial[len(letters) + len(between):]
    bad = rng.choice([f"{letters}{between}{number}{rng.randint(0, 9)}", f"{letters}{between}{number[:-1]}",
                      f"{rng.choice(['WB', 'JJ', 'RZ'])}{between}{number}"])
    date = s.date.bare
    template = rng.choice([
        "The {t} with the serial {x} at {P}, {D}.", "{t} (serial {x}) at {P}, {D}.",
        "{A} {t} with the serial number {x}, {D}.", "{t}, serial number {x}, at {P}.",
        "{t} serial {x} outside the hangar at {P}, {D}.", "A {t} at {P}, {D}. Its serial is {x}.",
        "{P}, {D}: {t}, serial {x}.", "{A} {t} serialled {x} at {P}.", "{t} at {P}. The serial reads {x}."])
    name = s.type

    def block(serial):
        return captioned(scenes.tidy(template.format(t=name, A=w.article(name).capitalize(), x=serial, P=s.place,
                                                     D=date)))
    return Plant([block(s.serial)], [block(bad)], 0, (s.serial,))


def _table(world, rng, head, cells, wrong):
    """A table of four machines; `wrong` takes the place of the last cell of one."""
    machines = [a for a in rng.sample(known(world), 8) if (a.serial, "taken") not in world.doubts][:4]
    rows = [[head[0]] + list(head[1:])] + [[a.serial] + cells(a) for a in machines]
    at = rng.randrange(4)
    bad = [list(row) for row in rows]
    value = wrong(machines[at])
    if value is None:
        return None
    bad[at + 1][-1] = value
    return Plant([pages.Block("table", str(rows), rows=rows)], [pages.Block("table", str(bad), rows=bad)], 0,
                 tuple(a.serial for a in machines), False)


def _in_full(when):
    return f"{when.day} {w.MONTHS[when.month - 1]} {when.year}"


def type_disagrees(world, rng):
    if rng.random() < 0.1:
        return _table(world, rng, ["Serial", "Type"], lambda a: [a.named()],
                      lambda a: rng.choice([t for t in world.types if t != a.type]) + " Mk I")
    s = scene_for(world, rng)
    if s is None:
        return None
    s.must = {"type"}
    if rng.random() < 0.5:
        other = rng.choice([t for t in world.types if t != s.type])
        fault = changed(s, type=other)
    else:
        fault = changed(s, mark="Mk II" if s.mark == "Mk I" else "Mk I")
        s.must = fault.must = {"type"}
    if fault.mark == s.mark:   # the wrong type without its mark as often as with it
        if rng.random() < 0.5:
            s, fault = changed(s, mark=""), changed(fault, mark="")
    return pair(world, rng, s, fault)


def outside_service_life(world, rng):
    s = scene_for(world, rng)
    if s is None:
        return None
    a = s.machine
    if rng.random() < 0.5:
        when = later(a.taken, -rng.randint(45, 250))
    else:
        when = later(a.struck, rng.randint(45, 250))
    style = rng.random()
    s.date = w.date_phrase(s.when, random.Random(style))
    date = w.date_phrase(when, random.Random(style))
    if a.former and when < a.taken:   # it flew under its former number then
        return None
    if date.last >= later(a.taken, -2) and date.first <= later(a.struck, 2):
        return None
    s.people, s.must = [], {"date"}
    valid = world.valid_markings(a, when)
    s.markings = [m for m in s.markings if m.name in valid]
    return pair(world, rng, s, changed(s, date=date))


# -- units and places

def _units_near(world, machine, date):
    return {u for spells in (machine.holders, machine.operators) for s in spells for u in [s.value]
            if s.first <= later(date.last, 40) and s.last >= later(date.first, -40)}


def _formed(world, unit, date):
    u = world.units[unit]
    return u.formed < later(date.first, -60) and u.disbanded > later(date.last, 60)


def unit_disagrees(world, rng):
    s = scene_for(world, rng)
    if s is None:
        return None
    near = _units_near(world, s.machine, s.date)
    kind = world.units[s.unit].kind
    others = [u for u in world.units if u not in near and _formed(world, u, s.date)
              and (world.units[u].kind == kind or (s.role != "operator" and kind == "squadron"))]
    # Of days on which it no longer existed nothing is known, and the clash may be told as one of several facts.
    is_within = s.machine.taken <= s.date.first and s.date.last <= s.machine.struck
    if not others or not is_within:
        return None
    s.must = {"unit", "date"}
    s.unsure = rng.random() < 0.15
    s.people = [(p, r, a, "") for p, r, a, _ in s.people]
    return pair(world, rng, s, changed(s, unit=rng.choice(others)))


def unit_not_yet_formed(world, rng):
    s = scene_for(world, rng)
    if s is None:
        return None
    unit = rng.choice([world.late_unit, world.early_unit])
    u = world.units[unit]
    if not (s.date.last < later(u.formed, -5) or s.date.first > later(u.disbanded, 5)):
        return None
    s.must = {"unit", "date"}
    s.people = [(p, r, a, "") for p, r, a, _ in s.people]
    return pair(world, rng, s, changed(s, unit=unit))


def place_disagrees(world, rng):
    s = scene_for(world, rng)
    if s is None:
        return None
    near = set()
    for unit in _units_near(world, s.machine, s.date):
        for station in world.units[unit].stations:
            if station.first <= later(s.date.last, 40) and station.last >= later(s.date.first, -40):
                near.add(station.value)
    others = [p for p in world.home + world.reach if p not in near]
    s.must = {"place", "date"}
    return pair(world, rng, s, changed(s, place=rng.choice(others)))


# -- markings

def marking_too_early(world, rng):
    s = scene_for(world, rng)
    if s is None:
        return None
    coming = [m for m in world.markings.values() if m.introduced and later(s.date.last, 3) < m.introduced]
    if not coming:
        return None
    m = rng.choice(coming)
    valid = [n for n in world.valid_markings(s.machine, s.when) if world.markings[n].family == m.family]
    s.must = {"marking", "date"}
    true = world.markings[valid[0]] if valid else world.markings["chequers"]
    return pair(world, rng, changed(s, markings=[true]), changed(s, markings=[m]))


def marking_too_late(world, rng):
    s = scene_for(world, rng)
    if s is None:
        return None
    gone = [m for m in world.markings.values()
            if m.withdrawn and s.date.first > later(m.withdrawn, world.grace + 3)]
    if not gone:
        return None
    valid = [n for n in world.valid_markings(s.machine, s.when) if world.markings[n].family == "disc"]
    if not valid:
        return None
    s.must = {"marking", "date"}
    return pair(world, rng, changed(s, markings=[world.markings[valid[0]]]),
                changed(s, markings=[rng.choice(gone)]))


def marking_combination(world, rng):
    s = scene_for(world, rng)
    if s is None:
        return None
    one, other = rng.choice([("sea band", "twin bands"), ("chequers", "heron badge")])
    first, second = world.markings[one], world.markings[other]
    if s.date.first < later(first.introduced, 3) or s.date.first < datetime.date(1941, 2, 5):
        return None
    if s.date.last > datetime.date(1945, 11, 25):
        return None
    both = [first, second] if rng.random() < 0.5 else [second, first]
    s.must = {"marking", "date"}
    other = rng.choice([world.markings["wing stripes"], None])
    return pair(world, rng, changed(s, markings=[both[0]] + ([other] if other else [])), changed(s, markings=both))


def marking_order_reversed(world, rng):
    machine = rng.choice(known(world) + list(world.open_airframes.values()))
    for _ in range(20):
        when = world.random_day(machine, rng)
        second = world.random_day(machine, rng)
        if when and second and when > later(machine.flag_changed, 40) and second > later(when, 60):
            break
    else:
        return None
    texts = []
    earlier = scenes.make_scene(world, machine, rng, when)
    after = scenes.make_scene(world, machine, rng, second)
    if earlier.date.last >= later(after.date.first, -3):
        return None
    for s in (earlier, after):
        s.markings, s.must = [world.markings["edged flag"]], {"marking", "date"}
    seed = rng.random()
    for s in (earlier, after, changed(after, markings=[world.markings["plain flag"]])):
        texts.append(scenes.caption(world, s, seed + len(texts) // 1 * (len(texts) == 0)))
    blocks = [captioned(t) for t in texts]
    return Plant([blocks[0], blocks[1]], [copy.copy(blocks[0]), blocks[2]], 1, (machine.serial,))


def overpaint_reversed(world, rng):
    s = scene_for(world, rng)
    if s is None or s.date.first < later(s.machine.flag_changed, 40):
        return None
    s.markings = []
    if rng.random() < 0.3:
        s.date = None
        s.unit = s.place = s.code = ""
        s.people = []
    old, new = "plain flag", "edged flag"
    line = rng.choice([
        "On the fin {the:0} has been painted over {the:1}.", "{The:0} on the fin was painted over {the:1}.",
        "{The:1} shows through {the:0} on the fin.", "Under {the:0} on the fin {the:1} can still be made out.",
        "On the fin {the:0} covers {the:1}.", "{A:0} has been painted over {the:1} on the fin.",
        "{The:1} on the fin has been overpainted with {a:0}.", "The fin has {a:0} on top of {the:1}.",
        "Traces of {the:1} can be seen beneath {the:0} on the fin."])

    def put(upper, lower):
        text = line
        for key, name in (("0", upper), ("1", lower)):
            text = text.replace("{the:" + key + "}", f"the {name}").replace("{The:" + key + "}", f"The {name}")
            a = f"{w.article(name)} {name}"
            text = text.replace("{a:" + key + "}", a).replace("{A:" + key + "}", a.capitalize())
        return text
    return pair(world, rng, changed(s, behind=[put(new, old)]), changed(s, behind=[put(old, new)]))


def insignia_proportion(world, rng):
    m = world.markings[rng.choice(world.discs)]
    parts = [p.rsplit(" ", 1) for p in m.rings.split(";")]
    outer, index = int(parts[0][1]), rng.randrange(1, len(parts))
    colour, size = parts[index][0], int(parts[index][1])
    scale = rng.choice([4, 5, 6])
    factor = rng.choice([1.5, 0.6, 1.7])
    right, wrong = size * scale, round(size * scale * factor)
    if wrong >= outer * scale or abs(wrong - right) < 4:
        return None
    last = index == len(parts) - 1
    name = f"{colour} {'centre' if last and colour != 'white' else 'ring' if not last else 'centre'}"
    template = rng.choice([
        "The {m} is {x} in across, with a {c} of {y} in.", "The {m} was {x} in across and its {c} {y} in.",
        "The {m} on the fuselage measures {x} in across, the {c} {y} in.",
        "The {m} is {x} in in diameter; its {c} is {y} in.", "A {m} of {x} in has a {c} of {y} in.",
        "The {m} has a diameter of {x} in and a {c} of {y} in."])
    is_caption = rng.random() < 0.6

    def block(value):
        text = template.format(m=m.name, x=outer * scale, c=name, y=value)
        return pages.Block("caption" if is_caption else "body", text)
    return Plant([block(right)], [block(wrong)], 0, (), is_caption)


# -- identities

def code_disagrees(world, rng):
    if rng.random() < 0.25:
        return _other_identity(world, rng)
    s = scene_for(world, rng)
    if s is None or not s.code:
        return None
    spell = world.spell_at(s.machine.codes, s.when)
    if not (spell.first <= s.date.first and s.date.last <= spell.last):
        return None   # between two codes any may have been worn
    all_codes = sorted({c.value for a in known(world) for c in a.codes})
    mine = {c.value for c in s.machine.codes}
    head, tail = s.code.split("-")
    slip = f"{head}-{int(tail) % 29 + 1:02d}" if tail.isdigit() else f"{head}-{rng.choice([c for c in 'ABCDEFGHJKLM' if c != tail])}"
    wrong = rng.choice([slip, rng.choice(all_codes)])
    if wrong in mine:
        return None
    s.must = {"code", "date"}
    return pair(world, rng, s, changed(s, code=wrong))


def _other_identity(world, rng):
    former = [a for a in known(world) if a.former]
    machine = rng.choice(former)
    s = scenes.make_scene(world, machine, rng)
    if s is None:
        return None
    if rng.random() < 0.5:
        wrong = rng.choice([a for a in former if a is not machine]).former
        line = rng.choice(["It was formerly {x}.", "Its former serial was {x}.", "It had been {x} before it was rebuilt.",
                           "Before it was rebuilt it was {x}."])
        right = machine.former
    else:
        wrong = rng.choice([a for a in known(world) if a.type == machine.type and a is not machine]).works_number
        right = machine.works_number
        line = rng.choice(["Its constructor's number is {x}.", "It is constructor's number {x}.",
                           "Its works number was {x}."])
    return pair(world, rng, changed(s, behind=[line.format(x=right)]), changed(s, behind=[line.format(x=wrong)]))


# -- people

def _with_person(world, rng):
    for _ in range(20):
        s = scene_for(world, rng)
        if s is None or not s.people:
            continue
        s.people = s.people[:1]
        s.must = {"person", "date"}
        return s
    return None


def person_unit_disagrees(world, rng):
    s = _with_person(world, rng)
    if s is None:
        return None
    p, rank, awards, _ = s.people[0]
    near = {x.value for x in p.units if x.first <= later(s.date.last, 40) and x.last >= later(s.date.first, -40)}
    others = [u for u in world.flying_home + world.flying_reach if u not in near and _formed(world, u, s.date)]
    s.unit = ""
    return pair(world, rng, changed(s, people=[(p, rank, awards, world.unit_of(p, s.when))]),
                changed(s, people=[(p, rank, awards, rng.choice(others))]))


def rank_disagrees(world, rng):
    s = _with_person(world, rng)
    if s is None:
        return None
    p, _, awards, unit = s.people[0]
    near = {x.value for x in p.ranks if x.first <= later(s.date.last, 40) and x.last >= later(s.date.first, -40)}
    others = [r for r, _ in world.ranks if r not in near]
    return pair(world, rng, s, changed(s, people=[(p, rng.choice(others), awards, unit)]))


def award_too_early(world, rng):
    for _ in range(30):
        s = _with_person(world, rng)
        if s is None:
            return None
        p, rank, awards, unit = s.people[0]
        coming = [a for a, d in p.awards if d > later(s.date.last, 5)]
        if coming:
            return pair(world, rng, s, changed(s, people=[(p, rank, coming[:1], unit)]))
    return None


def person_not_living(world, rng):
    for _ in range(40):
        s = _with_person(world, rng)
        if s is None:
            return None
        dead = [p for p in world.people if p.died and s.date.first > later(p.died, 20)]
        if dead:
            p = rng.choice(dead)
            q, rank, _, _ = s.people[0]
            return pair(world, rng, changed(s, people=[(q, rank, [], "")]),
                        changed(s, people=[(p, p.ranks[-1].value, [], "")]))
    return None


# -- events

def _wrong_day(rng, right, machine, kind):
    wrong = later(right, rng.choice([-1, 1]) * rng.randint(45, 300))
    if kind == "accident" and not later(machine.taken, 5) < wrong < later(machine.struck, -5):
        return None
    # A machine struck off between its accident and the recorded day may have been written off.
    if kind == "struck" and any(day - datetime.timedelta(40) < wrong < right for _, day in machine.events):
        return None
    return wrong


def event_disagrees(world, rng):
    if rng.random() < 0.1:
        head = rng.choice(["Taken on charge", "Delivered", "TOC"])
        return _table(world, rng, ["Serial", "Type", head], lambda a: [a.named(), _in_full(a.taken)],
                      lambda a: _in_full(later(a.taken, -rng.randint(60, 300))))
    machine = rng.choice(known(world))
    kinds = [k for k, _ in machine.events] + ["taken"] + (["struck"] if machine.fate != "lost" else [])
    kind = rng.choice(kinds)
    if (machine.serial, kind) in world.doubts:
        return None
    right = {"taken": machine.taken, "struck": machine.struck}.get(kind) or dict(machine.events)[kind]
    wrong = _wrong_day(rng, right, machine, kind)
    if wrong is None or (kind == "taken" and wrong > later(right, -32) and abs((wrong - right).days) < 62):
        return None
    style = rng.random()
    true, false = (stories.event_phrase(x, random.Random(style)) for x in (right, wrong))
    if true.first <= false.last and false.first <= true.last:
        return None
    if rng.random() < 0.6:
        seed = rng.random()
        texts = [stories.biography(world, machine, random.Random(seed), {kind: phrase}) for phrase in (true, false)]
        return Plant([pages.Block("body", texts[0])], [pages.Block("body", texts[1])], 0, (machine.serial,), False)
    s = scenes.make_scene(world, machine, rng)
    if s is None:
        return None
    verbs = stories.TAKEN if kind == "taken" else stories.ENDED[kind]
    line = rng.choice(["It", "The machine", "The aircraft"]) + " " + rng.choice(verbs) + "."
    return pair(world, rng, changed(s, behind=[line.format(d=true.adverb)]),
                changed(s, behind=[line.format(d=false.adverb)]))


def hedge_missing(world, rng):
    serial = rng.choice([s for s, field in world.doubts if field == "taken"])
    machine = world.airframes[serial]
    seed = rng.random()
    exact = w.exact(machine.taken, rng)
    month = f"{machine.taken.day} {w.MONTHS[machine.taken.month - 1]} {machine.taken.year}"
    soft = w.Phrase(rng.choice([f"about {month}", f"on or about {month}", f"around {month}"]), month, None, None)
    texts = [stories.biography(world, machine, random.Random(seed), {"taken": p}) for p in (soft, exact)]
    return Plant([pages.Block("body", texts[0])], [pages.Block("body", texts[1])], 0, (serial,), False)


def hedge_unneeded(world, rng):
    machine = rng.choice(known(world))
    kinds = [k for k, _ in machine.events] + (["struck"] if machine.fate != "lost" else [])
    if not kinds:
        return None
    kind = rng.choice(kinds)
    right = machine.struck if kind in ("lost", "struck") else dict(machine.events)[kind]
    exact = w.exact(right, rng)
    verb = rng.choice(stories.ENDED[kind])
    if verb.startswith("was "):
        hedged = verb.replace("was ", rng.choice(["was probably ", "was possibly ", "was perhaps "]), 1)
    else:
        hedged = rng.choice(["probably ", "perhaps "]) + verb
    if rng.random() < 0.3:
        hedged, exact_false = verb, w.Phrase(f"about {exact.bare}" if not exact.bare.startswith("the")
                                             else f"about {w.exact(right, random.Random(0)).bare}", "", None, None)
    else:
        exact_false = exact
    subject = f"{machine.type} {machine.serial}" if rng.random() < 0.5 else machine.serial
    texts = [f"{subject} {v.format(d=p.adverb)}." for v, p in ((verb, exact), (hedged, exact_false))]
    return Plant([pages.Block("body", texts[0])], [pages.Block("body", texts[1])], 0, (machine.serial,), False)
