// DocBook, whole or broken off anywhere.
#include "fuzz.h"
#include "manuscript/readers.h"

using namespace tailproof;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Sources sources;
  Complaints complaints;
  const Result<FileId> file = sources.add("input.xml", std::string(fuzz::as_text(data, size)));
  if (!file) return 0;  // not UTF-8: the readers never see it
  Assembly assembly(sources, complaints, "input.xml");
  read_docbook(assembly, file.value(), {}, nullptr);
  fuzz::require_sound(assembly.finish(), sources);
  return 0;
}
