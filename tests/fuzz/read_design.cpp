// SPDX-License-Identifier: Apache-2.0
// Any bytes as a design and, after a line "----", as the file that it extends: a design or problems at
// their places, never both; and a design that is written as one text opens again.
#include <cstdint>

#include "holds.hpp"
#include "housepower/design/open.hpp"
#include "housepower/reading/write.hpp"

using namespace housepower;
using namespace housepower::fuzz;

namespace {

const tables::Tables& shipped() {
  static const tables::Tables all = [] {
    Diagnostics none;
    auto read = tables::read_tables(tables::embedded_tables(), {}, none);
    require(read.has_value(), "the tables of the program read");
    return *std::move(read);
  }();
  return all;
}

std::optional<design::Opened> opened(const FileReader& reader, Defaults defaults) {
  Diagnostics problems;
  auto design = design::open_design("van.toml", reader, {}, shipped(), defaults, problems);
  require(design.has_value() != problems.any_error(), "a design or an error");
  require_sound(problems);
  (void)render(problems, reader);
  return design;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const std::size_t cut = text.find("\n----\n");
  const std::string van = text.substr(0, cut);
  const std::string base = cut == text.npos ? std::string() : text.substr(cut + 6);
  const InTime in_time(soon);
  const auto design = opened(
      [&](std::string_view path) -> FileContent {
        if (path == "van.toml") return std::optional(van);
        if (path == "base.toml") return std::optional(base);
        return FileContent::none("there is no such file");
      },
      Defaults::ordinary);
  if (!design) return 0;
  const std::string whole = toml_of(design->node);
  const auto again = opened([&](std::string_view) -> FileContent { return std::optional(whole); },
                            Defaults::kindest);
  require(again.has_value(), "a design that is written opens again");
  return 0;
}
