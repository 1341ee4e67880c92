// A little coast patrol to claim things of: one ledger for several test programs, and claims of it
// written as a line each.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "desk.h"

namespace tailproof::testing {

inline constexpr LedgerFile kCoastPatrol[] = {
    {"ledger.toml",
     "title = \"t\"\nair_arm = \"Ombrel Coast Patrol\"\n"
     "[[serial_form]]\npattern = 'KB[ -]?(\\d{3})'\nserial = 'KB\\1'\nclosed = [\"KB201..KB240\"]\n"
     "[[serial_form]]\npattern = '(\\d{3})'\nserial = 'KB\\1'\nwhere = \"tail\"\n"},
    {"airframes.csv",
     "serial,type,mark,taken_on_charge,struck_off_charge\n"
     "KB201,Sandmartin,Mk I,1941-02-03,1944-05-06\nKB202,Sandmartin,Mk I,1941-02-10,1943-08-01\n"
     "KB203,Sandmartin,Mk II,1942-01-05,1945-01-01\nKB211,Dowitcher,B.1,1941-06-01,1945-01-01\n"},
    {"identities.csv",
     "serial,identity,kind,from,to,operator\nKB201,LD-A,code,1941-02,1943-01,\n"
     "KB202,LD-B,code,1941-02,1943-01,\nKB203,LD-C,code,1942-02,1943-01,\n"
     "KB211,Aunt Tilda,nickname,1941-07,,\nKB211,C-77,previous_serial,1940-01-01,1941-05-31,\n"},
    {"histories.csv",
     "serial,from,to,kind,role,unit,place,detail\nKB202,1943-07-30,,lost,,,Gale Head,\n"
     "KB201,1942-04-10,,repaint,,,,\n"},
    {"units.csv",
     "unit,aliases,kind,formed\n61 Squadron,No. 61 Squadron;61 Sqn,squadron,1941-01-01\n"
     "62 Squadron,No. 62 Squadron;62 Sqn,squadron,1941-01-01\n"
     "3 Servicing Unit,No. 3 Servicing Unit,servicing,1941-01-01\n"},
    {"places.csv", "place,aliases,within\nGale Head,,Ombrel\nOmbrel,,\nMirk Sound,,Ombrel\n"},
    {"people.csv", "person,aliases\nIda Crewe,I. Crewe;Crewe\nTom Vardle,T. Vardle;Vardle\n"},
    {"ranks.csv",
     "rank,abbreviations,seniority\nSergeant,Sgt,1\nFlying Officer,F/O,2\nSquadron Leader,Sqn "
     "Ldr,3\n"},
    {"awards.csv", "award,abbreviations\nCoast Cross,CC\n"},
    {"types.csv", "type,aliases\nSandmartin,\nDowitcher,\n"},
    {"markings.csv",
     "marking,family,aliases,rings\nred disc,disc,red disc;red-centred disc,blue 6;white 4;red 2\n"
     "plain disc,disc,plain disc,blue 6;white 4\nfin flash,tail,flash,\nbroad band,band,white "
     "band,\ncode letters,codes,squadron letters,\n"},
    {"orders.csv",
     "order,issued,effective,action,marking,position\nCN 4/41,1941-03-01,1941-04-01,introduces,fin "
     "flash,fin\n"},
    {"photographs.csv", "photograph,depicts,taken\nOCP 12,KB201,1942-03\n"},
};

/// The ledger, read once.
[[nodiscard]] inline const Ledger& ledger() {
  static const Ledger kept = ledger_of(kCoastPatrol);
  return kept;
}

/// "kind value @subject role position of" and the flags, as far as there are any.
[[nodiscard]] inline std::string in_a_line(const Claim& claim) {
  std::string line(to_word(claim.kind));
  line += " " + claim.value;
  if (!claim.subject.empty()) line += " @" + claim.subject;
  if (!claim.role.empty()) line += " (" + claim.role + ")";
  if (!claim.position.empty()) line += " on " + claim.position;
  if (!claim.of.empty()) line += " of " + claim.of;
  if (claim.negated) line += " negated";
  if (claim.hedged) line += " hedged";
  if (claim.attributed) line += " attributed";
  if (!claim.shown) line += " not shown";
  if (claim.tense == Tense::kFormer) line += " former";
  if (claim.tense == Tense::kLater) line += " later";
  return line;
}

/// The claims of a manuscript of these blocks.
[[nodiscard]] inline std::vector<Claim> claims_of(
    const std::vector<std::pair<BlockKind, std::string>>& texts) {
  std::vector<Manuscript> manuscripts(1);
  for (const auto& [kind, text] : texts) add_block(manuscripts[0], kind, text);
  return extract_claims(manuscripts, ledger(), english());
}

/// The claims of one block, a line each.
[[nodiscard]] inline std::vector<std::string> lines_of(const std::string& caption,
                                                       BlockKind kind = BlockKind::kCaption) {
  std::vector<std::string> lines;
  for (const Claim& claim : claims_of({{kind, caption}})) lines.push_back(in_a_line(claim));
  return lines;
}

}  // namespace tailproof::testing
