// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/opening.hpp"

#include <utility>

#include "asked.hpp"
#include "housepower/answers/named_files.hpp"
#include "housepower/reading/digest.hpp"
#include "housepower/tables/weather_file.hpp"

namespace housepower::answers {

namespace {

/// Reads the weather file that a design names into the tables.
bool add_weather(const Node& design, const std::string& file, const FileReader& read,
                 std::shared_ptr<const tables::Tables>& tables, Diagnostics& diagnostics) {
  const auto beside = weather_named(design, file);
  if (!beside) return true;
  const std::string& path = *beside;
  const Node* named = design.at("place/weather");
  const auto* name = std::get_if<std::string>(&named->value);
  const auto text = read(path);
  if (!text) {
    const bool typed = named->place.file == "--weather";
    diagnostics.error(named->place, std::string(unreadable),
                      "the weather file \"" + path + "\" cannot be read",
                      (text.why().empty() ? "" : text.why() + "; ") +
                          (typed ? "it is looked for from the folder where you are"
                                 : "it is looked for beside the file that names it"));
    return false;
  }
  auto weather = tables::read_weather(path, *text, diagnostics);
  if (!weather) return false;
  const auto kept = std::make_shared<const tables::WeatherFile>(std::move(*weather));
  auto own = std::make_shared<tables::Tables>(*tables);
  own->towns.push_back(tables::town_of(*kept));
  own->towns.back().name = *name;
  own->weather.emplace_back(*name, kept);
  tables = std::move(own);
  return true;
}

}  // namespace

std::optional<ReadDesign> read_of(const Question& question, const FileReader& read,
                                  Diagnostics& diagnostics, ParsedFiles* bases) {
  auto own = read(question.file);
  if (!own) {
    diagnostics.error({question.file}, std::string(unreadable), "the file cannot be read",
                      own.why());
    return std::nullopt;
  }
  ReadDesign design{{}, question.set};
  const FileReader counted = [&](std::string_view path) {
    auto text = own ? std::exchange(own, std::nullopt) : read(path);  // it is asked for first
    if (text) design.texts.push_back(*text);
    return text;
  };
  auto node = design::read_design(question.file, counted, question.set, diagnostics, bases);
  if (!node) return std::nullopt;
  design.node = std::move(*node);
  for (const auto& key : question.keys) design.texts.push_back(key.path + "=" + key.text);
  for (const auto& asked : {question.town, question.weather, question.at})
    if (asked) design.texts.push_back(*asked);
  if (question.people) design.texts.push_back("people " + std::to_string(*question.people));
  for (const auto* list : {&question.add, &question.with, &question.without})
    for (const auto& asked : *list)
      design.texts.push_back((list == &question.without ? "without " : "with ") + asked);
  (void)ask(design.node, question, design.told, diagnostics);  // what is wrong is told
  return design;
}

std::optional<Opening> open_on(std::shared_ptr<const tables::Tables> tables, ReadDesign design,
                               const Question& question, const FileReader& read,
                               Diagnostics& diagnostics) {
  const FileReader counted = [&](std::string_view path) {
    auto text = read(path);
    if (text) design.texts.push_back(*text);
    return text;
  };
  (void)add_weather(design.node, question.file, counted, tables, diagnostics);  // the same
  auto opened =
      design::open_design(std::move(design.node), *tables, Defaults::ordinary, diagnostics);
  if (!opened || diagnostics.any_error()) return std::nullopt;
  Opening opening{std::move(tables), {}, {}, {}, {}, {}};
  opening.document.emplace(std::move(opened->document));
  opening.design.emplace(std::move(opened->design));
  opening.node = std::move(opened->node);
  opening.digest = digest_of(design.texts);
  opening.told = std::move(design.told);
  ask_resolved(opening, question, diagnostics);
  if (question.needs_runs && !has_its_runs(opening, diagnostics)) {
    design::locate(diagnostics, opening.node);
    return std::nullopt;
  }
  return opening;
}

std::optional<Opening> open_read(ReadDesign design, const Question& question, Shelf& shelf,
                                 const FileReader& read, Diagnostics& diagnostics, Towns towns) {
  auto needed = design::needed_by(design.node);
  if (towns == Towns::every) needed.town = {}, needed.towns = true;
  auto tables = shelf.tables(needed, diagnostics);
  if (!tables) return std::nullopt;
  return open_on(std::move(tables), std::move(design), question, read, diagnostics);
}

std::optional<Opening> open(const Question& question, Shelf& shelf, const FileReader& read,
                            Diagnostics& diagnostics, Towns towns) {
  auto design = read_of(question, read, diagnostics);
  if (!design) return std::nullopt;
  return open_read(*std::move(design), question, shelf, read, diagnostics, towns);
}

void check(Opening& opening, checks::Workings workings) {
  opening.checked =
      checks::check(*opening.document, *opening.design, workings, checks::Unsaid::ranked);
  checks::locate(opening.checked.findings, opening.node);
  auto& notes = opening.checked.energy.notes;
  notes.insert(notes.end(), opening.told.begin(), opening.told.end());
}

std::optional<Opening> open_checked(const Question& question, Shelf& shelf, const FileReader& read,
                                    Diagnostics& diagnostics, checks::Workings workings) {
  auto opening = open(question, shelf, read, diagnostics);
  if (opening) check(*opening, workings);
  return opening;
}

}  // namespace housepower::answers
