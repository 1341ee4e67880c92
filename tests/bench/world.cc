#include "world.h"

#include <algorithm>
#include <array>

#include "world_facts.h"

namespace tailproof::bench {
namespace {

// A letter in braces is filled in: S serial, T type, M mark, U unit, P its place, C code, D day,
// O month and year, N person, R rank, L marking, X a number for the archive.
constexpr std::array<std::string_view, 14> kCaptions = {
    "{S} of {U} at {P} on {D}, coded {C} and with the {L} on its fuselage. {R} {N} stands by the "
    "wing; the others are not known. (MSP {X})",
    "A {T} {M}, {S}, being refuelled from drums at {P} in {O}. The wheel covers had been taken off "
    "by then and nobody put them back.",
    "{S}, a {T} {M} flown by {U}, at {P} in {O}. The {L} is still in its place on the fuselage, "
    "and "
    "the fin is bare.",
    "{R} {N} of {U} beside {S} at {P} on {D}. The dog belonged to the cookhouse.",
    "Rain at {P}, {O}. In front {S}, coded {C}, behind it the tail of another {T}.",
    "{C} of {U}, seen here at {P} in about {O}, was {S}. The {L} was painted with a yard brush.",
    "The crew of {S} at {P}, {O}: {R} {N} is second from the left, with a cup.",
    "{S} on the grass at {P} on {D}, a few minutes before it was flown home by {N}.",
    "Two men and a ladder. {S} of {U} having its cowling washed at {P}, probably in {O}.",
    "Probably {S}, but the last figure is hidden by the ladder; {P}, {O}. (MSP {X})",
    "An unusual view from the roof of the stores at {P} in {O}, with {S} nearest to the camera and "
    "the {L} plain to see.",
    "{T} {M} {S} at {P} late in {O}, without codes and without spinner.",
    "{S} was allotted to {U}, with which it is seen here at {P} on {D}.",
    "The {L} on {S}, {P}, {O}. The band is 20 in (51 cm) wide and anything but straight."};

constexpr std::array<std::string_view, 14> kNaming = {
    "{S} went to {U} at {P}, where it was coded {C} and flown mostly by {N}.",
    "From {O} onwards {U} had the use of the strip at {P}, and kept it until the end.",
    "{R} {N} of {U} remembered the day well, though not the year.",
    "The {L} was ordered long before anybody at {P} had the paint for it.",
    "It was {N} who found {S} in a ditch in {O} and wrote a long letter about it.",
    "A {T} weighed some 4,850 lb (2,200 kg) ready to fly, and {P} was no place to be heavy.",
    "On {D} the weather closed in and {U} stayed on the ground.",
    "Of the {T} {M} there were never more than a few at {P} at any one time.",
    "{S} and its neighbours stood in the open all through that winter.",
    "The cards say that {S} was a {T} {M}, and there is no reason to doubt them.",
    "By {O} the letters were the only thing by which a man could tell one from another.",
    "{U} flew them hard, and {N} harder than most.",
    "Its code {C} was painted on both sides, on the left one upside down for a week.",
    "{N}, then a {R}, had charge of the stores until the spring of 1944."};

constexpr std::array<std::string_view, 18> kPlain = {
    "Nobody wrote anything down, and what was written down was mostly wrong.",
    "The roads were bad, the huts were worse, and the sea came over the wall twice a month.",
    "A good deal has been made of this by people who were not there.",
    "What follows rests on letters, on a few diaries, and on a tin of prints without captions.",
    "The paint came in drums, the brushes came in crates, and they rarely came together.",
    "It is easy to see why, and just as easy to see how the story grew in the telling.",
    "Most of the men slept under the wings and thought themselves lucky.",
    "One learns to distrust a caption that knows too much.",
    "The workshop was a shed with a stove, and the stove was what people came for.",
    "There were birds everywhere, and the birds had no respect for radiators.",
    "Some of it was exaggeration, but the fuel at least was every bit as poor as they said.",
    "The clerk kept his ledgers in a trunk, and the trunk went to the bottom with the lighter.",
    "Every machine had its own smell, or so the fitters maintained.",
    "None of this is in the official account, which is short and cheerful.",
    "They built a second strip beside the first, and then hardly used it.",
    "A photograph shows what stood in front of the camera, not what was usual.",
    "The colour can be seen in no picture, for all of them are grey.",
    "Later writers have copied one another, with the mistakes growing at each step."};

constexpr std::array<std::string_view, 12> kMonths = {
    "January", "February", "March",     "April",   "May",      "June",
    "July",    "August",   "September", "October", "November", "December"};
constexpr std::array<std::string_view, 40> kFirstNames = {
    "Abel",   "Bram",   "Corin",  "Davit", "Edric",  "Farrel",  "Garrick", "Hobart",
    "Ivo",    "Jorin",  "Kester", "Lorn",  "Matthy", "Neville", "Osric",   "Perrin",
    "Quill",  "Rafe",   "Selwin", "Tobit", "Ulric",  "Vannel",  "Warrick", "Yorick",
    "Aldous", "Benet",  "Cosmo",  "Drew",  "Emlin",  "Fenton",  "Gareth",  "Hewlin",
    "Ingram", "Jarvis", "Kenelm", "Lyall", "Merrik", "Nolan",   "Orlan",   "Piers"};
constexpr std::array<std::string_view, 10> kNameHeads = {"Bar", "Cal", "Dor", "Fen",  "Gar",
                                                         "Hol", "Mar", "Nor", "Pell", "Wes"};
constexpr std::array<std::string_view, 8> kNameTails = {"brook", "tane", "rick", "lowe",
                                                        "mond",  "shaw", "vane", "thorn"};

constexpr std::size_t kFaultEvery = 30;

}  // namespace

std::uint64_t Dice::next() {
  state_ += 0x9E3779B97F4A7C15U;
  std::uint64_t z = state_;
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9U;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EBU;
  return z ^ (z >> 31);
}

std::string World::serial(std::size_t airframe) const {
  return "QD-" + std::to_string(100001 + airframe);
}

std::size_t World::people() const {
  const std::size_t all = kFirstNames.size() * kNameHeads.size() * kNameTails.size();
  return std::min(all, 40 + airframes_ / 50);
}

std::string World::person(std::size_t index) const {
  // Steps that have no factor in common with the lists walk through every pair once.
  const std::size_t family = index % (kNameHeads.size() * kNameTails.size());
  const std::size_t first =
      (index / (kNameHeads.size() * kNameTails.size()) + index * 7) % kFirstNames.size();
  return std::string(kFirstNames[first]) + " " +
         std::string(kNameHeads[family % kNameHeads.size()]) +
         std::string(kNameTails[family / kNameHeads.size()]);
}

std::string World::filled(std::string_view form, Dice& dice, std::size_t airframe) const {
  const std::size_t unit = unit_of(airframe);
  const std::size_t somebody = unit + kUnits * dice.below((people() - unit - 1) / kUnits + 1);
  const unsigned year = 1943 + static_cast<unsigned>(dice.below(2));
  const auto in_month = [&] {
    return std::string(kMonths[dice.below(12)]) + " " + std::to_string(year);
  };
  std::string out;
  for (std::size_t i = 0; i < form.size(); ++i) {
    if (form[i] != '{') {
      out += form[i];
      continue;
    }
    switch (form[i + 1]) {
      case 'S':
        out += serial(airframe);
        break;
      case 'T':
        out += kTypes[type_of(airframe)];
        break;
      case 'M':
        out += kMarks[mark_of(airframe)];
        break;
      case 'U':
        out += unit_name(unit);
        break;
      case 'P':
        out += kPlaceNames[place_of_unit(unit)];
        break;
      case 'C':
        out += code_of(airframe);
        break;
      case 'D':
        out += std::to_string(1 + dice.below(28)) + " " + in_month();
        break;
      case 'O':
        out += in_month();
        break;
      case 'N':
        out += person(somebody);
        break;
      case 'R':
        out += kRanks[somebody % kRanks.size()];
        break;
      case 'L':
        out += kMarkings[dice.below(kMarkings.size())];
        break;
      default:
        out += std::to_string(10001 + dice.below(80000));
        break;
    }
    i += 2;
  }
  return out;
}

std::string World::caption(Dice& dice) const {
  const std::size_t airframe = dice.below(airframes_);
  std::string text = filled(kCaptions[dice.below(kCaptions.size())], dice, airframe);
  if (dice.below(kFaultEvery) != 0) return text;
  // A year before the ledger has the machine.
  for (std::size_t at; (at = text.find(" 194")) != std::string::npos;) text.replace(at, 5, " 1939");
  return text;
}

std::string World::paragraph(Dice& dice) const {
  std::string text;
  const std::size_t airframe = dice.below(airframes_);
  for (std::size_t left = 4 + dice.below(6); left > 0; --left) {
    if (!text.empty()) text += ' ';
    if (dice.below(2) == 0) {
      text += filled(kNaming[dice.below(kNaming.size())], dice, airframe);
    } else {
      text += kPlain[dice.below(kPlain.size())];
    }
  }
  return text;
}

std::string World::markdown(std::size_t bytes, std::uint64_t seed) const {
  Dice dice(seed);
  std::string text = "# The Merrowick Sea Patrol\n\n";
  text.reserve(bytes + 4096);
  std::size_t figure = 0, captions = 0, sections = 0;
  while (text.size() < bytes) {
    if (text.size() / 40000 > sections) {
      text += "## Section " + std::to_string(++sections) + "\n\n";
    }
    const std::size_t before = text.size();
    if (captions * 5 < text.size()) {
      const std::string number = std::to_string(++figure);
      text += "![Fig. " + number + ". " + caption(dice) + "](pictures/plate" + number + ".jpg)\n\n";
      captions += text.size() - before;
    } else {
      text += paragraph(dice) + "\n\n";
    }
  }
  return text;
}

std::string World::docbook(std::size_t bytes, std::uint64_t seed) const {
  Dice dice(seed);
  std::string text =
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<chapter xmlns=\"http://docbook.org/ns/docbook\" version=\"5.0\">\n"
      "<title>The Merrowick Sea Patrol</title>\n<section><title>Beginnings</title>\n";
  text.reserve(bytes + 4096);
  std::size_t figure = 0, captions = 0, sections = 0;
  while (text.size() < bytes) {
    if (text.size() / 40000 > sections) {
      text += "</section>\n<section><title>Section " + std::to_string(++sections) + "</title>\n";
    }
    const std::size_t before = text.size();
    if (captions * 5 < text.size()) {
      const std::string number = std::to_string(++figure);
      text += "<figure label=\"" + number + "\"><title>A scene from the islands</title>\n" +
              "<mediaobject><imageobject><imagedata fileref=\"plate" + number +
              ".jpg\"/></imageobject>\n<caption><para>" + caption(dice) +
              "</para></caption></mediaobject></figure>\n";
      captions += text.size() - before;
    } else {
      text += "<para>" + paragraph(dice) + "</para>\n";
    }
  }
  return text + "</section>\n</chapter>\n";
}

std::string World::one_paragraph(std::size_t bytes, std::uint64_t seed) const {
  Dice dice(seed);
  std::string text;
  while (text.size() < bytes) {
    text += filled(kNaming[dice.below(2) == 0 ? 0 : 8], dice, dice.below(airframes_)) + " ";
    text += filled("In {O} {S} was lent to {U}. ", dice, dice.below(airframes_));
  }
  return text;
}

}  // namespace tailproof::bench
