// SPDX-License-Identifier: Apache-2.0
// Any bytes as a record: read as far as it holds together, told, and printed. And any bytes as what
// entries say: written, they are an intact record that says the same.
#include <cstdint>

#include "holds.hpp"
#include "housepower/answers/record.hpp"
#include "housepower/page/page.hpp"
#include "housepower/report/record.hpp"
#include "support/varied_design.hpp"

using namespace housepower;
using namespace housepower::fuzz;

namespace {

void require_sound_record(const answers::Record& record) {
  require(page::read_json(report::record_json(record)).has_value(), "JSON is sound");
  require(!page::text(report::record_page(record, true), {}).empty(), "it is shown");
  (void)answers::van_of(record);
  if (record.broken) require(!record.broken->message.empty(), "a broken one says so");
}

std::string up_to_a_line_end(std::string& rest) {
  const std::size_t end = std::min(rest.find('\n'), rest.size());
  std::string line = rest.substr(0, end);
  rest.erase(0, end + 1);
  return line;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const InTime in_time(soon);
  require_sound_record(answers::read_record(text, "a.record"));

  std::string rest = text.substr(0, 600), written;
  std::string before(answers::nothing_before);
  std::size_t count = 0;
  while (!rest.empty() && count < 4) {
    answers::RecordEntry entry =
        answers::entry_of_note({up_to_a_line_end(rest), up_to_a_line_end(rest)}, rest);
    entry.what = up_to_a_line_end(rest);
    const std::string one = answers::entry_text(++count, std::move(entry), before);
    before = one.substr(one.rfind("digest: ") + 8, 64);
    written += one;
  }
  const auto record = answers::read_record(written, "b.record");
  require(!record.broken || count == 0, "what was written is intact");
  require(record.entries.size() == count, "each entry is there");
  require_sound_record(record);
  return 0;
}
