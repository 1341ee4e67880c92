# Writes OUTPUT, a C++ source that holds the page of every check (FOLDER/*.md).
# usage: cmake -DFOLDER=... -DOUTPUT=... -P embed_pages.cmake
file(GLOB files RELATIVE ${FOLDER} ${FOLDER}/*.md)
list(SORT files)
set(rows "")
foreach(name IN LISTS files)
  file(READ ${FOLDER}/${name} text HEX)
  # Bytes in hexadecimal, so that no word of a page can end the literal; sixteen to a line.
  string(REPEAT "[0-9a-f]" 32 line)
  string(REGEX REPLACE "(${line})" "\\1\"\n     \"" text "${text}")
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "\\\\x\\1" text "${text}")
  string(REGEX REPLACE "\\.md$" "" id ${name})
  string(REPLACE "_" "-" id ${id})
  string(APPEND rows "    {\"${id}\",\n     \"${text}\"sv},\n")
endforeach()
file(WRITE ${OUTPUT} "#include \"checks/registry.h\"

namespace tailproof {
namespace {

using namespace std::string_view_literals;

struct Page {
  std::string_view id;
  std::string_view text;
};
constexpr Page kPages[] = {
${rows}    {\"\", \"\"},
};

}  // namespace

std::string_view page_of_check(std::string_view id) {
  for (const Page& page : kPages) {
    if (page.id == id) return page.text;
  }
  return {};
}

}  // namespace tailproof
")
