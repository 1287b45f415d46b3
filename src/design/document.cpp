// SPDX-License-Identifier: Apache-2.0
// The tree of a design file becomes a Document: each key checked against the field list.
#include "housepower/design/design.hpp"

namespace housepower::design {

Document::Document() = default;
Document::Document(const Document&) = default;
Document::Document(Document&&) noexcept = default;
Document& Document::operator=(const Document&) = default;
Document& Document::operator=(Document&&) noexcept = default;
Document::~Document() = default;
namespace {

bool is_known_schema(const Node& node, Diagnostics& diagnostics) {
  const Node* schema = node.at("schema");
  const auto* number = schema ? std::get_if<std::int64_t>(&schema->value) : nullptr;
  if (!number || *number == 1) return true;  // what is no number, the field list says
  diagnostics.error(schema->place, "schema",
                    "this program reads format 1, the file is of format " + std::to_string(*number),
                    *number > 1 ? "a later version of the program may read it"
                                : "write schema = 1");
  return false;
}

bool is_known_voltage(const Node& node, Voltage voltage, Diagnostics& diagnostics) {
  if (voltage == 12.0 * volt || voltage == 24.0 * volt || voltage == 0.0 * volt) return true;
  const Node* written = node.at("vehicle/system_voltage");
  diagnostics.error(written ? written->place : node.place, "vehicle/system_voltage",
                    "a house system is of 12 V or 24 V",
                    "the voltage of a single battery is bank/nominal_voltage");
  return false;
}

// Of a feed in a file; a cable by itself has one source for drops and another for faults.
bool feeds_rise(const Node& node, const Document& document, Diagnostics& diagnostics) {
  bool good = true;
  const auto falls = [&](std::size_t number, const std::string& key) {
    const SourceFeed& feed = document.feed[number];
    const Node* low = node.at("feed/" + std::to_string(number) + "/" + key + "/low");
    diagnostics.error(low ? low->place : feed.place, "feed/" + feed.name + "/" + key + "/low",
                      "is more than the high one", "exchange them");
    good = false;
  };
  for (std::size_t i = 0; i < document.feed.size(); ++i) {
    const auto& u = document.feed[i].voltage;
    const auto& r = document.feed[i].resistance;
    if (u && u->low.value_or(12.0 * volt) > u->high.value_or(15.0 * volt)) falls(i, "voltage");
    if (r && r->low && r->high && *r->low > *r->high) falls(i, "resistance");
  }
  return good;
}

}  // namespace

Node node_of(const Document& document) { return housepower::node_of(document_fields(), &document); }

MendedDocument mended_document_of(const Node& node) {
  MendedDocument mended;
  mended.document.place = node.place;
  Diagnostics unused;
  Reading reading{unused, {}, false, true};
  (void)read_table(node, document_fields(), &mended.document, reading);
  (void)say_unclear_decimals(reading);
  mended.broken = std::move(reading.broken);
  return mended;
}

std::optional<Document> document_of(const Node& node, Diagnostics& diagnostics) {
  if (!is_known_schema(node, diagnostics)) return std::nullopt;  // its keys may mean something else
  Document document;
  document.place = node.place;
  Reading reading{diagnostics};
  bool good = read_table(node, document_fields(), &document, reading);
  good = say_unclear_decimals(reading) && good;
  good = is_known_voltage(node, document.vehicle.system_voltage, diagnostics) && good;
  good = feeds_rise(node, document, diagnostics) && good;
  if (!good) return std::nullopt;
  return document;
}

}  // namespace housepower::design
