// A list of captions.
#include "fuzz.h"
#include "manuscript/readers.h"

using namespace tailproof;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Sources sources;
  Complaints complaints;
  // A header of its own, so that more than one input in a thousand is a list.
  const Result<FileId> file =
      sources.add("input.csv", "figure,caption,date\n" + std::string(fuzz::as_text(data, size)));
  if (!file) return 0;
  Assembly assembly(sources, complaints, "input.csv");
  if (read_caption_list(assembly, file.value())) return 0;
  fuzz::require_sound(assembly.finish(), sources);
  return 0;
}
