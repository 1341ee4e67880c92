// CSV: row by row and whole must agree, every field lies inside the file; and the list of captions.
#include "source/csv.h"

#include "fuzz.h"
#include "manuscript/readers.h"

using namespace tailproof;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Sources sources;
  Complaints complaints;
  const Result<FileId> file = sources.add("input.csv", std::string(fuzz::as_text(data, size)));
  if (!file) return 0;
  const std::vector<CsvRow> rows = parse_csv(sources.text(file.value()), "input.csv", complaints);
  std::uint32_t line = 0;
  for (const CsvRow& row : rows) {
    fuzz::require(row.line >= line, "rows come in the order of their lines");
    line = row.line;
    for (const CsvField& field : row.fields) {
      fuzz::require(field.text.size() <= size, "a field is no longer than the file");
    }
  }
  Assembly assembly(sources, complaints, "input.csv");
  if (read_caption_list(assembly, file.value())) return 0;
  fuzz::require_sound(assembly.finish(), sources);
  return 0;
}
