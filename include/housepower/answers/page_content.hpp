// SPDX-License-Identifier: Apache-2.0
// What a maker's own page holds beside the engine: its designs, option packs, parts and prices, each
// as it stands in its folder, and words of its own.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "housepower/answers/shelf.hpp"
#include "housepower/reading/diagnostic.hpp"

namespace housepower::answers {

struct PageAsked {
  std::string folder;
  std::vector<std::string> files;            // the *.toml in it, with the folder before their names
  std::string title{};                       // empty: the page's own
  std::map<std::string, std::string> words;  // "about", "contact"
};

struct PageContent {
  struct Van {
    std::string file, name;
  };
  std::string title{};
  std::map<std::string, std::string> words{};
  std::map<std::string, std::string> texts{};  // by name in the folder, and what designs name there
  std::vector<Van> vans{};  // designs that extend none: what a customer chooses from
};

/// Nothing where a design does not read or does not resolve, where one names a file outside of the
/// folder, or where there is no design: each is told at its place.
[[nodiscard]] std::optional<PageContent> page_content(const PageAsked&, Shelf&, const FileReader&,
                                                      Diagnostics&);

}  // namespace housepower::answers
