// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/looms.hpp"

#include <algorithm>

#include "answer_shapes.hpp"
#include "housepower/page/csv.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/version.hpp"
#include "json.hpp"
#include "loom_rows.hpp"
#include "pieces.hpp"

namespace housepower::report {
namespace {

using range::Crossing;
using range::Loom;
using range::Wire;
using range::WireEnd;

std::vector<const Loom*> shown(const LoomSheets& sheets) {
  std::vector<const Loom*> all;
  for (const Loom& loom : sheets.looms.looms)
    if (!sheets.only || *sheets.only == loom.assembly) all.push_back(&loom);
  return all;
}

std::string stations_of(const Loom& loom) {
  return "Made at: " + loom.station.value_or("not stated") +
         ". Fitted at: " + loom.fitted_at.value_or("not stated") + ".";
}

void add_wires(Page& page, const std::string& title, const std::vector<Wire>& wires) {
  page.blocks.emplace_back(table_of(title + ": wires to cut",
                                    row_table("wires", title, wire_columns(), wire_rows("", wires)),
                                    1));
  page.blocks.emplace_back(
      table_of(title + ": their ends",
               row_table("pieces", title, piece_columns(), piece_rows("", wires)), 1));
}

/// A large loom gets a sheet of its own, so that its words can be read at the bench.
constexpr std::size_t wires_beside_text = 12;

void add_loom(Page& page, const Loom& loom, std::size_t number) {
  page.blocks.emplace_back(Heading{"Loom of " + loom.assembly, number > 1});
  page.blocks.emplace_back(Paragraph{stations_of(loom)});
  if (loom.wires.empty()) {
    page.blocks.emplace_back(Paragraph{"No wire is built into it."});
    return;
  }
  add_wires(page, loom.assembly, loom.wires);
  if (!loom.connectors.empty())
    page.blocks.emplace_back(
        table_of(loom.assembly + ": its connectors",
                 row_table("cavities", "", cavity_columns(), cavity_rows(loom)), 1));
  page.blocks.emplace_back(
      Figure{loom.assembly + ": the loom, not to scale",
             "Places and the wires that lead to them, from where most end.",
             loom_drawing(loom, "loom-" + std::to_string(number), SvgFor::page),
             {},
             loom.wires.size() > wires_beside_text ? "A4" : ""});
}

void add_on_line(Page& page, const LoomSheets& sheets) {
  page.blocks.emplace_back(Heading{"On the line", true});
  const auto& crossings = sheets.looms.crossings;
  page.blocks.emplace_back(
      crossings.empty()
          ? Block{Paragraph{"No run passes from one assembly to another without a connector."}}
          : Block{table_of("Joined on the line: these pass from one assembly to another without a "
                           "connector",
                           crossing_columns(), crossings)});
  if (!sheets.looms.on_line.empty()) add_wires(page, "on the line", sheets.looms.on_line);
}

std::vector<RowTable> lists_of(const LoomSheets& sheets) {
  std::vector<WireRow> wires;
  std::vector<PieceRow> pieces;
  std::vector<CavityRow> cavities;
  const auto add = [](auto& to, auto more) {
    for (auto& row : more) to.push_back(std::move(row));
  };
  for (const Loom* loom : shown(sheets)) {
    add(wires, wire_rows(loom->assembly, loom->wires));
    add(pieces, piece_rows(loom->assembly, loom->wires));
    add(cavities, cavity_rows(*loom));
  }
  if (!sheets.only) {
    add(wires, wire_rows("", sheets.looms.on_line));
    add(pieces, piece_rows("", sheets.looms.on_line));
  }
  std::vector<RowTable> lists{
      row_table("wires", "Wires", wire_columns(), std::move(wires)),
      row_table("pieces", "Pieces and their ends", piece_columns(), std::move(pieces)),
      row_table("cavities", "Cavities", cavity_columns(), std::move(cavities))};
  if (!sheets.only)
    lists.push_back(
        row_table("crossings", "Joined on the line", crossing_columns(), sheets.looms.crossings));
  return lists;
}

template <class Value> Json in_unit_or_null(const std::optional<Value>& value, const char* unit) {
  return value ? Json(in_unit(Number(*value), *unit_named(unit))) : Json();
}

template <class Value> Json or_null(const std::optional<Value>& value) {
  return value ? Json(*value) : Json();
}

Json end_json(const WireEnd& end) {
  Json json = Json::object();
  json["place"] = end.place;
  json["connector"] = or_null(end.connector);
  json["cavity"] = end.cavities.empty() ? Json() : Json(end.cavities.front());
  json["cavities"] = end.cavities;
  json["stud"] = or_null(end.stud);
  json["lug"] = or_null(end.lug);
  json["strip_mm"] = in_unit_or_null(end.strip, "mm");
  json["die"] = or_null(end.die);
  json["torque_Nm"] = in_unit_or_null(end.torque, "Nm");
  json["in_loom"] = end.in_loom;
  return json;
}

Json wire_json(const Wire& wire) {
  Json json = Json::object();
  json["label"] = wire.label;
  json["run"] = wire.run;
  json["conductor"] = wire.conductor ? Json(wire.conductor->name) : Json();
  json["colour"] = wire.colour;
  json["length_m"] = in_unit_or_null(wire.length, "m");
  json["to_cut_m"] = in_unit_or_null(wire.to_cut, "m");
  json["ends"] = Json::array({end_json(wire.first), end_json(wire.last)});
  json["pieces"] = Json::array();
  for (const range::Piece& piece : wire.pieces) {
    Json one = Json::object();
    one["length_m"] = in_unit_or_null(piece.length, "m");
    one["ends"] = Json::array({end_json(piece.first), end_json(piece.last)});
    json["pieces"].push_back(std::move(one));
  }
  return json;
}

Json wires_json(const std::vector<Wire>& wires) {
  Json list = Json::array();
  for (const Wire& wire : wires) list.push_back(wire_json(wire));
  return list;
}

Json loom_json(const Loom& loom) {
  Json json = Json::object();
  json["assembly"] = loom.assembly;
  json["station"] = or_null(loom.station);
  json["fitted_at"] = or_null(loom.fitted_at);
  json["wires"] = wires_json(loom.wires);
  json["connectors"] = Json::array();
  for (const auto& half : loom.connectors) {
    Json one = Json::object();
    one["name"] = half.connector;
    one["cavities"] = half.cavities;
    one["mate"] = half.mate;
    one["contact"] = or_null(half.contact);
    json["connectors"].push_back(std::move(one));
  }
  json["cavities"] = rows_json(cavity_columns(), cavity_rows(loom));
  return json;
}

/// "Drawing E-0417, revision B, 2026-03-14, drawn by …": what is stated of it.
std::string frame_of(const design::Drawing& drawing) {
  std::vector<std::string> texts;
  const auto add = [&](const char* name, const std::optional<std::string>& text) {
    if (text) texts.push_back(name + *text);
  };
  add("drawing ", drawing.number);
  add("revision ", drawing.revision);
  add("", drawing.date);
  add("drawn by ", drawing.drawn_by);
  add("checked by ", drawing.checked_by);
  return listed(texts);
}

std::vector<std::string> runs_of(const std::vector<Crossing>& crossings) {
  std::vector<std::string> runs;
  for (const Crossing& c : crossings) runs.push_back(c.run);
  return runs;
}

}  // namespace

Page looms_page(const LoomSheets& sheets) {
  const auto& design = sheets.model.of.design;
  Page page{design->name + ": looms", {}};
  if (std::string frame = frame_of(design->drawing); !frame.empty())
    page.blocks.emplace_back(Paragraph{std::move(frame)});
  page.blocks.emplace_back(Paragraph{standing_of(sheets.model)});
  if (sheets.looms.looms.empty())
    page.blocks.emplace_back(
        Paragraph{"The design names no [[assembly]]: everything is wired on the line."});
  std::size_t number = 0;
  for (const Loom* loom : shown(sheets)) add_loom(page, *loom, ++number);
  if (!sheets.only) add_on_line(page, sheets);
  return page;
}

std::string looms_json(const LoomSheets& sheets) {
  Json json = head();
  json["design"] = design_object(sheets.model.of);
  add_verdicts(json, sheets.model.of.checked.verdicts);
  json["looms"] = Json::array();
  for (const Loom* loom : shown(sheets)) json["looms"].push_back(loom_json(*loom));
  if (!sheets.only) {
    json["crossings"] = runs_of(sheets.looms.crossings);
    json["crossing_runs"] = rows_json(crossing_columns(), sheets.looms.crossings);
    json["on_line"] = wires_json(sheets.looms.on_line);
  }
  return dump(json);
}

namespace {

Json wire_end_shape() {
  const Json text = is::or_null(is::text()), number = is::or_null(is::number());
  return is::object({{"place", is::text()},
                     {"connector", text},
                     {"cavity", is::or_null(is::whole())},
                     {"cavities", is::list(is::whole())},
                     {"stud", text},
                     {"lug", text},
                     {"strip_mm", number},
                     {"die", text},
                     {"torque_Nm", number},
                     {"in_loom", is::flag()}});
}
Json wire_shape() {
  const Json number = is::or_null(is::number()), ends = is::list(wire_end_shape());
  const Json piece = is::object({{"length_m", number}, {"ends", ends}});
  return is::object({{"label", is::text()},
                     {"run", is::text()},
                     {"conductor", is::or_null(is::text())},
                     {"colour", is::text()},
                     {"length_m", number},
                     {"to_cut_m", number},
                     {"ends", ends},
                     {"pieces", is::list(piece)}});
}
Json loom_shape() {
  const Json connector = is::object({{"name", is::text()},
                                     {"cavities", is::whole()},
                                     {"mate", is::text()},
                                     {"contact", is::or_null(is::text())}});
  return is::object({{"assembly", is::text()},
                     {"station", is::or_null(is::text())},
                     {"fitted_at", is::or_null(is::text())},
                     {"wires", is::list(wire_shape())},
                     {"connectors", is::list(connector)},
                     {"cavities", is::rows(cavity_columns())}});
}

}  // namespace

JsonKeys looms_answer() {
  return JsonKeys{{"design", is::object(design_keys())}} + verdict_keys() +
         JsonKeys{{"looms", is::list(loom_shape())}} +
         sometimes({{"crossings", is::list(is::text())},
                    {"crossing_runs", is::rows(crossing_columns())},
                    {"on_line", is::list(wire_shape())}});
}

std::string looms_csv(const LoomSheets& sheets) { return csv(lists_of(sheets), "list"); }

Workbook looms_workbook(const LoomSheets& sheets) {
  const CheckedDesign& c = sheets.model.of;
  Workbook book;
  book.title = c.design->name;
  book.facts = {{"design", c.design->name},
                {"file", c.design->file},
                {"inputs", c.inputs_digest},
                {"verdict", verdicts_of(c.checked)},
                {"standing", standing_of(sheets.model)},
                {"assemblies", sheets.only.value_or("all")},
                {"made by", "housepower " + std::string(version())},
                {"safety", std::string(safety_note())}};
  book.sheets = lists_of(sheets);
  return book;
}

}  // namespace housepower::report
