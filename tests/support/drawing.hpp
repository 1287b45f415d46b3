// SPDX-License-Identifier: Apache-2.0
// What every drawing of ours keeps.
#pragma once

#include <doctest/doctest.h>

#include <set>

#include "support/xml.hpp"

namespace housepower::test {

/// Well formed, no script, nothing from outside, a text alternative; returns its elements' owner.
inline Element kept_rules(const std::string& svg) {
  auto root = XmlReader(svg).document();
  REQUIRE(root.has_value());
  CHECK(root->name == "svg");
  CHECK(root->attributes["role"] == "img");
  std::vector<const Element*> all;
  all_elements(*root, all);
  std::set<std::string> ids;
  for (const Element* e : all) {
    CHECK(e->name != "script");
    CHECK(e->name != "image");
    CHECK(e->name != "foreignObject");
    for (const auto& [key, value] : e->attributes) {
      CHECK(key.substr(0, 2) != "on");
      CHECK(key.find("href") == std::string::npos);
      CHECK(key != "style");
      if (key != "xmlns") CHECK(value.find("http") == std::string::npos);
      CHECK(value.find("url(") == std::string::npos);
      CHECK(value.find("nan") == std::string::npos);
      if (key == "id") CHECK(ids.insert(value).second);
    }
  }
  REQUIRE(root->children.size() >= 2);
  CHECK(root->children[0].name == "title");
  CHECK_FALSE(root->children[0].text.empty());
  CHECK(root->children[1].name == "desc");
  CHECK_FALSE(root->children[1].text.empty());
  CHECK(root->attributes["aria-labelledby"] ==
        root->children[0].attributes["id"] + " " + root->children[1].attributes["id"]);
  return std::move(*root);
}

}  // namespace housepower::test
