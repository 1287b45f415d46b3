// SPDX-License-Identifier: Apache-2.0
// Any bytes as a document, its base and an assignment: no crash, every place lies in the text, the
// same answer twice.
#include <algorithm>
#include <cstdint>
#include <cstdlib>

#include "../reading/small_document.hpp"

using namespace housepower;

namespace {
void require(bool good) {
  if (!good) std::abort();
}

std::string told(std::string_view text, std::string_view assignment) {
  const FileReader reader = [&](std::string_view path) -> std::optional<std::string> {
    if (path == "van.toml" || path == "base.toml") return std::string(text);
    return std::nullopt;
  };
  Diagnostics diagnostics;
  auto node = read_document("van.toml", reader, diagnostics);
  if (!node) {
    require(diagnostics.any_error());
  } else {
    *node = merged(*node, *node);
    set(*node, assignment, diagnostics);
    Reading reading{diagnostics};
    auto file = read<small::File>(*node, reading);
    require(file || diagnostics.any_error());
    std::vector<Assumption> assumptions;
    if (file) fill_defaults(fields<small::File>, &*file, Defaults::kindest, "", assumptions);
  }
  const auto lines = std::count(text.begin(), text.end(), '\n') + 1;
  for (const auto& d : diagnostics.all) {
    require(d.place.line >= 0 && d.place.line <= lines && d.place.column >= 0 &&
            d.place.width >= 1);
    require(d.place.column <= static_cast<int>(text.size()) + 1 || d.place.file == "--set");
  }
  return render(diagnostics, reader);
}
}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const std::string assignment = text.substr(0, text.find('\n'));
  require(told(text, assignment) == told(text, assignment));
  return 0;
}
