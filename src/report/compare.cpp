// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/compare.hpp"

#include "answer_shapes.hpp"
#include "json.hpp"
#include "pieces.hpp"

namespace housepower::report {
namespace {

using checks::Finding;
using range::Change;
using range::FindingChange;
using range::text_of;
using Changes = std::vector<Change>;

constexpr std::size_t most_shown = 5;  // of new fails in full, and twice as many runs

/// Path, before, after and change as texts: of any part.
struct ChangeRow {
  std::string change, path, before, after, limit;
};

std::string measured_text(const Finding* f) {
  if (!f) return "";
  std::string text(word_of(f->verdict));
  if (f->measured) text += ", " + text_of(*f->measured, f->unit);
  return text;
}

/// "at most 0.8 V"; "at most 35 A → 50 A" where the limit changed too.
std::string limit_text(const FindingChange& c) {
  const Finding& f = c.after ? *c.after : *c.before;
  if (!f.limit || !f.measured) return "";
  const std::string limit = text_of(*f.limit, f.unit);
  std::string was;  // in its own unit: a rule may judge by another figure where more is stated
  if (c.before && c.after && c.before->limit && c.before->measured)
    was = text_of(*c.before->limit, c.before->unit);
  return std::string(word_of(f.bound)) + " " + (was.empty() || was == limit ? "" : was + " → ") +
         limit;
}

std::vector<ChangeRow> finding_change_rows(const std::vector<FindingChange>& changes) {
  std::vector<ChangeRow> rows;
  for (const auto& c : changes) {
    const Finding& f = c.after ? *c.after : *c.before;
    rows.push_back({std::string(word_of(c.way)), std::string(f.rule) + ": " + f.subject.text(),
                    measured_text(c.before), measured_text(c.after), limit_text(c)});
  }
  return rows;
}

/// By how much of what it was: "+12 %"; empty where that says nothing.
std::string by_share(const Change& c) {
  const auto *x = std::get_if<Number>(&c.before), *y = std::get_if<Number>(&c.after);
  if (!x || !y || x->kind == Kind{} || !(x->si > 0.0)) return "";
  const double percent = 100.0 * (y->si - x->si) / x->si;
  return (percent > 0.0 ? "+" : "") + print_plain(percent, 2) + " %";
}

std::vector<ChangeRow> result_rows(const Changes& changes) {
  std::vector<ChangeRow> rows;
  for (const Change& c : changes)
    rows.push_back({by_share(c), c.title, text_of(c.before, c.unit), text_of(c.after, c.unit), ""});
  return rows;
}
std::vector<ChangeRow> run_change_rows(const Changes& changes) {
  std::vector<ChangeRow> rows;
  for (const Change& c : changes)
    if (rows.size() < 2 * most_shown)
      rows.push_back(
          {by_share(c), c.path, text_of(c.before, c.unit), text_of(c.after, c.unit), ""});
  return rows;
}
std::vector<ChangeRow> design_rows(const Changes& changes) {
  std::vector<ChangeRow> rows;
  for (const Change& c : changes)
    rows.push_back({std::string(c.change), c.path, text_of(c.before), text_of(c.after), ""});
  return rows;
}

TableBlock table(std::string title, const char* what, bool limits,
                 const std::vector<ChangeRow>& rows) {
  Columns<ChangeRow> columns{{"path", what, &ChangeRow::path},
                             {"before", "before", &ChangeRow::before},
                             {"after", "after", &ChangeRow::after}};
  if (limits) columns += {{"limit", "limit", &ChangeRow::limit}};
  const Columns<ChangeRow> change{{"change", "change", &ChangeRow::change}};
  const bool leads = limits || std::string_view(what) == "key";
  columns = leads ? change + columns : columns + change;
  return table_of(std::move(title), columns, rows);
}

std::string title_of_change(const CompareReport& r) {
  const std::string a = r.before.design->name, b = r.after.design->name;
  const std::string was = verdicts_of(r.before.checked), is = verdicts_of(r.after.checked);
  return (a == b ? a + ", changed" : a + " → " + b) + ": " + was +
         (was == is ? ", as before" : " → " + is);
}

std::size_t new_fails(const CompareReport& r, JudgementsBlock& block) {
  std::size_t count = 0;
  for (const auto& c : r.changes.findings) {
    if (!c.after || c.after->verdict != checks::Verdict::fail ||
        (c.way != FindingChange::Way::newly && c.way != FindingChange::Way::worse))
      continue;
    if (++count <= most_shown) block.judgements.push_back(judgement(*c.after));
  }
  return count;
}

Json value_json(const Change::Value& value, std::string_view unit) {
  struct Say {
    std::string_view unit;
    Json operator()(std::monostate) const { return {}; }
    Json operator()(const std::string& text) const { return text; }
    Json operator()(const Number& n) const {
      return in_unit(n, unit.empty() ? plain_unit(n.kind) : *unit_named(unit));
    }
    Json operator()(double n) const { return n; }
    Json operator()(bool flag) const { return flag; }
  };
  return std::visit(Say{unit}, value);
}

Json unit_of_change(const Change& c) {
  for (const auto* value : {&c.after, &c.before})
    if (const auto* number = std::get_if<Number>(value))
      return c.unit.empty() ? Json(plain_symbol(number->kind)) : Json(c.unit);
  return {};
}

void append_changes(Json& list, const char* part, const Changes& changes) {
  for (const Change& c : changes)
    list.push_back({{"part", part},
                    {"path", c.path},
                    {"before", value_json(c.before, c.unit)},
                    {"after", value_json(c.after, c.unit)},
                    {"change", c.change},
                    {"unit", unit_of_change(c)}});
}

Json side_of(const Finding* f) {
  if (!f) return {};
  const Json whole = json_of(*f);
  Json side = Json::object();
  for (const char* key : {"verdict", "measured", "limit", "unit", "margin", "case", "message"})
    side[key] = whole[key];
  return side;
}

Json finding_row(const FindingChange& c) {
  const Finding& f = c.after ? *c.after : *c.before;
  const Json judged = json_of(f);
  const auto measured = [](const Finding* side) {
    return side ? json_of(*side)["measured"] : Json();
  };
  return {{"part", "finding"},
          {"path", f.subject.text()},
          {"before", measured(c.before)},
          {"after", measured(c.after)},
          {"change", word_of(c.way)},
          {"unit", judged["unit"]},
          {"rule", f.rule},
          {"was", side_of(c.before)},
          {"is", side_of(c.after)}};
}

Json design_and_verdict(const CheckedDesign& c) {
  Json json = design_object(c);
  add_verdicts(json, c.checked.verdicts);
  return json;
}

}  // namespace

Page compare_page(const CompareReport& r) {
  Page page{title_of_change(r), {}};
  const auto say = [&](std::string text) { page.blocks.emplace_back(Paragraph{std::move(text)}); };
  const auto& c = r.changes;
  if (c.findings.empty() && c.results.empty() && c.runs.empty() && c.design.empty()) {
    say("No difference.");
    return page;
  }
  JudgementsBlock fails;
  const std::size_t failing = new_fails(r, fails);
  if (failing > 0)
    page.blocks.emplace_back(Heading{"Fails now but did not before: " + std::to_string(failing)});
  page.blocks.emplace_back(std::move(fails));
  page.blocks.emplace_back(
      table("Findings that changed", "finding", true, finding_change_rows(c.findings)));
  page.blocks.emplace_back(table("Results that changed", "result", false, result_rows(c.results)));
  page.blocks.emplace_back(
      table("Runs whose current or drop changed", "run", false, run_change_rows(c.runs)));
  page.blocks.emplace_back(table("The design", "key", false, design_rows(c.design)));
  if (c.runs.size() > 2 * most_shown)
    say(std::to_string(c.runs.size() - 2 * most_shown) + " more changes of runs: --format json.");
  if (c.design.empty()) say("Both files mean the same.");
  if (c.findings.empty()) say("No finding changed.");
  say("Shown are results that change by more than " + print(Number(range::telling_result)) +
      ", currents of runs by more than " + print(Number(range::telling_current)) +
      ", drops along runs by more than " + print(Number(range::telling_drop)) +
      " of the nominal voltage, margins by " + print(Number(range::telling_margin)) +
      " of the limit where less than " + print(Number(range::ample_margin)) + " is left.");
  return page;
}

std::string compare_json(const CompareReport& r) {
  Json json = head();
  json["before"] = design_and_verdict(r.before);
  json["after"] = design_and_verdict(r.after);
  json["newly_fails"] = r.changes.newly_fails;
  Json& list = json["changes"] = Json::array();
  for (const auto& c : r.changes.findings) list.push_back(finding_row(c));
  append_changes(list, "result", r.changes.results);
  append_changes(list, "result", r.changes.runs);
  append_changes(list, "design", r.changes.design);
  return dump(json);
}

JsonKeys compare_answer() {
  using Way = FindingChange::Way;
  constexpr std::string_view parts[] = {"result", "design"}, finding[] = {"finding"},
                             ways[] = {"changed", "added", "removed", "higher", "lower"};
  const Json side = is::or_null(is::object({{"verdict", verdict_shape()},
                                            {"measured", is::or_null(is::number())},
                                            {"limit", is::or_null(is::number())},
                                            {"unit", is::or_null(is::text())},
                                            {"margin", is::or_null(is::number())},
                                            {"case", is::text()},
                                            {"message", is::text()}}));
  const Json of_finding =
      is::object({{"part", is::words(finding)},
                  {"path", is::text()},
                  {"before", is::or_null(is::number())},
                  {"after", is::or_null(is::number())},
                  {"change", words_of({Way::newly, Way::worse, Way::less_margin, Way::more_margin,
                                       Way::better, Way::gone})},
                  {"unit", is::or_null(is::text())},
                  {"rule", is::text()},
                  {"was", side},
                  {"is", side}});
  const Json value = is::or_null(is::any_of({is::number(), is::text(), is::flag()}));
  const Json of_key = is::object({{"part", is::words(parts)},
                                  {"path", is::text()},
                                  {"before", value},
                                  {"after", value},
                                  {"change", is::words(ways)},
                                  {"unit", is::or_null(is::text())}});
  const Json whole = is::object(design_keys() + verdict_keys());
  return {{"before", whole},
          {"after", whole},
          {"newly_fails", is::flag()},
          {"changes", is::list(is::any_of({of_finding, of_key}))}};
}

}  // namespace housepower::report
