// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/own_page.hpp"

#include "housepower/page/json.hpp"

namespace housepower::report {
namespace {

using page::Json;

// As src/browser/web/index.html has them.
constexpr std::string_view data_begins = "<!-- designs -->", data_ends = "<!-- /designs -->";

Json texts_json(const std::map<std::string, std::string>& texts) {
  Json json = Json::object();
  for (const auto& [name, text] : texts) json[name] = text;
  return json;
}

/// On one line, and without a sign that could end the element around it.
std::string in_one_line(std::string_view json) {
  std::string line;
  bool begins_line = false;
  for (const char c : json) {
    if (c == '\n') begins_line = true;
    else if (c != ' ' || !begins_line) {
      begins_line = false;
      if (c == '<') line += "\\u003c";
      else line += c;
    }
  }
  return line;
}

Json content_json(const answers::PageContent& content) {
  Json vans = Json::array();
  for (const auto& van : content.vans) vans.push_back({{"file", van.file}, {"name", van.name}});
  return {{"title", content.title},
          {"words", texts_json(content.words)},
          {"designs", texts_json(content.texts)},
          {"vans", std::move(vans)}};
}

}  // namespace

std::optional<std::string> own_page(std::string_view built, const answers::PageContent& content) {
  const auto begin = built.find(data_begins);
  const auto end = begin == built.npos ? built.npos : built.find(data_ends, begin);
  if (end == built.npos) return std::nullopt;
  std::string html(built.substr(0, begin + data_begins.size()));
  html += "\n<script type=\"application/json\" id=\"designs\">" +
          in_one_line(page::dump(content_json(content))) + "</script>\n";
  html += built.substr(end);
  return html;
}

}  // namespace housepower::report
