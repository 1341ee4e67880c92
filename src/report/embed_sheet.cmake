# Writes OUTPUT, a C++ source that holds the style sheet and the script of the query sheet, each with
# the digest that lets the page's content security policy admit it and nothing else.
# usage: cmake -DFOLDER=... -DOUTPUT=... -P embed_sheet.cmake
set(rows "")
foreach(part style.css script.js)
  file(READ ${FOLDER}/sheet_${part} text HEX)
  file(SHA256 ${FOLDER}/sheet_${part} digest)
  # Bytes in hexadecimal: whatever a file holds, no delimiter can end it.
  string(REPEAT "[0-9a-f]" 32 line)
  string(REGEX REPLACE "(${line})" "\\1\"\n     \"" text "${text}")
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "\\\\x\\1" text "${text}")
  string(REPLACE "." "_" name ${part})
  string(APPEND rows "const SheetPart k_${name} = {\n     \"${text}\"sv,\n     \"${digest}\"sv};\n\n")
endforeach()
file(WRITE ${OUTPUT} "#include \"report/sheet_parts.h\"

namespace tailproof {

using namespace std::string_view_literals;

namespace {

${rows}}  // namespace

SheetPart sheet_style() { return k_style_css; }
SheetPart sheet_script() { return k_script_js; }

}  // namespace tailproof
")
