// SPDX-License-Identifier: Apache-2.0
// new: a design file to start from.
#include "commands.hpp"
#include "housepower/answers/first_van.hpp"
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

}  // namespace

FieldList new_options() { return fields<NewOptions>; }

int run_new(const Node& typed, World& world) {
  const auto options = options_from<NewOptions>(typed, world);
  if (!options) return usage;
  if (options->all.value_or(false)) {
    world.out << every_key(design::document_fields());
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
