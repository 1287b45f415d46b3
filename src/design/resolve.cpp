// SPDX-License-Identifier: Apache-2.0
// From the file as written to a Design: the order of the steps, and the place of each problem.
#include <algorithm>

#include "housepower/design/open.hpp"
#include "resolving.hpp"

namespace housepower::design {

resolved::Content::Content() = default;
resolved::Content::Content(const resolved::Content&) = default;
resolved::Content::Content(resolved::Content&&) noexcept = default;
resolved::Content& resolved::Content::operator=(const resolved::Content&) = default;
resolved::Content& resolved::Content::operator=(resolved::Content&&) noexcept = default;
resolved::Content::~Content() = default;
namespace {

/// What is beyond our own limit is said at once, before anything is calculated from it.
bool within_limits(const Document& document, Diagnostics& diagnostics) {
  const auto refuse = [&](const char* list, const char* what, std::size_t count) {
    diagnostics.error({}, list,
                      "the design has " + std::to_string(count) + " " + what + "; no more than " +
                          std::to_string(largest_design) + " are calculated",
                      "divide it into designs of their own, or draw what is alike once");
  };
  const std::size_t places = document.node.size() + document.appliance.size();
  if (document.run.size() > largest_design) refuse("run", "runs", document.run.size());
  if (places > largest_design) refuse("node", "nodes and appliances", places);
  return document.run.size() <= largest_design && places <= largest_design;
}

/// "run/fridge/conductor" of "run/3/conductor".
std::string path_by_name(const Document& document, const std::string& path) {
  constexpr std::string_view runs = "run/";
  if (!path.starts_with(runs)) return path;
  const auto end = path.find('/', runs.size());
  const auto number = parse_double(path.substr(runs.size(), end - runs.size()));
  if (!number || *number >= double(document.run.size())) return path;
  return std::string(runs) + document.run[std::size_t(*number)].name + path.substr(end);
}

}  // namespace

std::optional<Design> resolve(Document document, const tables::Tables& tables, Defaults defaults,
                              Diagnostics& diagnostics) {
  Design design;
  if (!within_limits(document, diagnostics)) return std::nullopt;
  Diagnostics found;
  Resolving r{document, tables, defaults, found, design.content_};
  design.content_.tables = &tables;
  design.content_.nominal = document.vehicle.system_voltage;
  for (auto& [path, name, says] : name_sizes(document, tables, found))
    r.assume(path_by_name(document, path), std::move(name), std::move(says));
  fill_in(r);
  resolve_names(r);
  resolve_site(r);
  resolve_assemblies(r);
  resolve_bank(r);
  resolve_equipment(r);
  place_appliances(r);
  resolve_runs(r);
  check_cavities(r);
  resolve_appliances(r);
  resolve_cases(r);
  resolve_labels(r);
  resolve_prices(r);
  check_stock(r);
  check_connections(r);
  check_backing(r);
  check_rated_voltages(r);
  for (const Assumption& a : design.content_.assumptions) design.content_.assumed.insert(a.path);
  const bool good = !found.any_error();
  diagnostics.all.insert(diagnostics.all.end(), found.all.begin(), found.all.end());
  if (!good) return std::nullopt;
  return design;
}

void locate(Diagnostics& diagnostics, const Node& document) {
  for (Diagnostic& d : diagnostics.all) {
    for (std::string_view path = d.key; !path.empty();) {
      const Node* node = document.at(path);
      if (node && node->place.line > 0) {
        d.place = node->place;
        break;
      }
      const std::size_t slash = path.rfind('/');
      path = slash == path.npos ? std::string_view{} : path.substr(0, slash);
    }
  }
}

std::optional<Node> read_design(std::string_view file, const FileReader& reader,
                                const std::vector<std::string>& sets, Diagnostics& diagnostics,
                                ParsedFiles* bases) {
  auto node = read_document_as_far(file, reader, diagnostics, bases);
  if (!node) return std::nullopt;
  for (const auto& assignment : sets) (void)set(*node, assignment, diagnostics);
  return node;
}

namespace {

/// "run/fridge" of "run/fridge/length", "bank" of "bank/resistance/low".
std::string_view table_of(const Node& node, std::string_view path) {
  const auto first = path.substr(0, path.find('/'));
  const auto* entry = node.find(first);
  const bool is_list = entry && std::holds_alternative<Node::List>(entry->value.value);
  if (!is_list || first.size() == path.size()) return first;
  const auto second = path.find('/', first.size() + 1);
  return path.substr(0, second);
}

bool is_within(std::string_view path, std::string_view outer) {
  return path == outer || (path.starts_with(outer) && path.substr(outer.size()).starts_with('/'));
}

/// Whether a problem that was found in a mended document is one of the file.
bool holds_of_the_file(const Diagnostic& d, const std::vector<std::string>& broken,
                       const Node& node) {
  const auto any = [&](auto touches) { return std::any_of(broken.begin(), broken.end(), touches); };
  if (any([&](const std::string& path) { return is_within(d.key, path); })) return false;
  switch (d.rests_on) {
  case RestsOn::itself: return true;
  case RestsOn::table:
    return !any(
        [&](const std::string& path) { return table_of(node, path) == table_of(node, d.key); });
  case RestsOn::names:
    return !any([&](const std::string& path) {  // a name may be lost with its table
      return path.ends_with("/name") || path == "rules/profile" || path == table_of(node, path);
    });
  case RestsOn::whole: break;
  }
  return false;
}

/// What is told of the design by its text, as the record does, says the sizes that it was resolved with.
void write_sizes(Node& node, Document& document, const tables::Tables& tables) {
  Diagnostics told_before;
  for (const auto& [path, name, says] : name_sizes(document, tables, told_before))
    if (const Node* stated = node.at(path)) {
      const Place place = stated->place;
      (void)set(node, path, Node{name, place}, place, told_before);
    }
}

/// Beside what could not be read: the names that lead nowhere, and what else does not depend on it.
void say_the_rest(const Node& node, const tables::Tables& tables, Diagnostics& diagnostics) {
  auto [document, broken] = mended_document_of(node);
  Diagnostics found;
  (void)resolve(std::move(document), tables, Defaults::ordinary, found);
  for (Diagnostic& d : found.all)
    if (d.severity == Severity::error && holds_of_the_file(d, broken, node)) {
      Diagnostics one{{std::move(d)}};
      locate(one, node);
      diagnostics.all.push_back(std::move(one.all.front()));
    }
}

}  // namespace

tables::Needed needed_by(const Node& design) {
  const auto text = [&](std::string_view table, std::string_view key) {
    const auto* entry = design.find(table);
    return entry ? entry->value.text_at(key).value_or("") : std::string_view{};
  };
  return {.towns = design.find("place") != nullptr,
          .profile = text("rules", "profile"),
          .ampacity = text("rules", "ampacity_table"),
          .town = text("place", "name")};
}

std::optional<Opened> open_design(Node node, const tables::Tables& tables, Defaults defaults,
                                  Diagnostics& diagnostics) {
  auto document = document_of(node, diagnostics);
  if (diagnostics.any_error()) say_the_rest(node, tables, diagnostics);
  if (!document || diagnostics.any_error()) return std::nullopt;
  Diagnostics found;
  auto design = resolve(*document, tables, defaults, found);
  locate(found, node);
  write_sizes(node, *document, tables);
  diagnostics.all.insert(diagnostics.all.end(), found.all.begin(), found.all.end());
  if (!design) return std::nullopt;
  return Opened{std::move(node), std::move(*document), std::move(*design)};
}

std::optional<Opened> open_design(std::string_view file, const FileReader& reader,
                                  const std::vector<std::string>& sets,
                                  const tables::Tables& tables, Defaults defaults,
                                  Diagnostics& diagnostics) {
  auto node = read_design(file, reader, sets, diagnostics);
  return node ? open_design(std::move(*node), tables, defaults, diagnostics) : std::nullopt;
}

}  // namespace housepower::design
