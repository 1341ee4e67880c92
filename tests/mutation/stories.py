"""Running text: what happened to a machine, what became of a person, what a unit did."""

import wording as w
from scenes import tidy
from world import later

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
