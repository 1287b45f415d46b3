// SPDX-License-Identifier: Apache-2.0
// The file itself is embedded by cmake/embed.cmake. An answer is put in by the place of its value,
// so that the comments around it stay.
#include "housepower/answers/first_van.hpp"

#include <array>
#include <stdexcept>

#include "housepower/design/open.hpp"

namespace housepower::answers {
namespace {

constexpr std::string_view name_of_file = "two-berth.toml";

std::size_t begin_of_line(std::string_view text, int line) {
  std::size_t at = 0;
  for (int n = 1; n < line; ++n) at = text.find('\n', at) + 1;
  return at;
}

/// A value as it stands in the file: in quotes where it was. Marks that would end them are escaped.
std::string written_like(std::string_view was, std::string_view answer) {
  if (!was.starts_with('"')) return std::string(answer);
  std::string text = "\"";
  for (const char c : answer) {
    if (c == '"' || c == '\\') text += '\\';
    text += c;
  }
  return text + "\"";
}

}  // namespace

std::span<const FirstQuestion> first_questions() {
  static constexpr std::array all{
      FirstQuestion{"What is the model called?", "vehicle/name", "Two-berth tourer"},
      FirstQuestion{"Which town's weather is it for?", "place/name", "hobart"},
      FirstQuestion{"How many people travel in it?", "promise/people", "2"},
      FirstQuestion{"How long is it to last without any charging?", "promise/autonomy", "2 d"},
      FirstQuestion{"How much does the battery hold?", "bank/capacity", "200 Ah"},
      FirstQuestion{"What does the fridge draw while it runs?", "appliance/Fridge/power", "45 W"},
      FirstQuestion{"What do the lights draw together?", "appliance/Lights/power", "20 W"},
      FirstQuestion{"How long is the cable from the battery to the panel, one way?",
                    "run/main/length", "4 m"}};
  return all;
}

std::string with_answer(std::string file, const FirstQuestion& question, std::string_view answer,
                        Diagnostics& diagnostics) {
  Diagnostics of_file;
  const auto document = parse_toml(file, name_of_file, of_file);
  const Node* value = document ? document->at(question.path) : nullptr;
  if (!value) throw std::logic_error("the first van has no " + std::string(question.path));
  // In bytes: the file's own text before a value is ASCII but for comments, which come after it.
  const std::size_t from =
      begin_of_line(file, value->place.line) + std::size_t(value->place.column) - 1;
  const bool quoted = file[from] == '"';
  const std::size_t to = quoted ? file.find('"', from + 1) + 1 : file.find_first_of(" \n", from);
  std::string changed = file;
  changed.replace(from, to - from,
                  written_like(std::string_view(file).substr(from, to - from), answer));

  Diagnostics found;
  const FileReader only = [&](std::string_view) -> FileContent { return std::optional(changed); };
  const auto node = design::read_design(name_of_file, only, {}, found);
  const auto tables =
      node ? tables::read_tables(tables::embedded_tables(), design::needed_by(*node), found)
           : std::nullopt;
  if (tables && design::open_design(*node, *tables, Defaults::ordinary, found)) return changed;
  for (auto& problem : found.all) diagnostics.all.push_back(std::move(problem));
  return file;
}

}  // namespace housepower::answers
