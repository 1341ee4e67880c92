"""A scene is what one caption or paragraph states; `caption` and `biography` put it into words.

`make_scene` takes facts that are all true on one day. A fault is planted by changing one value of a scene;
`must` names the facts that the wording may then not leave out. The same seed words the true scene and the
faulty one alike.
"""

import dataclasses
import datetime
import random
import re

import wording as w
from world import later


@dataclasses.dataclass
class Scene:
    machine: object                  # an Airframe
    when: datetime.date = None
    date: object = None              # a Phrase; None: the caption gives none
    serial: str = ""
    type: str = ""
    mark: str = ""
    unit: str = ""
    role: str = ""
    place: str = ""
    code: str = ""
    people: list = dataclasses.field(default_factory=list)  # (Person, rank, [awards], unit or "")
    markings: list = dataclasses.field(default_factory=list)  # Marking
    lacks: object = None             # a Marking that the text says is not there
    photograph: str = ""
    before: list = dataclasses.field(default_factory=list)   # whole sentences, put before or behind
    behind: list = dataclasses.field(default_factory=list)
    unsure: bool = False             # of the unit
    must: set = dataclasses.field(default_factory=set)


MAIN = [
    "{m} of {u} at {P}, {D}.",
    "{m}, {u}, at {P}, {D}.",
    "{m} of {u}, {P}, {D}.",
    "{P}, {D}: {m} of {u}.",
    "{P}, {D}. {m} of {u} outside the hangar.",
    "{D}: {m} at {P}.",
    "{m} at {P} {d}.",
    "{m} at {P}.",
    "{m} of {u} {d}.",
    "{m} of {u}.",
    "{m} {d}.",
    "{m}.",
    "{d!}, {m} of {u} stands at {P}.",
    "{d!}, {m} waits for its engine at {P}.",
    "{m} of {u} taxies out at {P} {d}.",
    "{m} of {u} taxiing at {P}, {D}.",
    "{a} of {u} at {P} {d}.",
    "{a} of {u}, {D}.",
    "{g} {m} at {P}, {D}.",
    "{g} {m} in its pen at {P} {d}.",
    "{g} {m}, {D}.",
    "Armourers at work on {m} of {u}, {P}, {D}.",
    "Refuelling {m} at {P}, {D}.",
    "{m} on the apron at {P} {d}, when it was with {u}.",
    "{m}, then with {u}, on the apron at {P} {d}.",
    "{m} as it was {d}, with {u}.",
    "A rainy morning at {P}: {m}, {D}.",
    "{m} shortly after landing at {P} {d}.",
    "{m} taking off from {P} {d}.",
    "The nose of {m} of {u}. {P}, {D}.",
    "{u!} at {P} {d}, with {m} nearest the camera.",
    "{m} photographed {d}.",
    "{m} photographed at {P} {d}.",
    "Seen at {P} {d}, {m} is in the open.",
    "A view of {m} taken at {P} {d}.",
    "Mechanics of {u} with {m} at {P}, {D}.",
    "{m} parked under the trees at {P}. The date is {D}.",
]
OPERATOR = [
    "{m}, flown by {u}, at {P}, {D}.",
    "{m} flown by {u} {d}.",
    "Seen at {P} {d}, {m} was flown by {u}.",
    "{m} in the hands of {u}, {P}, {D}.",
]
HOLDER = [
    "{m}, on charge to {u}, at {P}, {D}.",
    "{m}, held by {u}, {P}, {D}.",
    "{m} at {P} {d}, on the strength of {u}.",
]
# Running text; {w} is a person with what belongs to him.
PROSE = [
    "{d!}, {m} of {u} was at {P}.",
    "{m} was with {u} {d}.",
    "{m} was flown by {u} {d}.",
    "{d!} {m} was at {P}.",
    "{d!} {u} had {m} at {P}.",
    "{d!}, {w} flew {m}.",
    "{w} flew {m} {d}.",
    "{m} of {u} was flown by {w} {d}.",
    "{m}, flown by {w}, was at {P} {d}.",
]
_FIELD = re.compile(r"\{(\w)(!?)\}")
_FACT = {"w": "person", "u": "unit", "g": "unit", "P": "place", "d": "date", "D": "date"}


def make_scene(world, machine, rng, when=None, sharp=False):
    when = when or world.random_day(machine, rng)
    if when is None:
        return None
    scene = Scene(machine, when, w.date_phrase(when, rng, sharp), machine.serial, machine.type, machine.mark)
    if machine.is_known:
        scene.unit, scene.role = rng.choice(world.units_of(machine, when))
        scene.place = world.place_of(machine, when)
        crew = world.crew_for(machine, when)
        for person in rng.sample(crew, min(len(crew), rng.choice([0, 1, 1, 2]))):
            unit = world.unit_of(person, when) if rng.random() < 0.4 else ""
            scene.people.append((person, world.rank_of(person, when), awards_on(person, when, rng), unit))
    scene.code = world.code_of(machine, when) or ""
    names = [n for n in world.valid_markings(machine, when) if n != "twin bands" and n != "heron badge"]
    for name in rng.sample(names, min(len(names), rng.choice([0, 1, 1, 2]))):
        scene.markings.append(world.markings[name])
    return scene


def awards_on(person, when, rng):
    return [a for a, d in person.awards if d < later(when, -40) and rng.random() < 0.6]


def machine_words(world, s, rng, may_code=True):
    serial = w.serial_words(world, s.serial, rng)
    name = w.type_words(world, s.type, s.mark, rng) if s.type else ""
    if "type" in s.must and s.mark:
        name = f"{s.type} {w.mark_words(s.mark, rng)}"
    has_type = name and ("type" in s.must or rng.random() < 0.75)
    base = f"{name} {serial}" if has_type else serial
    if not (s.code and may_code):
        return base
    forms = [f"{base}/{s.code}", f"{base} ({s.code})", f"{base}, coded {s.code},", f"{base}, {s.code},"]
    if has_type:
        forms.append(f"{name} {s.code} ({serial})")
    return rng.choice(forms)


def apposed(world, s, rng):
    """"a Gannage Mk I, QX1001," as the beginning of a caption."""
    name = w.type_words(world, s.type, s.mark, rng)
    if "type" in s.must and s.mark:
        name = f"{s.type} {w.mark_words(s.mark, rng)}"
    serial = w.serial_words(world, s.serial, rng)
    return rng.choice([f"{w.article(name).capitalize()} {name}, {serial},",
                       f"{w.article(name).capitalize()} {name} ({serial})", f"The {name} {serial}"])


def tidy(text):
    text = text.replace(",,", ",").replace(", .", ".").replace(",.", ".").replace(",:", ":").replace(", ,", ",")
    text = re.sub(r",\s*([.;:)])", r"\1", text)
    text = re.sub(r"\.\.(?!\.)", ".", text)
    return text[0].upper() + text[1:] if text and not text[0].isdigit() else text


def person_of(world, entry, rng):
    person, rank, awards, unit = entry
    words = w.person_words(world, person, rank, awards, rng)
    return f"{words} of {w.unit_words(world, unit, rng)}" if unit else words


PERSON_TAIL = [", with {p} in the cockpit", ", {p} at the controls", ", flown by {p}", " with {p} at the controls",
               ", with {p} beside it"]
PERSON_LINE = ["{p} is in the cockpit.", "In the cockpit is {p}.", "The pilot is {p}.", "{p} stands by the propeller.",
               "{p} sits on the wing.", "The man on the wing is {p}.", "Beside the machine stands {p}.",
               "{p} is seen climbing out."]
PAIR_LINE = ["{p} and {q} stand beside it.", "Left to right: {p}; {q}.", "On the wing are {p} and {q}.",
             "{p} is talking to {q}."]
MARKING_TAIL = [", with {k} {s}", ", wearing {k} {s}", ", {k} {s}", " with {k} {s}"]
MARKING_LINE = ["It wears {k} {s}.", "Note {t} {s}.", "It has {k} {s}.", "The machine carries {k} {s}.",
                "{T} {s} {is} clearly seen.", "{T} {is} seen {s}.", "There {is} {k} {s}."]
CODE_LINE = ["It is coded {c}.", "The code is {c}.", "Its code letters are {c}.", "It carries the code {c}."]


def caption(world, scene, seed):
    """The words of a caption that states the scene's facts: those of `must`, others as chance has it."""
    rng = random.Random(seed)
    s = scene
    has = {"unit": bool(s.unit), "place": bool(s.place), "date": s.date is not None}
    wanted = {f for f in ("unit", "place", "date") if f in s.must and has[f]}
    choices = list(MAIN)
    if s.role == "operator":
        choices += OPERATOR * 3
    if s.role == "holder":
        choices += HOLDER * 3
    fitting = []
    for pattern in choices:
        fields = {_FACT[f] for f, _ in _FIELD.findall(pattern) if f in _FACT}
        if all(has[f] for f in fields) and wanted <= fields:
            # What the caption should not be without, its date, mostly stands in its first sentence.
            weight = 4 if "date" in fields or not has["date"] else 1
            # Other people's unit may stand beside the machine's: nothing is wrong with that.
            if "unit" in s.must and pattern.startswith("Mechanics"):
                continue
            if "{a}" in pattern and not s.type:
                continue
            fitting += [pattern] * weight
    pattern = rng.choice(fitting)
    if s.unsure and "unit" in s.must:
        pattern = pattern.replace("of {u}", rng.choice(["probably of {u}", "believed to be of {u}"]))
    code_in_name = bool(s.code) and ("code" in s.must or rng.random() < 0.35) and rng.random() < 0.6
    if "{a}" in pattern:
        code_in_name = False
    words = {"m": machine_words(world, s, rng, code_in_name)}
    if s.type:
        words["a"] = apposed(world, s, rng)
    if s.unit:
        words["u"] = w.unit_words(world, s.unit, rng)
        words["g"] = w.possessive(words["u"])
    words["P"] = s.place
    if s.date:
        words["d"], words["D"] = s.date.adverb, s.date.bare

    def fill(match):
        value = words[match.group(1)]
        return value[0].upper() + value[1:] if match.group(2) else value

    first = _FIELD.sub(fill, pattern)
    has_date = bool(re.search(r"\{[dD]!?\}", pattern))
    tails, lines = [], []
    people = list(s.people)
    if "person" not in s.must and rng.random() < 0.35:
        people = []
    if people:
        names = [person_of(world, e, rng) for e in people]
        if len(names) >= 2 and rng.random() < 0.7:
            lines.append(rng.choice(PAIR_LINE).format(p=names[0], q=names[1]))
        elif rng.random() < 0.4:
            tails.append(rng.choice(PERSON_TAIL).format(p=names[0]))
        else:
            lines.append(rng.choice(PERSON_LINE).format(p=names[0]))
    markings = list(s.markings)
    if "marking" not in s.must and rng.random() < 0.35:
        markings = []
    for m in markings:
        if not tails and rng.random() < 0.35:
            tails.append(rng.choice(MARKING_TAIL).format(k=w.marking_words(m, rng, "a"), s=w.surface_words(m, rng)))
            continue
        the = w.marking_words(m, rng)
        lines.append(rng.choice(MARKING_LINE).format(
            k=w.marking_words(m, rng, "a"), t=the, T=the[0].upper() + the[1:], s=w.surface_words(m, rng),
            **{"is": "are" if m.plural else "is"}))
    if s.lacks is not None:
        noun = w.marking_words(s.lacks, rng, "a").removeprefix("a ").removeprefix("an ")
        lines.append(rng.choice(["It is without the {k}.", "The {k} had not been applied.", "It lacks the {k}.",
                                 "There is no {k}."]).format(k=noun.removeprefix("the ")))
    if s.code and not code_in_name and "code" in s.must:
        lines.append(rng.choice(CODE_LINE).format(c=s.code))
    elif s.code and not code_in_name and rng.random() < 0.15:
        lines.append(rng.choice(CODE_LINE).format(c=s.code))
    if s.date and not has_date and "date" in s.must:
        lines.append(f"The photograph was taken {s.date.adverb}.")
    if tails and first.count(". ") == 0 and not first.endswith("is " + words.get("D", "") + "."):
        first = first[:-1] + tails[0] + "."
    elif tails:
        lines = [_sentence(tail) for tail in tails] + lines
    rng.shuffle(lines)
    text = " ".join(list(s.before) + [first] + [tidy(line) for line in lines] + list(s.behind))
    if s.photograph:
        text += f" ({s.photograph})"
    return tidy(text)


def prose(world, scene, seed):
    """The scene as a sentence of running text, or None where what it must state fits none."""
    rng = random.Random(seed)
    s = scene
    has = {"unit": bool(s.unit) and s.role != "holder", "place": bool(s.place), "date": s.date is not None,
           "person": bool(s.people)}
    wanted = s.must - {"type", "code"}
    fitting = []
    for pattern in PROSE:
        fields = {_FACT[f] for f, _ in _FIELD.findall(pattern) if f in _FACT}
        if all(has[f] for f in fields) and wanted <= fields:
            fitting.append(pattern)
    if not fitting or "marking" in s.must:
        return None
    pattern = rng.choice(fitting)
    words = {"m": machine_words(world, s, rng, "code" in s.must), "P": s.place, "d": s.date.adverb, "D": s.date.bare,
             "u": w.unit_words(world, s.unit, rng) if s.unit else ""}
    if s.people:
        words["w"] = person_of(world, s.people[0], rng)

    def fill(match):
        value = words[match.group(1)]
        return value[0].upper() + value[1:] if match.group(2) else value
    return tidy(" ".join([_FIELD.sub(fill, pattern)] + list(s.behind)))


COMPANIONS = ["Behind it is {m}.", "{m} of {u} is behind it.", "Beyond it stands {m}, flown by {u}.",
              "In the background is {m} of {u}.", "The machine on the left is {m}.", "Next to it is {m}, also at {P}."]


def companion(world, scene, rng):
    """A sentence about another machine that stood at the same place that day, or None."""
    others = [a for a in world.airframes.values()
              if a is not scene.machine and world.is_settled(a, scene.when)
              and world.place_of(a, scene.when) == scene.place and world.units_of(a, scene.when)]
    if not others or not scene.place:
        return None
    other = rng.choice(others)
    s = Scene(other, scene.when, scene.date, other.serial, other.type, other.mark)
    s.code = world.code_of(other, scene.when) or ""
    unit = world.units_of(other, scene.when)[0][0]
    line = rng.choice(COMPANIONS).format(m=machine_words(world, s, rng), u=w.unit_words(world, unit, rng), P=scene.place)
    return tidy(line), other.serial


def _sentence(tail):
    body = tail.strip(", ")
    return body[0].upper() + body[1:] + "."
