// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/pack_file.hpp"

#include <algorithm>
#include <filesystem>
#include <utility>

#include "housepower/answers/named_files.hpp"
#include "housepower/design/open.hpp"
#include "housepower/reading/shown.hpp"
#include "housepower/reading/write.hpp"

namespace housepower::answers {
namespace {

/// Files that a design names are looked for beside the file that names them.
void move_named_file(std::optional<std::string>& named, const char* key, const GivenDesign& given,
                     const SeenFromPack& seen_from) {
  const Node* node = given.node.at(key);
  if (!named || !node || std::filesystem::path(*named).is_absolute()) return;
  const auto folder = std::filesystem::path(file_naming(node->place, given.file)).parent_path();
  named = seen_from((folder / *named).string());
}

/// The design as its file has it, without overrides.
std::optional<Node> as_in_its_file(const GivenDesign& given, const FileReader& read) {
  if (given.file == "-") return std::nullopt;
  Diagnostics unused;
  const auto node = design::read_design(given.file, read, {}, unused);
  const auto document = node ? design::document_of(*node, unused) : std::nullopt;
  return document ? std::optional(design::node_of(*document)) : std::nullopt;
}

/// In lines of a hundred cells; nothing in a name ends the comment.
std::string comment(std::string_view text) {
  constexpr std::size_t width = 98;
  const std::string plain = shown(text);
  std::string out, line;
  for (std::string_view rest = plain; !rest.empty();) {
    const std::string_view word = rest.substr(0, rest.find(' '));
    rest.remove_prefix(std::min(rest.size(), word.size() + 1));
    if (!line.empty() && shown_width(line) + 1 + shown_width(word) > width)
      out += "# " + std::exchange(line, "") + "\n";
    line += (line.empty() ? "" : " ") + std::string(word);
  }
  return out + "# " + line + "\n";
}

/// What more people would want beyond the window is kept as a share above one (`use_longer`); a file holds
/// what the window allows.
design::Document as_a_file_holds(design::Document document) {
  for (design::Appliance& a : document.appliance)
    if (a.duty) a.duty = std::min(*a.duty, Ratio(1.0));
  return document;
}

/// What differs from the file as it is.
Node extending(const Node& base, const GivenDesign& given, const design::Document& chosen,
               const SeenFromPack& seen_from) {
  design::Document moved = as_a_file_holds(chosen);
  if (const Node* weather = given.node.at("place/weather");
      weather && weather->place.file == "--weather" && moved.location && moved.location->weather)
    moved.location->weather = seen_from(*moved.location->weather);
  Node pack = overlay(base, design::node_of(moved));
  auto& table = std::get<Node::Table>(pack.value);
  table.insert(table.begin(), {{"schema", {}, {std::int64_t(chosen.schema), {}}},
                               {"extends", {}, {seen_from(given.file), {}}}});
  return pack;
}

Node whole(const GivenDesign& given, const design::Document& chosen,
           const SeenFromPack& seen_from) {
  design::Document moved = as_a_file_holds(chosen);
  if (moved.location) move_named_file(moved.location->weather, "place/weather", given, seen_from);
  if (moved.sizing) move_named_file(moved.sizing->catalogue, "sizing/catalogue", given, seen_from);
  return design::node_of(moved);
}

}  // namespace

std::string pack_file(const GivenDesign& given, const design::Document& chosen,
                      const std::vector<std::string>& about, const FileReader& read,
                      const SeenFromPack& seen_from) {
  const auto base = as_in_its_file(given, read);
  std::string head;
  for (const auto& line : about) head += comment(line);
  return head + "\n" +
         toml_of(base ? extending(*base, given, chosen, seen_from)
                      : whole(given, chosen, seen_from));
}

}  // namespace housepower::answers
