// SPDX-License-Identifier: Apache-2.0
// How an option is named and described, wherever it is shown.
#include <algorithm>

#include "command.hpp"
#include "housepower/reading/shape.hpp"
#include "housepower/units/phrases.hpp"

namespace housepower::cli {

bool is_positional(const Field& f) {
  return f.key == "files" || f.key == "file" || f.key == "name";
}

std::string option_name(const Field& f) {
  std::string name = "--" + std::string(f.key);
  std::replace(name.begin(), name.end(), '_', '-');
  return name;
}

std::string short_name(const Field& f) { return f.key == "output" ? "-o" : ""; }

namespace {

/// What stands behind an option that takes text, by its key; the field may say otherwise.
struct TextOption {
  std::string_view key, holds;
};
constexpr std::array text_options{TextOption{"set", "PATH=VALUE"},
                                  TextOption{"tables", "FOLDER"},
                                  TextOption{"output", "FILE"},
                                  TextOption{"place", "TOWN"},
                                  TextOption{"month", "MONTH"},
                                  TextOption{"weather", "FILE"},
                                  TextOption{"at", "LAT,LON,HEIGHT"},
                                  TextOption{"add", "NAME: POWER, HOURS, SUPPLY"},
                                  TextOption{"with", "NAME"},
                                  TextOption{"without", "NAME"},
                                  TextOption{"conductor", "SIZE"},
                                  TextOption{"ampacity_table", "TABLE"},
                                  TextOption{"terminals", "TEMPERATURE|none"},
                                  TextOption{"fuse", "TYPE CURRENT"},
                                  TextOption{"catalogue", "FILE"},
                                  TextOption{"built", "FILE"},
                                  TextOption{"keep", "NAME"},
                                  TextOption{"sort", "COLUMN"},
                                  TextOption{"where", "COLUMN=VALUE"},
                                  TextOption{"case", "CASE"},
                                  TextOption{"running", "NAME"},
                                  TextOption{"readings", "FILE"},
                                  TextOption{"serial", "SERIAL"},
                                  TextOption{"released_by", "NAME"},
                                  TextOption{"by", "NAME"},
                                  TextOption{"seal", "DIGEST"},
                                  TextOption{"build", "NAME=COUNT"},
                                  TextOption{"date", "DATE"},
                                  TextOption{"column", "HEADING=KEY"},
                                  TextOption{"columns", "KEY,KEY"},
                                  TextOption{"assembly", "NAME"},
                                  TextOption{"sheet", "NAME"},
                                  TextOption{"device", "TYPE"},
                                  TextOption{"delimiter", "comma|semicolon|tab"}};

/// "a temperature difference" as "TEMPERATURE-DIFFERENCE".
std::string in_capitals(std::string_view name) {
  std::string out;
  for (const char c : name.substr(name.find(' ') + 1))
    out += c == ' ' ? '-' : c >= 'a' && c <= 'z' ? char(c - 'a' + 'A') : c;
  return out;
}

}  // namespace

std::string value_name(const Field& f) {
  const Shape& shape = detail::innermost(*f.shape);
  if (!f.stands_for.empty()) return std::string(f.stands_for);
  switch (shape.form) {
  case Shape::Form::flag: return {};
  case Shape::Form::count:
  case Shape::Form::number: return "NUMBER";
  case Shape::Form::quantity:
    return shape.kind == Kind{} ? "SHARE" : in_capitals(name_of(shape.kind));
  case Shape::Form::word: return listed(shape.words, "|");
  default: break;
  }
  const auto known = std::find_if(text_options.begin(), text_options.end(),
                                  [&](const TextOption& one) { return one.key == f.key; });
  return known == text_options.end() ? "TEXT" : std::string(known->holds);
}

std::string description(const Field& f) {
  std::string text(f.says);
  if (!f.otherwise.empty()) text += " Default: " + std::string(f.otherwise) + ".";
  else if (!f.example.empty()) text += " For example \"" + std::string(f.example) + "\".";
  return text;
}

std::string_view purpose() {
  return "sizes the 12 V lithium house-power system of a touring caravan and checks its cables.";
}

std::string_view exit_codes() {
  return "0 nothing fails, 1 a check fails, 2 usage,\n3 the input is wrong, 4 a file cannot be "
         "read "
         "or written, 70 an internal error.";
}

}  // namespace housepower::cli
