// SPDX-License-Identifier: Apache-2.0
// Checks a design: `check van.toml` prints both verdicts and what is worst.
#include <algorithm>
#include <fstream>
#include <iostream>
#include <iterator>

#include <housepower/housepower.hpp>

namespace hp = housepower;

// The library opens no file itself: it asks for each by its name, so that a design can also come from
// memory. An empty answer means that there is none.
hp::FileContent read_file(std::string_view path) {
  std::ifstream file{std::string(path)};
  if (!file) return std::nullopt;
  return {std::string(std::istreambuf_iterator<char>(file), {})};
}

int main(int count, char** words) {
  if (count != 2) {
    std::cerr << "usage: check DESIGN.toml\n";
    return 2;
  }

  // The tables (conductors, ampacities, fuses, climate) are built in. Everything that is wrong with
  // what is read is collected, with line and column.
  hp::Diagnostics problems;
  const auto tables = hp::tables::read_tables(hp::tables::embedded_tables(), {}, problems);
  const auto van =
      hp::design::open_design(words[1], read_file, {}, *tables, hp::Defaults::ordinary, problems);
  std::cerr << hp::render(problems, read_file);
  if (!van || problems.any_error()) return 3;

  // Every rule is asked. The findings come sorted, the worst first.
  const auto checked = hp::checks::check(van->document, van->design);
  std::cout << van->design->name << "\nsafety " << word_of(checked.verdicts.safety) << ", service "
            << word_of(checked.verdicts.service) << "\n";
  const auto shown = std::min<std::size_t>(checked.findings.size(), 3);
  for (std::size_t i = 0; i < shown; ++i) {
    const auto& finding = checked.findings[i];
    std::cout << word_of(finding.verdict) << ": " << finding.rule << ": " << finding.message
              << "\n";
    if (!finding.cure.empty()) std::cout << "  fix: " << finding.cure << "\n";
  }
  return checked.verdicts.worse() == hp::Verdict::fail ? 1 : 0;
}
