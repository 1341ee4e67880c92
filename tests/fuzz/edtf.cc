// EDTF: what is accepted has days, reads back as itself, and never narrows when widened.
#include "tailproof/edtf.h"

#include "fuzz.h"

using namespace tailproof;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const Result<Edtf> parsed = Edtf::parse(fuzz::as_text(data, size));
  if (!parsed || parsed.value().is_unknown()) return 0;
  const Edtf& date = parsed.value();
  fuzz::require(!date.days().empty(), "a date has days");
  const Result<Edtf> again = Edtf::parse(date.text());
  fuzz::require(again.has_value(), "a date's own text is a date");
  fuzz::require(again.value().days() == date.days(), "a date's own text has the same days");
  const DaySet widened = date.widened(Margins{});
  fuzz::require(widened.intersect(date.days()) == date.days(), "a margin only widens");
  return 0;
}
