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
_FIELD = re.compile(r"\{(\w)(!?)\}")
_FACT = {"u": "unit", "g": "unit", "P": "place", "d": "date", "D": "date"}


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


def _sentence(tail):
    body = tail.strip(", ")
    return body[0].upper() + body[1:] + "."


# -- running text and what stands beside the facts

TAKEN = ["was taken on charge {d}", "was brought on charge {d}", "came on charge {d}", "was delivered {d}"]
ALLOTTED = ["was allotted to {u} {d}", "went to {u} {d}", "passed to {u} {d}", "joined {u} {d}"]
ENDED = {
    "lost": ["was lost {d}", "failed to return {d}", "was shot down {d}", "was lost at sea {d}"],
    "struck": ["was struck off charge {d}", "was struck off {d}", "left the books {d}"],
    "accident": ["had an accident {d}", "crashed on landing {d}", "overturned on landing {d}",
                 "was damaged in an accident {d}", "crash-landed {d}"],
}


def event_sentence(world, subject, kind, phrase, rng):
    verbs = TAKEN if kind == "taken" else ENDED[kind]
    return f"{subject} {rng.choice(verbs).format(d=phrase.adverb)}."


def event_phrase(when, rng, doubtful=False):
    if doubtful:
        month = f"{w.MONTHS[when.month - 1]} {when.year}"
        words = rng.choice([f"about {when.day} {month}", f"around {month}"])
        return w.Phrase(words, words, later(when, -40), later(when, 40))
    phrase = w.exact(when, rng) if rng.random() < 0.6 else None
    if phrase is None:
        month = f"{w.MONTHS[when.month - 1]} {when.year}"
        phrase = w.Phrase(f"in {month}", month, when.replace(day=1), w.month_end(when))
    return phrase


def biography(world, machine, rng, replaced=None, only=None):
    """A paragraph of the machine's life. `replaced` is (kind, Phrase) of the fact that a fault changes."""
    replaced = replaced or {}

    def phrase(kind, when):
        usual = event_phrase(when, rng, (machine.serial, kind) in world.doubts)
        return replaced.get(kind, usual)

    serial = w.serial_words(world, machine.serial, rng)
    name = f"{w.type_words(world, machine.type, machine.mark, rng)} {serial}" if rng.random() < 0.5 else serial
    facts = []
    facts.append(("taken", machine.taken))
    for k, spell in enumerate(machine.holders):
        if k and rng.random() < 0.7:
            facts.append(("allotted", spell))
    for kind, when in machine.events:
        if kind == "accident":
            facts.append((kind, when))
    facts.append(("lost" if machine.fate == "lost" else "struck", machine.struck))
    facts.sort(key=lambda f: f[1].first if f[0] == "allotted" else f[1])
    facts = [f for f in facts if f[0] in (only or ()) or f[0] in replaced or rng.random() < 0.8]
    if not facts:
        facts = [("taken", machine.taken)]
    subject = name
    sentences = []
    for kind, what in facts:
        if kind == "allotted":
            line = rng.choice(ALLOTTED).format(u=w.unit_words(world, what.value, rng),
                                               d=event_phrase(what.first, rng).adverb)
            sentences.append(f"{subject} {line}.")
        else:
            sentences.append(event_sentence(world, subject, kind, phrase(kind, what), rng))
        subject = rng.choice(["It", "It", "The machine", "The aircraft"])
    return tidy(" ".join(sentences))


def person_paragraph(world, person, rng):
    spell = rng.choice(person.units)
    when = later(spell.first, rng.randint(30, max(31, (spell.last - spell.first).days - 40)))
    rank = world.rank_of(person, when)
    unit = w.unit_words(world, spell.value, rng)
    title = w.person_words(world, person, rank, [], rng)
    if not all(s.holds(when, 20) for s in person.ranks + person.units if s.holds(when)):
        return f"Much of what follows rests on the papers of {person.name}."
    date = w.exact(when, rng) if rng.random() < 0.5 else w.Phrase(
        f"in {w.MONTHS[when.month - 1]} {when.year}", "", when, when)
    return tidy(rng.choice([
        f"{title} was with {unit} {date.adverb}.",
        f"{date.adverb}, {title} of {unit} kept a diary.",
        f"{date.adverb} {unit} had {title} among its pilots.",
        f"{title} flew with {unit} {date.adverb}.",
    ]))


def harmless(world, scene, rng):
    """A sentence beside the facts that looks as if it might contradict them, and does not."""
    machine, when = scene.machine, scene.when
    other = rng.choice([a for a in world.airframes.values() if a.serial != machine.serial])
    year = when.year + rng.choice([-2, -1, 1, 2])
    unit = rng.choice([u for u in world.flying_home + world.flying_reach
                       if u not in [s.value for s in machine.holders + machine.operators]])
    person = rng.choice(world.people)
    number = rng.randint(100, 999)
    choices = [
        f"It is often captioned as {year}, which is wrong.",
        f"The print is endorsed '{other.serial}', wrongly.",
        f"Published in {rng.choice([1951, 1953, 1956])} with the wrong caption.",
        f"The serial is usually given as {other.serial}, but this is another machine.",
        f"It never served with {w.unit_words(world, unit, rng)}.",
        f"The drum in front is marked {rng.choice('RSTW')} {number}.",
        f"The crate behind it bears the number {number}.",
        f"The negative is in box {number}.",
        "Nobody has found out who took the picture.",
        "Note the mud.", "The engine cover lies on the ground.", "The lorry belongs to the fire crew.",
        f"A similar machine, {other.serial}, appears later in this book.",
        f"The picture comes from the album of {person.name}.",
        f"Some say {year}.",
        f"In {year} the hangar behind it did not yet exist." if year < when.year
        else f"The hangar behind it was pulled down in {year}.",
        f"The type first flew in {1936 + rng.randint(0, 2)}.",
        f"The photographer, {person.given} {rng.choice(['Harn', 'Mabbit', 'Sode'])}, was killed in {when.year + 1}.",
    ]
    if machine.is_known and len(machine.holders) > 1:
        held = [h for h in machine.holders if h.holds(when)]
        index = machine.holders.index(held[0]) if held else 0
        if index + 1 < len(machine.holders):
            following = machine.holders[index + 1].value
            choices += [f"It later went to {w.unit_words(world, following, rng)}.",
                        f"Later it was passed to {w.unit_words(world, following, rng)}."] * 2
        if index > 0:
            previous = machine.holders[index - 1].value
            choices += [f"It had come from {w.unit_words(world, previous, rng)}.",
                        f"It was formerly with {w.unit_words(world, previous, rng)}."] * 2
    if machine.is_known:
        end = w.exact(machine.struck, rng)
        verb = "lost" if machine.fate == "lost" else "struck off charge"
        choices += [f"It was {verb} {end.adverb}."] * 2
        for kind, day in machine.events:
            if kind == "accident" and day > later(when, 3):
                choices += [f"It had an accident {w.exact(day, rng).adverb}."]
    if scene.people:
        p = scene.people[0][0]
        coming = [s for s in p.ranks if s.first > later(when, 30)]
        if coming:
            choices += [f"{p.surname} was later promoted to {coming[0].value}."]
    return rng.choice(choices)
