// SPDX-License-Identifier: Apache-2.0
// new: a design file to start from.
#include "commands.hpp"
#include "housepower/answers/first_van.hpp"
#include "housepower/design/catalogue.hpp"
#include "housepower/design/words.hpp"
#include "housepower/reading/shape.hpp"
#include "verbs.hpp"

namespace housepower::cli {

struct NewOptions {
  std::optional<bool> ask, all;
  std::optional<Format> format;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::NewOptions> = std::array{
    field<&cli::NewOptions::ask>("ask",
                                 "Asks eight questions first; Enter takes the answer in brackets.")
        .optional(),
    field<&cli::NewOptions::all>("all", "Every key of the format, as comments, instead.")
        .optional(),
    field<&cli::NewOptions::format>("format", "Accepted but has no effect: a new file is TOML.")
        .or_else("text"),
    at_most_one({"ask", "all"})};
}  // namespace housepower

namespace housepower::cli {
namespace {

/// Asks until an answer is taken. Nothing where the answers end before the questions do.
std::optional<std::string> asked_van(World& world) {
  std::string file(answers::first_van());
  for (const auto& question : answers::first_questions())
    for (bool taken = false; !taken;) {
      world.err << question.asks << " [" << question.otherwise << "] " << std::flush;
      std::string answer;
      if (!std::getline(world.in, answer)) return std::nullopt;
      if (!answer.empty() && answer.back() == '\r') answer.pop_back();
      if (answer.empty()) break;
      Diagnostics problems;
      file = answers::with_answer(std::move(file), question, answer, problems);
      taken = !problems.any_error();
      for (const auto& problem : problems.all)
        world.err << "  " << problem.message << (problem.hint.empty() ? "" : "; " + problem.hint)
                  << "\n";
    }
  return file;
}

using design::PartKind;

/// The keys of a part of that kind; of `is` the example says so.
template <PartKind kind> FieldList keys_of_part() {
  static const std::vector<Field> keys = [] {
    std::vector<Field> list;
    for (Field f : design::all_part_fields())
      if (f.key == "name" || f.key == "is") {
        if (f.key == "is") f.example = words<PartKind>[std::size_t(kind)];
        list.push_back(f);
      }
    const FieldList own = design::part_fields(kind);
    list.insert(list.end(), own.begin(), own.end());
    return list;
  }();
  return keys;
}
template <PartKind kind> Field block_of_part(Field part) {
  static const Shape table{.form = Shape::Form::table, .inner = keys_of_part<kind>};
  static const Shape list{.form = Shape::Form::list, .items = &table};
  part.shape = &list;
  return part;
}

/// Every key of the format; of parts a block for each kind, with its own keys alone.
std::string whole_format() {
  std::vector<Field> keys;
  std::string parts;
  for (const Field& f : design::document_fields()) {
    if (f.key != "part") {
      keys.push_back(f);
      continue;
    }
    for (const Field& block :
         {block_of_part<PartKind::battery>(f), block_of_part<PartKind::module>(f),
          block_of_part<PartKind::controller>(f), block_of_part<PartKind::charger>(f),
          block_of_part<PartKind::inverter>(f), block_of_part<PartKind::conductor>(f),
          block_of_part<PartKind::device>(f)})
      parts += every_key({&block, 1});
  }
  return every_key(keys) + parts;
}

}  // namespace

FieldList new_options() { return fields<NewOptions>; }

int run_new(const Node& typed, World& world) {
  const auto options = options_from<NewOptions>(typed, world);
  if (!options) return usage;
  if (options->all.value_or(false)) {
    world.out << whole_format();
    return ok;
  }
  if (!options->ask.value_or(false)) {
    world.out << answers::first_van();
    return ok;
  }
  const auto file = asked_van(world);
  if (!file) {
    world.err << "\nerror: the answers ended before the questions did; nothing was written\n";
    return input_wrong;
  }
  world.out << *file;
  return ok;
}

}  // namespace housepower::cli
