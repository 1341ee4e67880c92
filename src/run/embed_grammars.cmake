# Writes OUTPUT, a C++ source that holds every grammar file of FOLDER/grammars.
# usage: cmake -DFOLDER=... -DOUTPUT=... -P embed_grammars.cmake
file(GLOB_RECURSE files RELATIVE ${FOLDER} ${FOLDER}/grammars/*.toml)
list(SORT files)
set(rows "")
foreach(name IN LISTS files)
  file(READ ${FOLDER}/${name} text HEX)
  # Bytes in hexadecimal: whatever a grammar holds, no delimiter can end it. Sixteen to a line, as
  # neighbouring literals are one.
  string(REPEAT "[0-9a-f]" 32 line)
  string(REGEX REPLACE "(${line})" "\\1\"\n     \"" text "${text}")
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "\\\\x\\1" text "${text}")
  string(APPEND rows "    {\"${name}\",\n     \"${text}\"sv, true},\n")
endforeach()
file(WRITE ${OUTPUT} "#include \"run/embedded_grammars.h\"

namespace tailproof {

using namespace std::string_view_literals;

std::vector<GrammarText> embedded_grammars() {
  return {
${rows}  };
}

}  // namespace tailproof
")
