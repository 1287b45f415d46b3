// SPDX-License-Identifier: Apache-2.0
// Files that many documents extend, parsed once for all of them.
#pragma once

#include <map>
#include <memory>
#include <mutex>

#include "housepower/reading/node.hpp"

namespace housepower {

/// The trees of one command, by file. Several threads may ask at once.
class ParsedFiles {
public:
  /// As `parse_toml_as_far`; a text that it had already, under that name and sound, is not parsed again.
  [[nodiscard]] std::optional<Node> parse(const std::string& text, const std::string& file,
                                          Diagnostics&);

private:
  struct Parsed {
    std::string text;
    Node node;
  };
  std::mutex mutex_{};
  std::map<std::string, std::shared_ptr<const Parsed>> files_{};
};

/// What the document extends is parsed there; null: here.
[[nodiscard]] std::optional<Node> read_document(std::string_view file, const FileReader&,
                                                Diagnostics&, ParsedFiles*);
/// The same of what is left where single lines are no TOML; each is said.
[[nodiscard]] std::optional<Node> read_document_as_far(std::string_view file, const FileReader&,
                                                       Diagnostics&, ParsedFiles*);

}  // namespace housepower
