// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/typed.hpp"

#include <algorithm>

namespace housepower::answers {
namespace {

int code_points(std::string_view text) {
  return int(std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

Piece Typed::piece(std::string_view part) const {
  part = trimmed(part);
  const auto before = whole_.substr(0, part.empty() ? 0 : std::size_t(part.data() - whole_.data()));
  return {part, {option_, 1, code_points(before) + 1, std::max(1, code_points(part))}};
}

std::vector<Piece> Typed::between_commas(std::string_view part) const {
  std::vector<Piece> pieces;
  for (bool more = true; more;) {
    const auto comma = part.find(',');
    pieces.push_back(piece(part.substr(0, comma)));
    more = comma != part.npos;
    if (more) part.remove_prefix(comma + 1);
  }
  return pieces;
}

std::string numbered(const char* option, std::size_t number) {
  return number == 0 ? option : option + (" (" + std::to_string(number + 1)) + ")";
}

Node::Entry entry(const char* key, const Piece& piece) {
  return {key, piece.place, {std::string(piece.text), piece.place}};
}

std::vector<std::string_view> names_in(const Node& design, std::string_view list) {
  std::vector<std::string_view> names;
  const auto* entry = design.find(list);
  const auto* all = entry ? std::get_if<Node::List>(&entry->value.value) : nullptr;
  for (std::size_t i = 0; all && i < all->size(); ++i)
    if (const auto name = (*all)[i].text_at("name")) names.push_back(*name);
  return names;
}

std::optional<std::string_view> meant(std::string_view typed,
                                      const std::vector<std::string_view>& names) {
  if (std::find(names.begin(), names.end(), typed) != names.end()) return typed;
  const std::string wanted = in_small_letters(typed);
  const auto whole = [&](std::string_view name) { return in_small_letters(name) == wanted; };
  const auto has_word = [&](std::string_view name) {
    return (" " + in_small_letters(name) + " ").find(" " + wanted + " ") != std::string::npos;
  };
  const auto only = [&](const auto& fits) {
    const auto found = std::find_if(names.begin(), names.end(), fits);
    const bool one = found != names.end() && std::count_if(names.begin(), names.end(), fits) == 1;
    return one ? std::optional(*found) : std::nullopt;
  };
  if (std::any_of(names.begin(), names.end(), whole)) return only(whole);
  return only(has_word);
}

std::string perhaps(std::string_view typed, const std::vector<std::string_view>& names) {
  std::vector<std::string> small;
  for (const auto name : names) small.push_back(in_small_letters(name));
  const std::string near(nearest(in_small_letters(typed), {small.begin(), small.end()}));
  const auto found = std::find(small.begin(), small.end(), near);
  return near.empty() ? std::string()
                      : "did you mean " + quoted(names[std::size_t(found - small.begin())]) + "?";
}

}  // namespace housepower::answers
