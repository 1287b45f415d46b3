// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/record.hpp"

#include "answer_shapes.hpp"
#include "housepower/units/phrases.hpp"
#include "json.hpp"
#include "pieces.hpp"
#include "record_parts.hpp"

namespace housepower::report {
namespace {

using answers::Record;
using answers::RecordEntry;

/// What an entry says; texts that it holds are counted, not shown.
std::vector<std::vector<std::string>> shown_lines(const RecordEntry& e) {
  std::vector<std::vector<std::string>> rows;
  std::size_t inside = 0;
  const auto close = [&] {
    if (inside > 0) rows.push_back({"  (" + std::to_string(inside) + " lines)"});
    inside = 0;
  };
  for (const auto& line : e.lines) {
    if (line.starts_with("  ")) {
      ++inside;
      continue;
    }
    close();
    rows.push_back({line});
  }
  close();
  return rows;
}

/// What is fitted beyond the design.
std::vector<Paragraph> fitted_in_words(const answers::Fitted& fitted) {
  std::vector<Paragraph> all;
  if (!fitted.options.empty()) all.push_back({"Options: " + listed(fitted.options) + "."});
  return all;
}

}  // namespace

TableBlock parts_table(const std::vector<answers::Fitted::Part>& parts, std::string title) {
  TableBlock table{std::move(title), {"part", "serial"}, {false, false}, {}};
  for (const auto& part : parts) table.rows.push_back({part.path, part.serial});
  return table;
}

Json parts_list(const std::vector<answers::Fitted::Part>& parts) {
  Json list = Json::array();
  for (const auto& part : parts) list.push_back({{"path", part.path}, {"serial", part.serial}});
  return list;
}
Json part_shape() { return is::object({{"path", is::text()}, {"serial", is::text()}}); }

Page record_page(const Record& record, bool every_entry) {
  Page page{"The van's record", {}};
  page.blocks.emplace_back(
      record.broken
          ? VerdictLine{checks::Verdict::fail, "not intact: " + place_text(record.broken->place) +
                                                   ": " + record.broken->message}
          : VerdictLine{checks::Verdict::pass,
                        "intact, " + std::to_string(record.entries.size()) + " entries"});
  for (std::size_t i = 0; every_entry && i < record.entries.size(); ++i) {
    const RecordEntry& e = record.entries[i];
    TableBlock table{
        std::to_string(i + 1) + ". " + e.what + ", " + e.at + ", " + e.by, {""}, {}, {}};
    table.numbers = {false};
    table.rows = shown_lines(e);
    if (!table.rows.empty()) page.blocks.emplace_back(std::move(table));
    else page.blocks.emplace_back(Paragraph{table.title});
  }
  const auto van = answers::van_of(record);
  for (auto& line : fitted_in_words(van.fitted)) page.blocks.emplace_back(std::move(line));
  if (!van.fitted.parts.empty())
    page.blocks.emplace_back(parts_table(van.fitted.parts, "Parts by their serials"));
  if (!record.entries.empty()) page.blocks.emplace_back(Paragraph{"Seal: " + record.seal()});
  return page;
}

namespace {
Json record_object(const Record& record) {
  Json json = head();
  json["entries"] = Json::array();
  for (const RecordEntry& e : record.entries)
    json["entries"].push_back({{"at", e.at},
                               {"by", e.by},
                               {"what", e.what},
                               {"lines", e.lines},
                               {"digest", e.digest},
                               {"before", e.before}});
  json["intact"] = !record.broken.has_value();
  json["seal"] = record.seal();
  const auto van = answers::van_of(record);
  json["options"] = van.fitted.options;
  json["parts"] = parts_list(van.fitted.parts);
  if (record.broken)
    json["broken"] = {{"line", record.broken->place.line}, {"message", record.broken->message}};
  return json;
}
}  // namespace

std::string record_json(const answers::Record& record) { return dump(record_object(record)); }
std::string written_record_json(const answers::Record& record, const std::string& text) {
  Json json = record_object(record);
  json["text"] = text;
  return dump(json);
}

JsonKeys record_answer() {
  const Json entry = is::object({{"at", is::text()},
                                 {"by", is::text()},
                                 {"what", is::text()},
                                 {"lines", is::list(is::text())},
                                 {"digest", is::text()},
                                 {"before", is::text()}});
  const Json broken = is::object({{"line", is::whole()}, {"message", is::text()}});
  return JsonKeys{{"entries", is::list(entry)},
                  {"intact", is::flag()},
                  {"seal", is::text()},
                  {"options", is::list(is::text())},
                  {"parts", is::list(part_shape())}} +
         sometimes({{"broken", broken}, {"text", is::text()}});
}

namespace {

/// What else keeps it from a pass.
std::string built_in_words(const answers::VanAgainstDesign& a) {
  std::string text;
  if (a.when_built != checks::Verdict::pass)
    text += "; the design it was built to is itself a " + std::string(word_of(a.when_built));
  if (!a.not_built.empty())
    text += "; not in the van, so judged as the design has it: run " + listed(a.not_built);
  if (!a.left_out.empty())
    text += "; in the van and not in the design, so not judged: run " + listed(a.left_out);
  if (!a.no_place.empty())
    text += "; " + std::to_string(a.no_place.size()) +
            (a.no_place.size() == 1 ? " part of the van has" : " parts of the van have") +
            " no place in the design";
  return text;
}

}  // namespace

Page against_page(const answers::VanAgainstDesign& a) {
  Page page{a.van.van + " " + a.van.serial + " under " + a.design_file, {}};
  const std::string count = std::to_string(a.findings.size());
  page.blocks.emplace_back(VerdictLine{
      a.verdict,
      !a.why_not.empty()   ? "what was built does not fit what the design asks: " + a.why_not
      : a.findings.empty() ? "nothing is worse than when the van was built" + built_in_words(a)
                           : count + (a.findings.size() == 1 ? " finding" : " findings") +
                                 " that it did not have when it was built" + built_in_words(a)});
  if (!a.findings.empty()) page.blocks.emplace_back(judgements(a.findings));
  if (!a.no_place.empty())
    page.blocks.emplace_back(parts_table(a.no_place, "Parts fitted that the design does not have"));
  for (const auto& one : a.renamed)
    page.blocks.emplace_back(Paragraph{"Run " + housepower::quoted(one.now) + " was built as " +
                                       housepower::quoted(one.built) +
                                       ", between the same ends: judged as it was built."});
  TableBlock table{"What differs between the design and the van",
                   {"path", "built", "design now"},
                   {false, false, false},
                   {}};
  for (const auto& d : a.differences)
    table.rows.push_back({d.path, d.built.empty() ? "–" : d.built, d.now.empty() ? "–" : d.now});
  if (table.rows.empty())
    page.blocks.emplace_back(Paragraph{"The design is still the one that the van was built to."});
  else page.blocks.emplace_back(std::move(table));
  page.blocks.emplace_back(
      Paragraph{"Checked: copper, devices and equipment as built, against what the design asks of "
                "them now: appliances, cases, place, promise and rules."});
  return page;
}

std::string against_json(const answers::VanAgainstDesign& a) {
  Json json = head();
  json["serial"] = a.van.serial;
  json["built_by"] = {{"file", a.van.design_file}, {"digest", a.van.design_digest}};
  json["design"] = a.design_file;
  json["verdict"] = std::string(word_of(a.verdict));
  json["why_not"] = a.why_not;
  json["when_built"] = std::string(word_of(a.when_built));
  json["not_built"] = a.not_built;
  json["left_out"] = a.left_out;
  json["renamed"] = Json::array();
  for (const auto& one : a.renamed)
    json["renamed"].push_back({{"built", one.built}, {"now", one.now}});
  json["parts_not_in_design"] = parts_list(a.no_place);
  json["differences"] = Json::array();
  for (const auto& d : a.differences)
    json["differences"].push_back({{"path", d.path}, {"built", d.built}, {"now", d.now}});
  json["findings"] = findings_json(a.findings);
  return dump(json);
}

JsonKeys against_answer() {
  const Json text = is::text();
  const Json difference = is::object({{"path", text}, {"built", text}, {"now", text}});
  return {{"serial", text},
          {"built_by", is::object({{"file", text}, {"digest", text}})},
          {"design", text},
          {"verdict", verdict_shape()},
          {"why_not", text},
          {"when_built", verdict_shape()},
          {"not_built", is::list(text)},
          {"left_out", is::list(text)},
          {"renamed", is::list(is::object({{"built", text}, {"now", text}}))},
          {"parts_not_in_design", is::list(part_shape())},
          {"differences", is::list(difference)},
          {"findings", is::list(is::a("finding"))}};
}

}  // namespace housepower::report
