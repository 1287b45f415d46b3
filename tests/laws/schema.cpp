// SPDX-License-Identifier: Apache-2.0
// The schema of the design file against its reader, on sound designs that were changed: what the reader
// takes the schema takes; what the schema takes the reader refuses only for what a schema cannot say:
// how large a quantity is that is written as text, and what stands elsewhere in the file.
#include <doctest/doctest.h>

#include <filesystem>
#include <random>

#include "checks/examples.hpp"
#include "housepower/reading/schema.hpp"
#include "support/json_schema.hpp"
#include "support/varied_design.hpp"

namespace laws_schema {
namespace {

using namespace examples;
using Json = nlohmann::json;

std::vector<Node> sound_designs() {
  std::vector<std::string> files;
  for (const auto& entry :
       std::filesystem::directory_iterator(HOUSEPOWER_SOURCE_DIR "/tests/hazards/sound"))
    files.push_back(entry.path().string());
  std::sort(files.begin(), files.end());
  std::vector<Node> all;
  for (const auto& file : files) {
    Diagnostics none;
    auto node = read_document(file, from_disk, none);
    REQUIRE(node);
    all.push_back(*std::move(node));
  }
  return all;
}

Json json_of(const Node& node) {
  struct Of {
    Json operator()(std::monostate) const { return nullptr; }
    Json operator()(bool value) const { return value; }
    Json operator()(std::int64_t value) const { return value; }
    Json operator()(double value) const { return value; }
    Json operator()(const std::string& value) const { return value; }
    Json operator()(const Node::List& list) const {
      Json out = Json::array();
      for (const Node& one : list) out.push_back(json_of(one));
      return out;
    }
    Json operator()(const Node::Table& table) const {
      Json out = Json::object();
      for (const auto& entry : table) out[entry.key] = json_of(entry.value);
      return out;
    }
  };
  return std::visit(Of{}, node.value);
}

/// Numbers that JSON does not have stand in no file of an editor that asks a schema.
bool is_json(const Node& node) {
  if (const auto* number = std::get_if<double>(&node.value)) return std::isfinite(*number);
  if (const auto* list = std::get_if<Node::List>(&node.value))
    return std::all_of(list->begin(), list->end(), is_json);
  if (const auto* table = std::get_if<Node::Table>(&node.value))
    return std::all_of(table->begin(), table->end(),
                       [](const auto& entry) { return is_json(entry.value); });
  return true;
}

/// Whether that path is of a quantity, a text or a number: what a schema may not be able to judge.
const Field* field_at(std::string_view path, FieldList list) {
  const Field* found = nullptr;
  while (!path.empty()) {
    const auto slash = path.find('/');
    const auto key = path.substr(0, slash);
    path = slash == path.npos ? std::string_view() : path.substr(slash + 1);
    for (const Field& f : list)
      if (f.role == Field::Role::member && f.key == key) {
        found = &f;
        const Shape& inner = f.shape->items ? *f.shape->items : *f.shape;
        if (inner.form == Shape::Form::table) list = inner.inner();
        break;
      }
  }
  return found;
}

struct Tally {
  int designs = 0, taken = 0, refused = 0, unsayable = 0;
};

void compare(const Node& design, const Json& schema, Tally& tally) {
  Diagnostics problems;
  const bool taken = design::document_of(design, problems).has_value();
  const std::string wrong = housepower::test::against(json_of(design), schema, schema);
  std::string told;
  for (const auto& d : problems.all) told += d.key + ": " + d.message + "\n";
  CAPTURE(told);
  CAPTURE(wrong);
  ++tally.designs;
  if (taken) CHECK(wrong.empty());
  tally.taken += int(taken);
  tally.refused += int(!wrong.empty());
  if (taken || !wrong.empty()) return;
  ++tally.unsayable;
  for (const auto& d : problems.all) {
    const Field* field = field_at(d.key, design::document_fields());
    CAPTURE(d.key);
    CAPTURE(d.message);
    REQUIRE(field);
    const Shape& inner = field->shape->items ? *field->shape->items : *field->shape;
    CHECK(inner.form == Shape::Form::quantity);
  }
}

}  // namespace

TEST_CASE("what the reader takes the schema takes, and what it takes but the reader refuses is a "
          "quantity beyond its limits") {
  const Json schema = Json::parse(
      json_schema(design::document_fields(), "housepower design file", SchemaOf::whole));
  const auto designs = sound_designs();
  std::mt19937_64 chance(20);
  Tally tally;
  for (int i = 0; i < 1500; ++i) {
    std::uint8_t bytes[24];
    for (auto& b : bytes) b = std::uint8_t(chance());
    housepower::test::Draws draws(bytes, 2 + std::size_t(chance() % 20));
    const Node& base = draws.one_of(designs);
    const Node varied = housepower::test::Varied(base, draws).with_changes(2);
    if (is_json(varied)) compare(varied, schema, tally);
  }
  MESSAGE(tally.designs << " designs: " << tally.taken << " taken by the reader, " << tally.refused
                        << " refused by the schema, " << tally.unsayable
                        << " refused by the reader alone");
  CHECK(tally.taken > 200);
  CHECK(tally.refused > 200);
}

}  // namespace laws_schema
