// SPDX-License-Identifier: Apache-2.0
// Lines, fields and numbers of a weather file, each error at its line and column.
#include <fmt/format.h>

#include <algorithm>

#include "housepower/units/unit.hpp"
#include "weather_file.hpp"

namespace housepower::tables::weather {
namespace {

int code_points(std::string_view text) {
  const auto begins = [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; };
  return static_cast<int>(std::count_if(text.begin(), text.end(), begins));
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t'; };
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  return text;
}

void split(std::string_view line, Fields& fields) {
  fields.clear();
  const char* from = line.data();
  const char* const end = from + line.size();
  bool inside = false;
  for (const char* at = from; at != end; ++at) {
    if (*at == '"') inside = !inside;
    if (*at != ',' || inside) continue;
    fields.push_back(trimmed({from, std::size_t(at - from)}));
    from = at + 1;
  }
  fields.push_back(trimmed({from, std::size_t(end - from)}));
}

std::string quoted(std::string_view text) {
  constexpr std::size_t longest = 40;
  std::size_t end = std::min(text.size(), longest);
  while (end < text.size() && end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0u) == 0x80u)
    --end;
  return fmt::format("\"{}{}\"", text.substr(0, end), end < text.size() ? "…" : "");
}

Text::Text(std::string_view file, std::string_view text, Diagnostics& diagnostics)
    : file_(file), diagnostics_(diagnostics) {
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);  // the byte-order mark of UTF-8
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    std::string_view line = text.substr(0, end);
    if (line.ends_with('\r')) line.remove_suffix(1);
    lines_.push_back(line);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
}

void Text::error(std::size_t line, std::string_view part, std::string_view key, std::string message,
                 std::string hint) {
  if (full()) return;
  ++errors_;
  if (full())
    hint += hint.empty() ? "reading stopped here, after 20 errors"
                         : "; reading stopped here, after 20 errors";
  Place place{file_, static_cast<int>(line) + 1, 1, std::max(1, code_points(part))};
  if (line < size() && part.data())
    place.column += code_points(
        lines_[line].substr(0, static_cast<std::size_t>(part.data() - lines_[line].data())));
  diagnostics_.error(std::move(place), std::string(key), std::move(message), std::move(hint));
}

std::optional<double> Text::number(std::size_t line, std::string_view part, const Wanted& wanted,
                                   std::string_view hint) {
  const auto value = parse_double(part);
  if (value && *value >= wanted.least && *value <= wanted.most) return value;
  error(line, part, wanted.key,
        fmt::format("wants {} from {:g} to {:g}, got {}", wanted.unit, wanted.least, wanted.most,
                    quoted(part)),
        part.find(',') == part.npos ? std::string(hint) : "write a decimal point: 2.04, not 2,04");
  return std::nullopt;
}

}  // namespace housepower::tables::weather
