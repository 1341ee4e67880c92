"""Sentences beside the facts of a caption that look as if they might contradict it, and do not.

Each is true, or denied, or somebody else's, or of another machine, time or thing.
"""

import wording as w
from world import later


def harmless(world, scene, rng):
    """One such sentence, of a kind chosen evenly among those for which there is something to say."""
    kinds = list(KINDS)
    rng.shuffle(kinds)
    for kind in kinds:
        said = kind(world, scene, rng)
        if said:
            return said
    return "Note the mud."


def _other(world, scene, rng):
    return rng.choice([a for a in world.airframes.values() if a.serial != scene.machine.serial])


def _other_unit(world, scene, rng):
    own = [s.value for s in scene.machine.holders + scene.machine.operators]
    return w.unit_words(world, rng.choice([u for u in world.flying_home + world.flying_reach if u not in own]), rng)


def _noise(world, scene, rng):
    return rng.choice(["Note the mud.", "The engine cover lies on the ground.", "The lorry belongs to the fire crew.",
                       "Nobody has found out who took the picture.", "The man with the dog is unidentified.",
                       "The print is badly scratched.", "The negative has been reversed.",
                       "Who the other two are is not known."])


def _rejected(world, scene, rng):
    other = _other(world, scene, rng).serial
    year = scene.when.year + rng.choice([-2, -1, 1, 2])
    return rng.choice([
        f"It is often captioned as {year}, which is wrong.", f"Some say {year}.",
        f"The print is endorsed '{other}', wrongly.",
        f"The serial is usually given as {other}, but this is another machine.",
        f"It is not {other}, as has been printed.", f"The album has it as {other}.",
        f"Often said to have been taken in {year}, it shows nothing of the kind.",
        f"According to the back of the print it was taken in {year}."])


def _published(world, scene, rng):
    year = rng.choice([1951, 1953, 1956])
    after = later(scene.when, rng.randint(5, 300))
    return rng.choice([
        f"Published in {year} with the wrong caption.", f"The print was first published in {year}.",
        f"The print is stamped {w.exact(after, rng).bare}.",
        f"Passed by the censor on {after.day} {w.MONTHS[after.month - 1]} {after.year}.",
        f"The negative was given to the archive in {year}."])


def _numbers(world, scene, rng):
    number = rng.randint(100, 999)
    return rng.choice([
        f"The drum in front is marked {rng.choice('RSTW')} {number}.",
        f"The crate behind it bears the number {number}.", f"The negative is in box {number}.",
        f"The lorry, number {number}, came from the depot.", f"The hut on the left is No. {number % 9 + 1}.",
        f"The order book, p. {number}, has the same.", f"The engine is No. {number}.",
        f"Behind it is hangar No. {number % 9 + 1}."])


def _elsewhere(world, scene, rng):
    other = _other(world, scene, rng)
    return rng.choice([
        f"A similar machine, {other.serial}, appears later in this book.",
        f"Photographed from {other.serial}.", f"The engine came from {other.serial}.",
        f"It is not to be confused with {other.serial}.", f"Its propeller had come from {other.serial}.",
        f"Compare {other.serial}, of which there is no picture."])


def _unit_of_others(world, scene, rng):
    unit = _other_unit(world, scene, rng)
    other_type = rng.choice([t for t in world.types if t != scene.type])
    return rng.choice([
        f"It never served with {unit}.", f"It was never with {unit}.",
        f"The hangar belongs to {unit}.", f"A {other_type} of {unit} stands behind.",
        f"In the background is a {other_type} of {unit}.", f"The men in the foreground are fitters of {unit}.",
        f"It was to have gone to {unit}.", f"Had it been spared it would have gone to {unit}.",
        f"Aircraft of {unit} usually stood on the other side.", f"The album belonged to a pilot of {unit}.",
        f"The photographer was with {unit}."])


def _people_of_others(world, scene, rng):
    person = rng.choice([p for p in world.people if p.died is None])
    return rng.choice([
        f"The picture comes from the album of {person.name}.",
        f"Photograph via {person.name}.", f"{person.name} kept a print of it.",
        f"The photographer, {person.given} {rng.choice(['Harn', 'Mabbit', 'Sode'])}, was killed in "
        f"{scene.when.year + 1}.",
        "Nothing is known of the pilot."])


def _place_and_time(world, scene, rng):
    when = scene.when
    year = when.year + rng.choice([-3, -2, 1, 2])
    if year < when.year:
        return rng.choice([f"In {year} the hangar behind it did not yet exist.",
                           f"The hangar was built in {year}.", f"The type first flew in {1936 + rng.randint(0, 2)}."])
    return rng.choice([f"The hangar behind it was pulled down in {year}.",
                       f"By {year} the trees had gone.", f"The runway was lengthened in {year}."])


def _life(world, scene, rng):
    machine, when = scene.machine, scene.when
    if not machine.is_known:
        return None
    end = w.exact(machine.struck, rng).adverb
    verb = "lost" if machine.fate == "lost" else "struck off charge"
    said = [f"It was {verb} {end}.", f"It survived until {w.exact(machine.struck, rng).bare}."
            if verb != "lost" else f"It was to be lost {end}.",
            f"It had been taken on charge in {w.MONTHS[machine.taken.month - 1]} {machine.taken.year}."
            if (machine.serial, "taken") not in world.doubts else f"It was {verb} {end}."]
    for kind, day in machine.events:
        if kind == "accident" and day > later(when, 3):
            said += [f"It had an accident {w.exact(day, rng).adverb}.",
                     f"It was to be damaged in an accident {w.exact(day, rng).adverb}."]
        if kind == "accident" and day < later(when, -3):
            said += [f"It had been damaged in an accident {w.exact(day, rng).adverb}."]
    return rng.choice(said)


def _service(world, scene, rng):
    machine = scene.machine
    held = [h for h in machine.holders if h.holds(scene.when)]
    if not held:
        return None
    index = machine.holders.index(held[0])
    said = []
    if index + 1 < len(machine.holders):
        spell = machine.holders[index + 1]
        unit = w.unit_words(world, spell.value, rng)
        month = f"{w.MONTHS[spell.first.month - 1]} {spell.first.year}"
        said += [f"It later went to {unit}.", f"Later it was passed to {unit}.", f"In {month} it went to {unit}.",
                 f"It was transferred to {unit} on {spell.first.day} {month}.", f"It ended with {unit}."
                 if index + 2 == len(machine.holders) else f"It later went to {unit}."]
    if index > 0:
        unit = w.unit_words(world, machine.holders[index - 1].value, rng)
        said += [f"It had come from {unit}.", f"It was formerly with {unit}.", f"Until then it had been with {unit}."]
    return rng.choice(said) if said else None


def _codes(world, scene, rng):
    codes, when = scene.machine.codes, scene.when
    now = next((k for k, c in enumerate(codes) if c.holds(when)), None)
    if now is None or not scene.machine.is_known:
        return None
    said = []
    if now > 0:
        old = codes[now - 1].value
        said += [f"Traces of the former code {old} can be seen.", f"It had previously been coded {old}.",
                 f"It had been {old} before."]
    if now + 1 < len(codes):
        new = codes[now + 1].value
        said += [f"It was later coded {new}.", f"It later became {new}."]
    if scene.machine.former:
        said += [f"It was formerly {scene.machine.former}."]
    return rng.choice(said) if said else None


def _careers(world, scene, rng):
    if not scene.people:
        return None
    p, rank = scene.people[0][0], scene.people[0][1]
    said = []
    coming = [s for s in p.ranks if s.first > later(scene.when, 30)]
    if coming:
        month = f"{w.MONTHS[coming[0].first.month - 1]} {coming[0].first.year}"
        said += [f"{p.surname} was later promoted to {coming[0].value}.",
                 f"{p.surname} became a {coming[0].value} in {month}.", f"{p.surname} was promoted in {month}."]
    gone = [s for s in p.ranks if s.last < later(scene.when, -30)]
    if gone:
        said += [f"{p.surname} had been promoted in "
                 f"{w.MONTHS[gone[-1].last.month - 1]} {gone[-1].last.year}."] if gone[-1].last.day > 2 else []
    if p.died:
        said += [f"{p.surname} was killed {w.exact(p.died, rng).adverb}.",
                 f"{p.surname} died {w.exact(p.died, rng).adverb}."]
    for award, day in p.awards:
        if day > later(scene.when, 30):
            said += [f"{p.surname} was awarded the {award} in {w.MONTHS[day.month - 1]} {day.year}.",
                     f"{p.surname} received the {award} {w.exact(day, rng).adverb}."]
    moved = [s for s in p.units if s.first > later(scene.when, 30)]
    if moved:
        unit = w.unit_words(world, moved[0].value, rng)
        said += [f"{p.surname} later went to {unit}.",
                 f"{p.surname} was posted to {unit} in {w.MONTHS[moved[0].first.month - 1]} {moved[0].first.year}."]
    return rng.choice(said) if said else None


def _moves(world, scene, rng):
    if not scene.unit:
        return None
    unit = world.units[scene.unit]
    name = w.unit_words(world, scene.unit, rng)
    said = []
    for k, station in enumerate(unit.stations):
        if station.first > later(scene.when, 15):
            said += [f"{name} moved to {station.value} {w.exact(station.first, rng).adverb}.",
                     f"In {w.MONTHS[station.first.month - 1]} {station.first.year} {name} moved to {station.value}."]
        if k and station.holds(scene.when):
            said += [f"{name} had come from {unit.stations[k - 1].value}."]
    return rng.choice(said) if said else None


def _paint(world, scene, rng):
    said = []
    for m in world.markings.values():
        if m.introduced.year > 1940 and m.introduced > later(scene.when, 20):
            month = f"{w.MONTHS[m.introduced.month - 1]} {m.introduced.year}"
            said += [f"The {m.name} had not yet been introduced.", f"It has yet to receive its {m.name}.",
                     f"The {m.name} did not appear until {month}.", f"There is no {m.name} yet.",
                     f"The {m.name} was ordered in {month}.", f"The {m.name} came in {w.exact(m.introduced, rng).adverb}."]
        if m.withdrawn and m.withdrawn < later(scene.when, -40):
            said += [f"The {m.name} had gone.", f"The {m.name} is gone.", f"It no longer wears the {m.name}.",
                     f"The {m.name} had been withdrawn in {w.MONTHS[m.withdrawn.month - 1]} {m.withdrawn.year}."]
    return rng.choice(said) if said else None


KINDS = [_noise, _rejected, _published, _numbers, _elsewhere, _unit_of_others, _people_of_others, _place_and_time,
         _life, _service, _codes, _careers, _moves, _paint]
