// SPDX-License-Identifier: Apache-2.0
#include "pack_file.hpp"

#include <algorithm>
#include <filesystem>
#include <utility>

#include "housepower/reading/write.hpp"
#include "housepower/reading/shown.hpp"
#include "housepower/page/page.hpp"
#include "write_file.hpp"

namespace housepower::cli {
namespace {

namespace fs = std::filesystem;

/// A path from the folder of `output`, with / on every system.
std::string seen_from(const std::string& output, const fs::path& path) {
  if (output == "-") return path.generic_string();
  std::error_code error;
  const auto there = fs::absolute(path, error).lexically_normal();
  const auto folder = fs::absolute(output, error).parent_path().lexically_normal();
  const auto relative = there.lexically_relative(folder);
  return (error || relative.empty() ? there : relative).generic_string();
}

/// Files that a design names are looked for beside the file that names them.
void move_named_file(std::optional<std::string>& named, const char* key, const Opening& opening,
                     const DesignOptions& options, const std::string& output) {
  const Node* node = opening.node.at(key);
  if (!named || !node || fs::path(*named).is_absolute()) return;
  named =
      seen_from(output, fs::path(file_naming(node->place, options.file)).parent_path() / *named);
}

/// The design as its file has it, without overrides.
std::optional<Node> as_in_its_file(const DesignOptions& options, World& world) {
  if (options.file == "-") return std::nullopt;
  Diagnostics unused;
  const auto node = design::read_design(options.file, world.read, {}, unused);
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

}  // namespace

int write_pack(const std::string& output, const DesignOptions& options, const Opening& opening,
               const design::Document& chosen, const std::vector<std::string>& about,
               World& world) {
  const auto base = as_in_its_file(options, world);
  Node pack;
  std::string head;
  for (const auto& line : about) head += comment(line);
  if (base) {
    design::Document moved = chosen;
    if (const Node* weather = opening.node.at("place/weather");
        weather && weather->place.file == "--weather" && moved.location && moved.location->weather)
      moved.location->weather = seen_from(output, *moved.location->weather);
    pack = overlay(*base, design::node_of(moved));
    auto& table = std::get<Node::Table>(pack.value);
    table.insert(table.begin(), {{"schema", {}, {std::int64_t(chosen.schema), {}}},
                                 {"extends", {}, {seen_from(output, options.file), {}}}});
  } else {
    design::Document moved = chosen;
    if (moved.location)
      move_named_file(moved.location->weather, "place/weather", opening, options, output);
    if (moved.sizing)
      move_named_file(moved.sizing->catalogue, "sizing/catalogue", opening, options, output);
    pack = design::node_of(moved);
  }
  head += comment(page::safety_note());
  return write_out(output, head + "\n" + toml_of(pack), world);
}

}  // namespace housepower::cli
