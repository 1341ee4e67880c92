// Markdown, of which every text is some.
#include "fuzz.h"
#include "manuscript/readers.h"

using namespace tailproof;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Sources sources;
  Complaints complaints;
  const Result<FileId> file = sources.add("input.md", std::string(fuzz::as_text(data, size)));
  if (!file) return 0;  // not UTF-8: the readers never see it
  Assembly assembly(sources, complaints, "input.md");
  read_markdown(assembly, file.value());
  fuzz::require_sound(assembly.finish(), sources);
  return 0;
}
