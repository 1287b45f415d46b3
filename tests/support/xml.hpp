// SPDX-License-Identifier: Apache-2.0
// Just enough of XML to hold a drawing against its rules: elements, attributes, text, entities.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace housepower::test {

struct Element {
  std::string name;
  std::map<std::string, std::string> attributes;
  std::string text;  // its own, entities resolved
  std::vector<Element> children;
};

class XmlReader {
public:
  explicit XmlReader(std::string_view text) : rest_(text) {}

  /// Nothing where it is not well formed.
  std::optional<Element> document() {
    if (rest_.substr(0, 5) == "<?xml") rest_.remove_prefix(rest_.find("?>") + 2);
    skip_space();
    Element root;
    if (!element(root)) return {};
    skip_space();
    return rest_.empty() ? std::optional(std::move(root)) : std::nullopt;
  }

private:
  static bool is_name(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == ':';
  }
  void skip_space() {
    while (!rest_.empty() && (rest_[0] == ' ' || rest_[0] == '\n')) rest_.remove_prefix(1);
  }
  bool take(std::string_view what) {
    if (rest_.substr(0, what.size()) != what) return false;
    rest_.remove_prefix(what.size());
    return true;
  }
  std::string name() {
    std::string out;
    while (!rest_.empty() && is_name(rest_[0])) out += rest_[0], rest_.remove_prefix(1);
    return out;
  }
  /// Up to `end`, which stays.
  bool words(char stop, std::string& out) {
    while (!rest_.empty() && rest_[0] != stop) {
      if (rest_[0] == '<' || static_cast<unsigned char>(rest_[0]) < 0x20) {
        if (rest_[0] != '\n') return false;
      }
      if (rest_[0] != '&') {
        out += rest_[0], rest_.remove_prefix(1);
        continue;
      }
      bool known = false;
      for (const auto& [entity, c] :
           {std::pair{"&amp;", '&'}, std::pair{"&lt;", '<'}, std::pair{"&gt;", '>'},
            std::pair{"&quot;", '"'}, std::pair{"&#39;", '\''}})
        if (!known && take(entity)) out += c, known = true;
      if (!known) return false;
    }
    return !rest_.empty();
  }
  bool attributes(Element& e) {
    while (true) {
      skip_space();
      const std::string key = name();
      if (key.empty()) return true;
      std::string value;
      if (!take("=\"") || !words('"', value) || !take("\"")) return false;
      if (!e.attributes.emplace(key, value).second) return false;
    }
  }
  bool element(Element& e) {
    if (!take("<")) return false;
    e.name = name();
    if (e.name.empty() || !attributes(e)) return false;
    if (take("/>")) return true;
    if (!take(">")) return false;
    while (true) {
      if (!words('<', e.text)) return false;
      if (take("</")) return name() == e.name && take(">");
      if (!element(e.children.emplace_back())) return false;
    }
  }
  std::string_view rest_;
};

inline void all_elements(const Element& e, std::vector<const Element*>& list) {
  list.push_back(&e);
  for (const auto& child : e.children) all_elements(child, list);
}

}  // namespace housepower::test
