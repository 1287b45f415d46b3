// SPDX-License-Identifier: Apache-2.0
#include "loom_rows.hpp"

#include <algorithm>

#include "housepower/units/phrases.hpp"

namespace housepower::report {
namespace {

using range::Crossing;
using range::Loom;
using range::Wire;
using range::WireEnd;

std::string or_not_stated(const std::optional<std::string>& text) {
  return text.value_or("not stated");
}

template <class Value>
std::string figure_or_not_stated(const std::optional<Value>& value, std::string_view unit) {
  if (!value) return "not stated";
  return print_plain(in_unit(Number(*value), shown_unit(*unit_named(unit))), 4);
}

/// "class T 35 A at 0.05 m; isolator 275 A, place not stated": from where the wire begins.
std::string cut_for(const Wire& wire) {
  std::vector<std::string> texts;
  std::optional<Length> at = Length{};
  for (const range::Piece& piece : wire.pieces) {
    if (at && piece.length) *at += *piece.length;
    else at.reset();
    if (piece.last.on_the_way)
      texts.push_back(piece.last.place + (at ? " at " + print(*at) : ", place not stated"));
  }
  return listed(texts, "; ");
}

std::optional<std::string> cavities_text(const WireEnd& end) {
  if (end.cavities.empty()) return std::nullopt;
  std::vector<std::string> numbers;
  for (const int cavity : end.cavities) numbers.push_back(std::to_string(cavity));
  return listed(numbers);
}

/// "ring M6, strip 9 mm": of what goes straight into a device nothing is known.
std::string made_up(const WireEnd& end) {
  std::string text = or_not_stated(end.lug);
  if (end.strip) text += ", strip " + print_in(Number(*end.strip), *unit_named("mm"));
  if (end.die) text += ", die " + *end.die;
  if (end.torque) text += ", " + print(Number(*end.torque));
  return text;
}

/// Keys and titles of the columns of one end.
struct EndWords {
  std::string_view keys[9], titles[9];
};
constexpr EndWords at_first{{"from_place", "from_connector", "from_cavity", "from_stud", "from_lug",
                             "from_strip_mm", "from_die", "from_torque_Nm", "from_in_loom"},
                            {"from place", "from connector", "from cavity", "from stud", "from lug",
                             "from strip", "from die", "from torque", "from in loom"}};
constexpr EndWords at_last{{"to_place", "to_connector", "to_cavity", "to_stud", "to_lug",
                            "to_strip_mm", "to_die", "to_torque_Nm", "to_in_loom"},
                           {"to place", "to connector", "to cavity", "to stud", "to lug",
                            "to strip", "to die", "to torque", "to in loom"}};

template <WireEnd range::Piece::*End> Columns<PieceRow> end_columns_of(const EndWords& w) {
  using Row = PieceRow;
  return {
      {w.keys[0], w.titles[0], [](const Row& r) { return (r.piece.*End).place; }},
      {w.keys[1], w.titles[1], [](const Row& r) { return (r.piece.*End).connector; }},
      {w.keys[2], w.titles[2], [](const Row& r) { return cavities_text(r.piece.*End); }},
      {w.keys[3], w.titles[3], [](const Row& r) { return (r.piece.*End).stud; }},
      {w.keys[4], w.titles[4], [](const Row& r) { return (r.piece.*End).lug; }},
      {w.keys[5], w.titles[5], "mm", [](const Row& r) { return (r.piece.*End).strip; }},
      {w.keys[6], w.titles[6], [](const Row& r) { return (r.piece.*End).die; }},
      {w.keys[7], w.titles[7], "N·m", [](const Row& r) { return (r.piece.*End).torque; }},
      {w.keys[8], w.titles[8], [](const Row& r) { return (r.piece.*End).in_loom; }},
  };
}

}  // namespace

std::string place_of(const WireEnd& end) {
  const auto cavities = cavities_text(end);
  return cavities ? end.place + " cavity " + *cavities : end.place;
}

std::vector<WireRow> wire_rows(const std::string& assembly, const std::vector<Wire>& wires) {
  std::vector<WireRow> rows;
  for (const Wire& wire : wires) rows.push_back({assembly, wire});
  return rows;
}

const Columns<WireRow>& wire_columns() {
  using Row = WireRow;
  using Its = ColumnOf<Row>;
  static const Columns<WireRow> columns{
      {"assembly", "assembly", &Row::assembly},
      Its("label", "label", [](const Row& r) { return r.wire.label; }).in(1),
      {"run", "run", [](const Row& r) { return r.wire.run; }},
      Its("conductor", "conductor", [](const Row& r) { return size_of(r.wire.conductor); }).in(1),
      Its("colour", "colour", [](const Row& r) { return r.wire.colour; }).in(1),
      Its("length_m", "length", "m", [](const Row& r) { return r.wire.length; })
          .told("length", [](const Row& r) { return figure_or_not_stated(r.wire.length, "m"); })
          .in(1),
      Its("to_cut_m", "to cut", "m", [](const Row& r) { return r.wire.to_cut; })
          .told("to cut", [](const Row& r) { return figure_or_not_stated(r.wire.to_cut, "m"); })
          .in(1),
      Its("pieces", "pieces", [](const Row& r) { return int(r.wire.pieces.size()); }).in(1),
      Its("from", "from", [](const Row& r) { return place_of(r.wire.first); }).in(1),
      Its("to", "to", [](const Row& r) { return place_of(r.wire.last); }).in(1),
      Its("cut_for", "cut for", [](const Row& r) { return cut_for(r.wire); }).in(1)};
  return columns;
}

std::vector<PieceRow> piece_rows(const std::string& assembly, const std::vector<Wire>& wires) {
  std::vector<PieceRow> rows;
  for (const Wire& wire : wires)
    for (const range::Piece& piece : wire.pieces) rows.push_back({assembly, wire.label, piece});
  return rows;
}

const Columns<PieceRow>& piece_columns() {
  using Row = PieceRow;
  using Its = ColumnOf<Row>;
  static const Columns<PieceRow> columns =
      Columns<PieceRow>{{"assembly", "assembly", &Row::assembly},
                        Its("label", "label", &Row::label).in(1),
                        {"length_m", "length", "m", [](const Row& r) { return r.piece.length; }}} +
      end_columns_of<&range::Piece::first>(at_first) +
      end_columns_of<&range::Piece::last>(at_last) +
      Columns<PieceRow>{
          Its("from", "from", [](const Row& r) { return place_of(r.piece.first); }).in(1),
          Its("made_up_from", "with", [](const Row& r) { return made_up(r.piece.first); }).in(1),
          Its("to", "to", [](const Row& r) { return place_of(r.piece.last); }).in(1),
          Its("made_up_to", "with", [](const Row& r) { return made_up(r.piece.last); }).in(1)};
  return columns;
}

std::vector<CavityRow> cavity_rows(const Loom& loom) {
  std::vector<CavityRow> rows;
  for (const auto& half : loom.connectors)
    for (int cavity = 1; cavity <= half.cavities; ++cavity) {
      CavityRow row{loom.assembly, half.connector, half.mate, cavity};
      for (const Wire& wire : loom.wires)
        for (const WireEnd* end : {&wire.first, &wire.last})
          if (end->connector == half.connector &&
              std::find(end->cavities.begin(), end->cavities.end(), cavity) !=
                  end->cavities.end()) {
            row.label = row.label ? *row.label + ", " + wire.label : wire.label;
            row.conductor = size_of(wire.conductor);
            row.contact = half.contact;
          }
      rows.push_back(std::move(row));
    }
  return rows;
}

const Columns<CavityRow>& cavity_columns() {
  static const Columns<CavityRow> columns{
      {"assembly", "assembly", &CavityRow::assembly},
      ColumnOf<CavityRow>{"connector", "connector", &CavityRow::connector}.in(1),
      ColumnOf<CavityRow>{"mate", "mates with", &CavityRow::mate}.in(1),
      ColumnOf<CavityRow>{"cavity", "cavity", &CavityRow::cavity}.in(1),
      ColumnOf<CavityRow>{"label", "wire", &CavityRow::label}
          .told("wire", [](const CavityRow& r) { return r.label.value_or("empty"); })
          .in(1),
      ColumnOf<CavityRow>{"conductor", "conductor", &CavityRow::conductor}.in(1),
      ColumnOf<CavityRow>{"contact", "contact", &CavityRow::contact}
          .told(
              "contact",
              [](const CavityRow& r) { return r.label ? or_not_stated(r.contact) : std::string(); })
          .in(1)};
  return columns;
}

const Columns<Crossing>& crossing_columns() {
  static const Columns<Crossing> columns{{"label", "label", &Crossing::label},
                                         {"run", "run", &Crossing::run},
                                         {"from", "from", &Crossing::from},
                                         {"to", "to", &Crossing::to},
                                         {"outgoing", "outgoing", &Crossing::outgoing},
                                         {"return", "return", &Crossing::back}};
  return columns;
}

}  // namespace housepower::report
