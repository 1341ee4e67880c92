"""How an author may put things: dates, machines, units, people and markings in many written forms.

Each function takes a `random.Random` and gives text; whatever it gives means exactly what it was given.
"""

import calendar
import dataclasses
import datetime

Day = datetime.date
MONTHS = calendar.month_name[1:]
WEEKDAYS = calendar.day_name


@dataclasses.dataclass
class Phrase:
    """A date in words: as an adverb ("in June 1943"), bare ("June 1943"), and the days that it means."""
    adverb: str
    bare: str
    first: Day
    last: Day


def ordinal(number):
    if 10 <= number % 100 <= 20:
        return f"{number}th"
    return f"{number}" + {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")


def month_end(when):
    return when.replace(day=calendar.monthrange(when.year, when.month)[1])


def day_words(when, rng):
    month, year = MONTHS[when.month - 1], when.year
    forms = [f"{when.day} {month} {year}"] * 6 + [
        f"{month} {when.day}, {year}", f"{ordinal(when.day)} {month} {year}", f"{ordinal(when.day)} {month}, {year}",
        f"{when.day} {month[:3]} {year}", f"{WEEKDAYS[when.weekday()]} {when.day} {month} {year}",
        f"{WEEKDAYS[when.weekday()]}, {when.day} {month} {year}", f"{when.day}.{when.month}.{year % 100:02d}",
        f"{when.day}/{when.month}/{year}", f"the {ordinal(when.day)} of {month} {year}",
        f"{when.day} {month}, {year}", f"{month} {ordinal(when.day)}, {year}"]
    return rng.choice(forms)


def exact(when, rng):
    words = day_words(when, rng)
    return Phrase(f"on {words}", words, when, when)


def within_month(when, rng):
    month, year = MONTHS[when.month - 1], when.year
    first, last = when.replace(day=1), month_end(when)
    kind = rng.randrange(8)
    if kind == 0:
        third, words = ((1, 10), "early") if when.day <= 10 else ((11, 20), "mid") if when.day <= 20 else (
            (21, last.day), "late")
        name = f"mid-{month} {year}" if words == "mid" else f"{words} {month} {year}"
        adverb = f"{words} in {month} {year}" if words != "mid" and rng.random() < 0.5 else f"in {name}"
        return Phrase(adverb, name, when.replace(day=third[0]), when.replace(day=third[1]))
    if kind == 1:
        half, words = ((1, 15), "first") if when.day <= 15 else ((16, last.day), "second")
        name = f"the {words} half of {month} {year}"
        return Phrase(f"in {name}", name, when.replace(day=half[0]), when.replace(day=half[1]))
    if kind == 2:
        return Phrase(f"one day in {month} {year}", f"some day in {month} {year}", first, last)
    name = f"{month} {year}"
    return Phrase(rng.choice(["in ", "in ", "during "]) + name, rng.choice([name, name, f"{month}, {year}"]),
                  first, last)


def fuzzy(when, rng):
    """Wider or softer than a month, with the days at full width and margin."""
    month, year = MONTHS[when.month - 1], when.year
    first, last = when.replace(day=1), month_end(when)
    kind = rng.randrange(6)
    if kind < 3:
        words = rng.choice([f"c. {month} {year}", f"about {month} {year}", f"around {month} {year}",
                            f"circa {month} {year}"])
        return Phrase(words, words, first - datetime.timedelta(32), last + datetime.timedelta(32))
    if kind == 3:
        return Phrase(f"in {year}", str(year), Day(year, 1, 1), Day(year, 12, 31))
    if kind == 4:
        if when.day > 24 or when.day < 5:
            return within_month(when, rng)
        low, high = when.day - rng.randint(1, 4), when.day + rng.randint(1, 4)
        words = f"between {low} and {high} {month} {year}"
        return Phrase(words, words, when.replace(day=low), when.replace(day=high))
    seasons = {3: "spring", 4: "spring", 5: "spring", 6: "summer", 7: "summer", 8: "summer",
               9: "autumn", 10: "autumn", 11: "autumn"}
    if when.month not in seasons:
        return within_month(when, rng)
    start = (when.month // 3) * 3
    name = rng.choice([f"the {seasons[when.month]} of {year}", f"{seasons[when.month]} {year}"])
    return Phrase(f"in {name}", name, Day(year, start, 1), month_end(Day(year, start + 2, 1)))


def date_phrase(when, rng, sharp=False):
    roll = rng.random()
    if sharp or roll < 0.45:
        return exact(when, rng)
    return within_month(when, rng) if roll < 0.85 else fuzzy(when, rng)


# -- machines

def serial_words(world, serial, rng):
    letters, between, _ = next(f for f in world.forms if serial.startswith(f[0] + f[1]))
    digits = serial[len(letters) + len(between):]
    return rng.choice([serial] * 8 + [f"{letters} {digits}", f"{letters}-{digits}"])


def mark_words(mark, rng):
    roman = mark.split()[1]
    arabic = {"I": "1", "II": "2"}[roman]
    return rng.choice([mark, mark, f"Mark {roman}", f"Mk.{roman}", roman, f"Mk. {roman}", f"Mk {arabic}"])


def type_words(world, type_name, mark, rng):
    maker = world.types[type_name][0] if type_name in world.types else ""
    name = f"{maker} {type_name}" if maker and rng.random() < 0.15 else type_name
    return f"{name} {mark_words(mark, rng)}" if mark and rng.random() < 0.5 else name


def article(noun):
    return "an" if noun[0].lower() in "aeiou" else "a"


def possessive(name):
    return name + ("'" if name.endswith("s") else "'s")


# -- units and people

def unit_words(world, unit, rng):
    u = world.units.get(unit)
    if u is None:
        return unit
    return rng.choice([unit, unit, unit] + u.aliases)


def person_words(world, person, rank, awards, rng):
    name = rng.choice([person.name, person.name, f"{person.given[0]}. {person.surname}", person.surname])
    short = dict(world.ranks).get(rank, "")
    title = rng.choice([rank, rank, short, short + "."]) if short else rank
    letters = dict(world.awards)
    tail = "".join(f", {letters[a]}" for a in awards)
    return f"{title} {name}{tail}" if title else f"{name}{tail}"


# -- paint

def marking_words(marking, rng, article_word="the"):
    name = rng.choice([marking.name, marking.name] + marking.aliases)
    if marking.plural:
        return name if article_word == "a" or rng.random() < 0.4 else f"the {name}"
    return f"{article(name)} {name}" if article_word == "a" else f"the {name}"


SURFACES = {
    "fuselage": ["on the fuselage", "on the fuselage side", "on the fuselage"],
    "rear fuselage": ["round the rear fuselage", "round the fuselage", "on the rear fuselage"],
    "fin": ["on the fin", "on its fin"],
    "rudder": ["on the rudder", "over the rudder"],
    "nose": ["on the nose", "on its nose", "on the cowling"],
    "upper wing": ["on the upper wing", "on the upper surface of the wing", "above the wing"],
}


def surface_words(marking, rng):
    return rng.choice(SURFACES[marking.surface])
