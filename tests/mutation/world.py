"""An invented air arm, made from a seed: what is true of it, and the part of that which its ledger tells.

Everything holds on exact days. `holds` answers what a caption of a day may say without contradicting the
ledger; the few things that only the world knows (codes of the open series) are for captions to disagree on.
"""

import csv
import dataclasses
import datetime
import pathlib
import random

Day = datetime.date


def day(year, month=1, number=1):
    return datetime.date(year, month, number)


def later(when, days):
    return when + datetime.timedelta(days=days)


@dataclasses.dataclass
class Spell:
    value: str
    first: Day
    last: Day
    role: str = ""

    def holds(self, when, margin=0):
        return later(self.first, margin) <= when <= later(self.last, -margin)


@dataclasses.dataclass
class Airframe:
    serial: str
    type: str
    mark: str
    works_number: str
    taken: Day
    struck: Day
    fate: str
    is_known: bool = True      # has a row in airframes.csv with its life
    holders: list = dataclasses.field(default_factory=list)
    operators: list = dataclasses.field(default_factory=list)
    codes: list = dataclasses.field(default_factory=list)
    events: list = dataclasses.field(default_factory=list)  # (kind, day)
    former: str = ""
    later: str = ""
    reach: bool = False
    flag_changed: Day = None   # the day on which it was given the later flag

    def named(self):
        return f"{self.type} {self.mark}"


@dataclasses.dataclass
class Unit:
    name: str
    aliases: list
    kind: str
    formed: Day
    disbanded: Day
    letters: str = ""
    stations: list = dataclasses.field(default_factory=list)
    reach: bool = False


@dataclasses.dataclass
class Person:
    given: str
    surname: str
    born: Day
    died: Day
    ranks: list = dataclasses.field(default_factory=list)
    units: list = dataclasses.field(default_factory=list)
    awards: list = dataclasses.field(default_factory=list)  # (award, day)

    @property
    def name(self):
        return f"{self.given} {self.surname}"


@dataclasses.dataclass
class Marking:
    name: str
    plural: bool
    aliases: list
    family: str
    surface: str
    introduced: Day = None
    withdrawn: Day = None
    rings: str = ""


_ONSET = ["Ard", "Belk", "Corv", "Drun", "Esk", "Falm", "Garr", "Hoss", "Irv", "Jorl", "Keld", "Lorv", "Merr",
          "Norb", "Ostr", "Pell", "Quorn", "Rask", "Sull", "Tarv", "Ulm", "Vesk", "Wenn", "Yarl", "Zell"]
_PLACE_END = ["amere", "holm", "garth", "ness", "istead", "combe", "avick", "haven", "oway", "atrey"]
_PLACE_TAIL = ["", "", "", " Strip", " Field", " Point", " Roads"]
_NAME_END = ["ick", "and", "asett", "obray", "imond", "uret", "adle", "ovey", "enther", "askill"]
_GIVEN = ["Ansel", "Piet", "Corwin", "Tobit", "Lewin", "Matthis", "Odo", "Ivo", "Selwin", "Hesper", "Brannic",
          "Dorric", "Garrad", "Ulric", "Wystan", "Esmer", "Jory", "Kester", "Nevin", "Rollo"]
_TYPE_END = ["ard", "ane", "ock", "erel", "owan", "adin"]
_RANKS = [
    [("Corporal", "Cpl"), ("Sergeant", "Sgt"), ("Lieutenant", "Lt"), ("Captain", "Capt"), ("Major", "Maj")],
    [("Airman First Class", "AFC"), ("Flight Sergeant", "F/Sgt"), ("Ensign", "Ens"),
     ("Flight Captain", "F/Capt"), ("Wing Captain", "W/Capt")],
    [("Aide", "Ade"), ("Chief Aide", "C/Ade"), ("Sub-Warden", "S/Wdn"), ("Warden", "Wdn"),
     ("Chief Warden", "C/Wdn")],
]
_UNIT_WORDS = [("Squadron", ["Sqn", "Sqdn"]), ("Company", ["Coy"]), ("Flight", ["Flt"])]
_FORMS = [  # letters, between, digits, pattern
    ("QX", "", 4), ("V", "/", 3), ("GD", "-", 4), ("KY", "", 3), ("XU", "/", 3), ("TZ", "-", 4)]


class World:
    def __init__(self, seed):
        self.seed = seed
        self.random = random.Random(f"world {seed}")
        self.used = set()
        self.arm = f"{self._word(_ONSET, ['any', 'ova', 'iray', 'elle'])} Air Guard"
        self.year0 = 1940
        self._make_places()
        self._make_units()
        self._make_types()
        self._make_airframes()
        self._make_people()
        self._make_markings()
        self._make_photographs()

    # -- names

    def _word(self, first, second):
        for _ in range(1000):
            word = self.random.choice(first) + self.random.choice(second)
            root = word[:4].lower()
            if root not in self.used:
                self.used.add(root)
                return word
        raise ValueError("the names have run out")

    def _place(self):
        for _ in range(1000):
            stem = self.random.choice(_ONSET) + self.random.choice(_PLACE_END)
            if stem not in self.used:
                self.used.add(stem)
                return stem + self.random.choice(_PLACE_TAIL)
        raise ValueError("the places have run out")

    def _make_places(self):
        self.home = [self._place() for _ in range(9)]
        self.reach = [self._place() for _ in range(5)]
        self.theatres = ("Home", "Reach")

    # -- units

    def _make_units(self):
        rng = self.random
        word, short = rng.choice(_UNIT_WORDS)
        self.unit_word = word
        numbers = rng.sample([3, 6, 11, 14, 17, 21, 26, 31, 34, 42, 47, 61], 9)
        letters = rng.sample(["KB", "HN", "FX", "PK", "TU", "ZE", "RW", "LD", "NJ", "YC", "GS"], 10)
        self.units = {}
        begin, end = day(1939, 6, 1), day(1946, 3, 31)

        def add(name, aliases, kind, formed, disbanded, code, places, is_reach):
            unit = Unit(name, aliases, kind, formed, disbanded, code, [], is_reach)
            cuts = sorted(rng.sample(range(200, (disbanded - formed).days - 200, 60), len(places) - 1))
            firsts = [formed] + [later(formed, c) for c in cuts]
            lasts = [later(f, -1) for f in firsts[1:]] + [disbanded]
            unit.stations = [Spell(p, f, l) for p, f, l in zip(places, firsts, lasts)]
            self.units[name] = unit

        def flying(number, formed, disbanded, code, places, is_reach):
            name = f"{number} {word}"
            add(name, [f"No. {number} {word}"] + [f"{number} {s}" for s in short], "squadron", formed, disbanded,
                code, places, is_reach)
            return name

        def sample(places, k):
            return rng.sample(places, k)

        self.flying_home = [flying(numbers[i], begin, end, letters[i], sample(self.home[:7], 3), False)
                            for i in range(4)]
        # One formed late and one disbanded early: the home of what is not yet, or no longer, there.
        self.late_unit = flying(numbers[4], day(1943, 9, 1), end, letters[4], [rng.choice(self.home[:7])], False)
        self.early_unit = flying(numbers[5], begin, day(1941, 10, 31), letters[5], [rng.choice(self.home[:7])],
                                 False)
        # Three take turns at one strip of the Reach, where the servicing unit holds what they fly.
        strip, rest = self.reach[0], self.reach[1:4]
        tours = [(day(1942, 6, 1), day(1943, 2, 15)), (day(1943, 2, 16), day(1943, 11, 30)),
                 (day(1943, 12, 1), day(1944, 10, 31))]
        self.flying_reach = []
        for i, (first, last) in enumerate(tours):
            name = flying(numbers[6 + i], begin, end, letters[6 + i], [rest[i]], True)
            before = Spell(rest[i], begin, later(first, -1))
            after = Spell(rest[(i + 1) % 3], later(last, 1), end)
            self.units[name].stations = [before, Spell(strip, first, last), after]
            self.flying_reach.append(name)
        self.tours = tours
        number = rng.choice([2, 4, 5, 7, 8])
        self.servicing = f"{number} Servicing Unit"
        add(self.servicing, [f"No. {number} Servicing Unit", f"{number} SU"], "servicing", day(1942, 5, 1),
            end, letters[9], [strip], True)
        depot = rng.choice([1, 9, 10])
        self.depot = f"{depot} Repair Depot"
        add(self.depot, [f"No. {depot} Repair Depot", f"{depot} RD"], "depot", begin, end, "", [self.home[7]],
            False)
        school = rng.choice([12, 13, 15])
        self.school = f"{school} Training School"
        add(self.school, [f"No. {school} Training School", f"{school} TS"], "training", begin, end, "",
            [self.home[8]], False)

    # -- types and machines

    def _make_types(self):
        rng = self.random
        self.types = {}
        for _ in range(3):
            name = self._word(_ONSET, _TYPE_END)
            maker = self._word(_ONSET, ["worth", "ham", "ley"])
            self.types[name] = (maker, [f"{maker} {name}"])

    def _make_airframes(self):
        rng = self.random
        forms = rng.sample(_FORMS, 2)
        self.forms = forms
        names = list(self.types)
        self.airframes = {}
        start = {4: 1001, 3: 101}[forms[0][2]]
        runs = [(names[0], "Mk I", 12, False), (names[0], "Mk II", 12, False), (names[1], "Mk I", 14, True),
                (names[2], "Mk I", 8, False)]
        number = start
        self.runs = []
        self.missing = []
        for index, (type_name, mark, count, is_reach) in enumerate(runs):
            first = number
            taken = day(1940, 2, 10) if index < 3 else day(1941, 1, 5)
            if is_reach:
                taken = day(1942, 2, 1)
            if mark == "Mk II":
                taken = day(1941, 1, 15)
            for k in range(count):
                serial = self.serial(forms[0], number)
                taken = later(taken, rng.randint(4, 16))
                self._add_airframe(serial, type_name, mark, f"{type_name[0]}{index + 1}.{k + 1}", taken, is_reach)
                number += 1
            self.runs.append((self.serial(forms[0], first), self.serial(forms[0], number - 1), count, type_name,
                              mark))
            for _ in range(rng.randint(2, 4)):   # never built
                self.missing.append(self.serial(forms[0], number))
                number += 1
        self.closed = (self.serial(forms[0], start), self.serial(forms[0], number - 1))
        base = {4: 2101, 3: 301}[forms[1][2]]
        self.open_airframes = {}
        for k in range(12):
            serial = self.serial(forms[1], base + k)
            machine = Airframe(serial, names[2], "Mk II", "", day(1943, 3, 1 + k), day(1946, 1, 31), "", False)
            code = rng.choice(["KM", "JD", "OS"]) + "-" + "ABCDEFGHJKLM"[k]
            machine.codes = [Spell(code, machine.taken, machine.struck)]
            machine.flag_changed = day(1944, rng.randint(2, 10), 15)
            self.open_airframes[serial] = machine
        # A machine rebuilt under a number of the other series is one machine.
        rebuilt = rng.sample([a for a in self.airframes.values() if not a.reach], 4)
        for k, machine in enumerate(rebuilt):
            machine.former = self.serial(forms[1], base + 60 + k)
        # Of some the ledger itself is not sure.
        self.doubts = {}
        for k, machine in enumerate(rng.sample(list(self.airframes.values()), 5)):
            self.doubts[machine.serial, "taken"] = machine.taken.isoformat() + "~?"[k % 2]

    @staticmethod
    def serial(form, number):
        return f"{form[0]}{form[1]}{number}"

    def _add_airframe(self, serial, type_name, mark, works, taken, is_reach):
        rng = self.random
        struck = later(day(1944, 11, 1), rng.randint(0, 400))
        fate = "scrapped"
        is_lost = rng.random() < 0.4
        if is_lost:
            struck = later(day(1943, 8, 1), rng.randint(0, 450))
            fate = "lost"
        a = Airframe(serial, type_name, mark, works, taken, struck, fate, reach=is_reach)
        a.flag_changed = later(day(1943, 1, 10), rng.randint(0, 200))
        if is_reach:
            arrived = max(later(day(1942, 6, 3), rng.randint(0, 30)), later(taken, 6))
            a.holders.append(Spell(self.depot, taken, later(arrived, -1)))
            a.holders.append(Spell(self.servicing, arrived, struck))
            for name, (first, last) in zip(self.flying_reach, self.tours):
                first, last = max(first, arrived), min(last, struck)
                if first < last:
                    a.operators.append(Spell(name, first, last))
            number = len(self.airframes) % 30 + 1
            letters = self.units[self.servicing].letters
            a.codes.append(Spell(f"{letters}-{number:02d}", later(arrived, 10), struck))
        else:
            cuts = sorted(rng.sample(range(150, (struck - taken).days - 120, 50), 2))
            firsts = [taken, later(taken, cuts[0]), later(taken, cuts[1])]
            lasts = [later(firsts[1], -1), later(firsts[2], -1), struck]
            for name, first, last in zip(rng.sample(self.flying_home, 3), firsts, lasts):
                a.holders.append(Spell(name, first, last))
                first = later(first, 8)
                taken_letters = {c.value for other in self.airframes.values() for c in other.codes
                                 if c.first <= last and c.last >= first}
                free = [x for x in "ABCDEFGHJKLMNPQRSTVWXYZ"
                        if f"{self.units[name].letters}-{x}" not in taken_letters]
                a.codes.append(Spell(f"{self.units[name].letters}-{rng.choice(free)}", first, last))
        if rng.random() < 0.6:
            spell = a.holders[-1]
            first, last = later(spell.first, 20), later(spell.last, -60)
            if first < last:
                a.events.append(("accident", later(first, rng.randint(0, (last - first).days))))
        if is_lost:
            a.events.append(("lost", struck))
        self.airframes[serial] = a

    # -- people

    def _make_people(self):
        rng = self.random
        self.ranks = rng.choice(_RANKS)
        noun = rng.sample(["Lantern", "Heron", "Beacon", "Anchor", "Harbour", "Falcon"], 2)
        self.awards = [(f"{noun[0]} Cross", f"{noun[0][0]}X"), (f"{noun[1]} Medal", f"{noun[1][0]}Md")]
        given = rng.sample(_GIVEN, 18)
        self.people = []
        flying = self.flying_home + self.flying_reach
        for k in range(18):
            surname = self._word(_ONSET, _NAME_END)
            born = day(1908 + rng.randint(0, 12), rng.randint(1, 12), rng.randint(1, 28))
            died = None
            if k % 3 == 0:
                died = later(day(1943, 9, 1), rng.randint(0, 420))
            p = Person(given[k], surname, born, died)
            begin, end = day(1940, 1, 1), died or day(1946, 3, 31)
            base = rng.choice([1, 2])
            cuts = sorted(rng.sample(range(300, (end - begin).days - 200, 90), 2))
            firsts = [begin, later(begin, cuts[0]), later(begin, cuts[1])]
            lasts = [later(firsts[1], -1), later(firsts[2], -1), end]
            p.ranks = [Spell(self.ranks[base + i][0], f, l) for i, (f, l) in enumerate(zip(firsts, lasts))]
            cut = later(begin, rng.randint(500, (end - begin).days - 250))
            mine = flying[k % len(flying)]
            other = rng.choice([u for u in flying if u != mine])
            p.units = [Spell(mine, begin, later(cut, -1)), Spell(other, cut, end)]
            if rng.random() < 0.7:
                p.awards.append((self.awards[k % 2][0], later(day(1942, 3, 1), rng.randint(0, 500))))
            self.people.append(p)

    # -- paint

    def _make_markings(self):
        rng = self.random
        c = rng.sample(["green", "ochre", "black", "crimson", "violet", "amber", "buff", "russet"], 6)
        self.disc_change = later(day(1942, 5, 1), rng.randint(0, 90))
        self.disc_third = later(day(1943, 8, 1), rng.randint(0, 90))
        self.band_from = later(day(1942, 8, 1), rng.randint(0, 120))
        grace = 31
        self.grace = grace
        self.markings = {}

        def add(name, plural, aliases, family, surface, introduced=None, withdrawn=None, rings=""):
            self.markings[name] = Marking(name, plural, aliases, family, surface, introduced, withdrawn, rings)

        begin = day(1938, 3, 1)
        add(f"{c[0]} disc", False, [f"{c[0]}-centred disc"], "disc", "fuselage", begin, self.disc_change,
            f"{c[3]} 6;white 4;{c[0]} 2")
        add(f"{c[1]} disc", False, [f"{c[1]}-centred disc"], "disc", "fuselage", self.disc_change,
            self.disc_third, f"{c[3]} 8;white 6;{c[1]} 3")
        add("ringed disc", False, [], "disc", "fuselage", self.disc_third, None, f"{c[4]} 9;{c[3]} 7;white 5")
        add("sea band", False, [f"{c[2]} band"], "band", "rear fuselage", self.band_from)
        add("twin bands", True, [], "band", "rear fuselage", day(1939, 1, 1))
        add("plain flag", False, [], "flag", "fin", begin)
        add("edged flag", False, [], "flag", "fin", begin)
        add("chequers", True, [f"{c[5]} chequers"], "rudder", "rudder", begin)
        add("heron badge", False, [], "badge", "nose", begin)
        add("wing stripes", True, [], "stripes", "upper wing", begin)
        add("white bars", True, [], "bars", "fuselage", day(1939, 1, 1))
        self.discs = list(self.markings)[:3]

    def valid_markings(self, machine, when):
        """The markings that the machine may be shown with on that day, one of each family."""
        names = []
        for name, m in self.markings.items():
            if m.introduced and when < later(m.introduced, 2):
                continue
            if m.withdrawn and when > later(m.withdrawn, -2):
                continue
            if m.family == "flag":
                is_after = when > later(machine.flag_changed, 35)
                is_before = when < later(machine.flag_changed, -35)
                if not ((name == "edged flag" and is_after) or (name == "plain flag" and is_before)):
                    continue
            names.append(name)
        return names

    def _make_photographs(self):
        rng = self.random
        self.photo_prefix = rng.choice(["GRN", "PNL", "HBR"])
        self.photographs = {}
        number = 401
        for machine in rng.sample(list(self.airframes.values()), 16):
            when = self.random_day(machine, rng)
            if when is None:
                continue
            key = f"{self.photo_prefix} {number}"
            self.photographs[key] = (machine.serial, when, self.place_of(machine, when))
            number += 1
        self.blank_photographs = [f"{self.photo_prefix} {number + k}" for k in range(6)]

    # -- what is true on a day

    def random_day(self, machine, rng, margin=9):
        """A day of the machine's life well away from every change of unit, place and code."""
        for _ in range(200):
            span = (machine.struck - machine.taken).days - 70
            when = later(machine.taken, 35 + rng.randint(0, max(1, span)))
            if self.is_settled(machine, when, margin):
                return when
        return None

    def is_settled(self, machine, when, margin=9):
        if not machine.is_known:
            return machine.taken < when < machine.struck
        holder = self.spell_at(machine.holders, when)
        if holder is None or not holder.holds(when, margin):
            return False
        spells = [holder]
        operator = self.spell_at(machine.operators, when)
        if operator:
            spells.append(operator)
        elif machine.operators:
            return False
        for spell in spells:
            station = self.spell_at(self.units[spell.value].stations, when)
            if not spell.holds(when, margin) or station is None or not station.holds(when, margin):
                return False
        return all(abs((when - e).days) > margin for _, e in machine.events)

    @staticmethod
    def spell_at(spells, when):
        return next((s for s in spells if s.holds(when)), None)

    def units_of(self, machine, when):
        """(unit, role) of the holder and of the operator; a squadron that holds also flies."""
        found = []
        holder = self.spell_at(machine.holders, when)
        operator = self.spell_at(machine.operators, when)
        if operator:
            found.append((operator.value, "operator"))
        if holder:
            found.append((holder.value, "holder"))
        return found

    def place_of(self, machine, when):
        units = self.units_of(machine, when)
        if not units:
            return None
        station = self.spell_at(self.units[units[0][0]].stations, when)
        return station.value if station else None

    def place_of_unit(self, unit, when):
        station = self.spell_at(self.units[unit].stations, when)
        return station.value if station else None

    def code_of(self, machine, when):
        spell = self.spell_at(machine.codes, when)
        return spell.value if spell else None

    def rank_of(self, person, when):
        spell = self.spell_at(person.ranks, when)
        return spell.value if spell else None

    def unit_of(self, person, when):
        spell = self.spell_at(person.units, when)
        return spell.value if spell else None

    def crew_for(self, machine, when):
        """People who may be shown with the machine on that day."""
        units = [u for u, _ in self.units_of(machine, when)]
        return [p for p in self.people
                if self.unit_of(p, when) in units and all(s.holds(when, 9) for s in p.ranks + p.units
                                                          if s.holds(when))
                and (p.died is None or later(p.died, -40) > when)
                and all(abs((when - d).days) > 40 for _, d in p.awards)]


def write_ledger(world, folder):
    folder = pathlib.Path(folder)
    folder.mkdir(parents=True, exist_ok=True)

    def cell(value):
        if value is None:
            return ""
        return value.isoformat() if isinstance(value, datetime.date) else str(value)

    def table(name, columns, rows):
        with open(folder / f"{name}.csv", "w", newline="", encoding="utf-8") as out:
            writer = csv.writer(out, lineterminator="\n")
            writer.writerow(columns.split(","))
            writer.writerows([cell(value) for value in row] for row in rows)

    forms = []
    for index, (letters, between, digits) in enumerate(world.forms):
        separators = "[ -]?" if between != "/" else "[ /-]?"
        closed = f'closed = ["{world.closed[0]}..{world.closed[1]}"]\n' if index == 0 else ""
        forms.append(f"[[serial_form]]\npattern = '{letters}{separators}(\\d{{{digits}}})'\n"
                     f"serial = '{letters}{between}\\1'\n{closed}")
    (folder / "ledger.toml").write_text(
        f'title = "Histories of the {world.arm}"\nair_arm = "{world.arm}"\n\n' + "\n".join(forms)
        + '\n[closed]\ntables = ["units", "ranks", "awards", "types"]\n\n[defaults]\nposition = "fuselage"\n'
          'theatre = "Home"\nhemisphere = "north"\ndate_order = "dmy"\ncentury = 1900\n', encoding="utf-8")

    known = list(world.airframes.values())
    rows = [(a.serial, a.type, a.mark, a.works_number, world.doubts.get((a.serial, "taken"), a.taken),
             world.doubts.get((a.serial, "struck"), a.struck), a.fate, f"card {a.serial}") for a in known]
    table("airframes", "serial,type,mark,constructor_number,taken_on_charge,struck_off_charge,fate,source", rows)
    history = []
    for a in known:
        for s in a.holders:
            history.append((a.serial, s.first, s.last, "allotted", "holder", s.value, "", "", f"card {a.serial}"))
        for s in a.operators:
            history.append((a.serial, s.first, s.last, "allotted", "operator", s.value, "", "", f"card {a.serial}"))
        for kind, when in a.events:
            history.append((a.serial, when, "", kind, "", "", "", "", f"card {a.serial}"))
    table("histories", "serial,from,to,kind,role,unit,place,detail,source", history)
    identities = []
    for a in known:
        for s in a.codes:
            operator = world.units_of(a, s.first)[-1][0]
            identities.append((a.serial, s.value, "code", s.first, s.last, operator, f"card {a.serial}"))
        if a.former:
            identities.append((a.serial, a.former, "previous_serial", "", later(a.taken, -1), "",
                               f"card {a.serial}"))
    table("identities", "serial,identity,kind,from,to,operator,source", identities)
    table("units", "unit,aliases,kind,parent,formed,disbanded,replaced_by,source",
          [(u.name, ";".join(u.aliases), u.kind, "", u.formed, u.disbanded, "", "unit list")
           for u in world.units.values()])
    table("stations", "unit,place,from,to,source",
          [(u.name, s.value, s.first, s.last, f"{u.name} diary") for u in world.units.values() for s in u.stations])
    table("places", "place,aliases,within,theatre,source",
          [(p, "", "", "Home", "gazetteer") for p in world.home]
          + [(p, "", "", "Reach", "gazetteer") for p in world.reach])
    table("people", "person,aliases,born,died,source",
          [(p.name, f"{p.given[0]}. {p.surname};{p.surname}", p.born, p.died, "register") for p in world.people])
    service = []
    for p in world.people:
        service += [(p.name, "rank", s.value, s.first, s.last, "list of ranks") for s in p.ranks]
        service += [(p.name, "unit", s.value, s.first, s.last, "unit rolls") for s in p.units]
        service += [(p.name, "award", award, when, "", "gazette") for award, when in p.awards]
    table("service", "person,kind,value,from,to,source", service)
    table("ranks", "rank,abbreviations,seniority,source",
          [(name, f"{short}.;{short}", k + 1, "list of ranks") for k, (name, short) in enumerate(world.ranks)])
    table("awards", "award,abbreviations,source", [(n, s, "warrant") for n, s in world.awards])
    table("types", "type,aliases,maker,source",
          [(n, ";".join(aliases), maker, "order book") for n, (maker, aliases) in world.types.items()])
    table("markings", "marking,family,aliases,rings,description,source",
          [(m.name, m.family, ";".join(m.aliases), m.rings, "", "drawings") for m in world.markings.values()])
    orders, number = [], 1
    for m in world.markings.values():
        position = {"rear fuselage": "fuselage"}.get(m.surface, m.surface)
        key = f"Order {number}/{m.introduced.year % 100}"
        orders.append((key, later(m.introduced, -20), m.introduced, "", "introduces", m.name, position, "",
                       "", "", "", "order file"))
        if m.withdrawn:
            key = f"Order {number}/{m.withdrawn.year % 100}"
            orders.append((key, later(m.withdrawn, -20), m.withdrawn, f"P{world.grace}D", "withdraws", m.name,
                           position, "", "", "", "", "order file"))
        number += 1
    table("orders", "order,issued,effective,grace,action,marking,position,theatre,unit,type,replaced_by,source",
          orders)
    d = world.discs
    table("sequences", "family,earlier,later,position,theatre,strength,source",
          [("disc", d[0], d[1], "fuselage", "", "always", "order file"),
           ("disc", d[1], d[2], "fuselage", "", "always", "order file"),
           ("flag", "plain flag", "edged flag", "fin", "", "always", "order file")])
    table("combinations", "marking,position,with_marking,with_position,relation,from,to,source",
          [("sea band", "fuselage", "twin bands", "fuselage", "excludes", "", "", "order file"),
           ("chequers", "rudder", "heron badge", "nose", "excludes", "1941-01-01", "1945-12-31", "order file")])
    table("photographs", "photograph,depicts,taken,place,session,credit,source",
          [(k, s, t, p, "", "", "negative register") for k, (s, t, p) in world.photographs.items()]
          + [(k, "", "", "", "", "", "negative register") for k in world.blank_photographs])
