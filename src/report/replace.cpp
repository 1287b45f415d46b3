// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/replace.hpp"

#include <algorithm>

#include "answer_shapes.hpp"
#include "housepower/units/phrases.hpp"
#include "json.hpp"
#include "pieces.hpp"

namespace housepower::report {
namespace {

using checks::Finding;
using checks::Verdict;
using range::Change;

constexpr std::string_view who_decides =
    "The instructions of the battery, charger or device decide, and a licensed person who has seen "
    "the van: wiring that was changed since it was built is not on this page.";

/// A key of the design as built and with the replacement.
struct ReplacedRow {
  std::string path, before, after;
};
const Columns<ReplacedRow>& replaced_columns() {
  static const Columns<ReplacedRow> columns{{"path", "what", &ReplacedRow::path},
                                            {"before", "as built", &ReplacedRow::before},
                                            {"after", "replaced by", &ReplacedRow::after}};
  return columns;
}
std::vector<ReplacedRow> replaced_rows(const ReplaceReport& r) {
  std::vector<ReplacedRow> rows;
  for (const Change& c : r.changes.design)
    rows.push_back({c.path, range::text_of(c.before), range::text_of(c.after)});
  return rows;
}

std::string in_numbers(std::size_t count, const char* one, const char* many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

/// The answer in a line: what fails by it, and what it needs.
std::string answer_of(const ReplaceReport& r) {
  const bool failed = r.before.checked.verdicts.worse() == Verdict::fail;
  const bool fails_still = failed && r.after.checked.verdicts.worse() == Verdict::fail;
  if (r.fails.empty() && r.cautions.empty())
    return std::string(fails_still ? "The van as built fails already, and fails with this too. "
                                   : "") +
           "Nothing fails that did not before, and nothing else has to change for it.";
  std::string text = failed ? "The van as built fails already. " : "";
  const std::size_t before = text.size();
  if (!r.fails.empty())
    text += in_numbers(r.fails.size(), "check fails", "checks fail") + " that did not before";
  if (!r.cautions.empty())
    text += (text.size() == before ? "" : ", ") +
            in_numbers(r.cautions.size(), "is a new caution", "are new cautions");
  text += ". ";
  if (!r.needs.empty())
    text += "It needs " + in_numbers(r.needs.size(), "change", "changes") + " of the wiring";
  else text += "No change to the cables, the devices or where the bank is tapped fixes that";
  if (!r.left.empty() && !r.needs.empty())
    text += "; " + in_numbers(r.left.size(), "finding is", "findings are") + " still left";
  return text + ".";
}

void add_changes(Page& page, const char* title, const std::vector<choice::MendedPart>& changes) {
  if (!changes.empty()) page.blocks.emplace_back(table_of(title, mended_columns(), changes));
}

bool is_among(const Finding& f, const std::vector<Finding>& list) {
  return std::any_of(list.begin(), list.end(), [&](const Finding& other) {
    return other.rule == f.rule && other.subject == f.subject;
  });
}

/// In full only where it stands nowhere below.
void add_left(Page& page, const ReplaceReport& r) {
  if (r.left.empty()) return;
  page.blocks.emplace_back(Heading{"What wiring does not fix"});
  std::vector<std::string> below;
  for (const auto& left : r.left) {
    const Finding& f = left.finding;
    if (is_among(f, r.fails) || is_among(f, r.cautions))
      below.push_back(std::string(f.rule) + " (" + f.subject.text() + ")");
    else
      page.blocks.emplace_back(
          Paragraph{std::string(word_of(f.verdict)) + ": " + f.message +
                    (left.would.empty() ? "" : ". What would fix it: " + left.would)});
  }
  if (!below.empty()) page.blocks.emplace_back(Paragraph{"As below: " + listed(below) + "."});
}

Json left_json(const ReplaceReport& r) {
  Json list = Json::array();
  for (const auto& left : r.left) {
    Json one = json_of(left.finding);
    one["would"] = left.would;
    list.push_back(std::move(one));
  }
  return list;
}

Json verdicts_json(const checks::Verdicts& verdicts) {
  Json json = Json::object();
  add_verdicts(json, verdicts);
  return json;
}

}  // namespace

Page replace_page(const ReplaceReport& r) {
  const auto& verdicts = r.after.checked.verdicts;
  Page page{r.after.design->name + ": replacement", {}};
  page.blocks.emplace_back(VerdictLine{verdicts.worse(), answer_of(r)});
  page.blocks.emplace_back(Paragraph{std::string(who_decides)});
  page.blocks.emplace_back(table_of("Replaced", replaced_columns(), replaced_rows(r)));
  page.blocks.emplace_back(
      Paragraph{"Every other figure is still the old part's. Take its resistance, limits, mass and "
                "terminals from the new part's data sheet."});
  add_changes(page, "What it needs", r.needs);
  add_left(page, r);
  add_changes(page, "What the van as built would need anyway", r.besides);
  if (!r.fails.empty()) {
    page.blocks.emplace_back(Heading{"What then fails"});
    page.blocks.emplace_back(judgements(r.fails));
  }
  if (!r.cautions.empty()) {
    page.blocks.emplace_back(Heading{"What is then a caution"});
    page.blocks.emplace_back(judgements(r.cautions));
  }
  page.blocks.emplace_back(Paragraph{
      "As built: " + verdicts_of(r.before.checked) + ". Replaced: " + verdicts_of(r.after.checked) +
      ". With the changes: safety " + std::string(word_of(r.then.safety)) + ", service " +
      std::string(word_of(r.then.service)) + "."});
  if (!r.complete)
    page.blocks.emplace_back(
        Paragraph{"THE SEARCH ENDED AT ITS LIMIT for some finding: there may still be a fix."});
  return page;
}

std::string replace_json(const ReplaceReport& r) {
  Json json = head();
  json["design"] = design_object(r.after);
  add_verdicts(json, r.after.checked.verdicts);
  json["before"] = verdicts_json(r.before.checked.verdicts);
  json["then"] = verdicts_json(r.then);
  json["replaced"] = rows_json(replaced_columns(), replaced_rows(r));
  json["findings"] = findings_json(r.fails);
  json["cautions"] = findings_json(r.cautions);
  json["needs"] = rows_json(mended_columns(), r.needs);
  json["besides"] = rows_json(mended_columns(), r.besides);
  json["left"] = left_json(r);
  json["complete"] = r.complete;
  json["note"] = who_decides;
  return dump(json);
}

JsonKeys replace_answer() {
  const Json changes = is::rows(mended_columns()), verdicts = is::object(verdict_keys());
  const Json findings = is::list(is::a("finding"));
  return JsonKeys{{"design", is::object(design_keys())}} + verdict_keys() +
         JsonKeys{{"before", verdicts},
                  {"then", verdicts},
                  {"replaced", is::rows(replaced_columns())},
                  {"findings", findings},
                  {"cautions", findings},
                  {"needs", changes},
                  {"besides", changes},
                  {"left", is::list(is::object(finding_keys() + JsonKeys{{"would", is::text()}}))},
                  {"complete", is::flag()},
                  {"note", is::text()}};
}

}  // namespace housepower::report
