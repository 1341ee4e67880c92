// Run by the build: writes a C++ source that holds every grammar file of FOLDER/grammars, packed,
// as embedded_grammars(). A file that is no good grammar stops the build, and so do more lists than
// a word can tell at once.
// usage: embed_grammars FOLDER OUTPUT
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>
#include <vector>

#include "grammars/grammar_file.h"
#include "grammars/grammars.h"
#include "source/read_bytes.h"

namespace {

using namespace tailproof;
namespace fs = std::filesystem;

// Bytes in hexadecimal: whatever a grammar holds, no delimiter can end it. Sixteen to a line, as
// neighbouring literals are one.
std::string literal_of(const std::string& bytes) {
  constexpr char kDigits[] = "0123456789abcdef";
  std::string out = "\"";
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    if (i > 0 && i % 16 == 0) out += "\"\n     \"";
    const auto byte = static_cast<unsigned char>(bytes[i]);
    out += {'\\', 'x', kDigits[byte / 16], kDigits[byte % 16]};
  }
  return out + "\"";
}

int embed(const fs::path& folder, const std::string& output) {
  std::vector<std::string> names;
  for (const auto& entry : fs::recursive_directory_iterator(folder / "grammars")) {
    if (entry.path().extension() != ".toml") continue;
    names.push_back(fs::relative(entry.path(), folder).generic_string());
  }
  std::sort(names.begin(), names.end());
  std::string rows;
  std::set<std::string> lists;
  Complaints complaints;
  for (const std::string& name : names) {
    const Result<std::string> text = read_bytes((folder / name).string());
    if (!text) {
      complaints.push_back(text.error());
      continue;
    }
    if (const auto grammar = read_grammar_toml(text.value(), name, "", complaints)) {
      for (const GrammarFile::List& list : grammar->lists) lists.emplace(list.name);
      rows += "    {\"" + name + "\",\n     " + literal_of(pack_grammar(*grammar)) + "sv, true},\n";
    }
  }
  for (const Complaint& complaint : complaints) {
    std::fprintf(stderr, "%s\n", to_line(complaint).c_str());
  }
  if (lists.size() > ListSet().size()) {
    std::fprintf(stderr, "%zu word lists are more than a ListSet (grammars.h) holds: raise it\n",
                 lists.size());
    return 1;
  }
  if (!complaints.empty()) return 1;
  std::ofstream file(output, std::ios::binary);
  // A grammar may be longer than the literals that ISO C++ asks every compiler to bear.
  file << "#include \"run/embedded_grammars.h\"\n\n"
          "#pragma GCC diagnostic ignored \"-Woverlength-strings\"\n\nnamespace tailproof {\n\n"
          "using namespace std::string_view_literals;\n\n"
          "std::vector<GrammarText> embedded_grammars() {\n  return {\n"
       << rows << "  };\n}\n\n}  // namespace tailproof\n";
  file.close();
  return file ? 0 : 1;
}

}  // namespace

int main(int count, char** words) {
  if (count != 3) {
    std::fputs("usage: embed_grammars FOLDER OUTPUT\n", stderr);
    return 2;
  }
  return embed(words[1], words[2]);
}
