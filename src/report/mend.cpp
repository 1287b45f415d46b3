// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/mend.hpp"

#include <algorithm>

#include "answer_shapes.hpp"
#include "json.hpp"
#include "pieces.hpp"

namespace housepower::report {
namespace {

using checks::Finding;
using checks::Verdict;
using choice::MendedPart;

std::string copper_in_words(Mass copper) {
  const bool less = copper < 0.0 * kilogram;
  const Mass amount = less ? Mass(-copper) : copper;
  if (amount < 0.0005 * kilogram) return "no copper added";
  return print(Number(amount)) + (less ? " of copper less" : " of copper added");
}

Json counts_json(const checks::Checked& checked) {
  Json json;
  for (const Verdict v : {Verdict::fail, Verdict::caution, Verdict::not_checked, Verdict::pass})
    json[std::string(word_of(v))] = std::count_if(checked.findings.begin(), checked.findings.end(),
                                                  [&](const Finding& f) { return f.verdict == v; });
  return json;
}

std::string_view word_of_least(choice::LeastChange least) {
  constexpr std::string_view all[] = {"copper", "changes", "price"};
  return all[static_cast<std::size_t>(least)];
}

/// One design of many in a line.
const Columns<MendReport>& design_columns() {
  static const Columns<MendReport> columns{
      {"name", "design", [](const MendReport& r) { return r.design->name; }},
      {"changes", "changes", [](const MendReport& r) { return r.mended.changes.size(); }},
      {"copper_kg", "copper added", "kg", [](const MendReport& r) { return r.mended.copper; }},
      {"verdict", "then", [](const MendReport& r) { return verdicts_of(r.mended.after); }},
      {"left", "left", [](const MendReport& r) { return r.mended.left.size(); }}};
  return columns;
}

std::vector<std::string> sizes_of(const std::vector<MendReport>& all) {
  std::vector<std::string> sizes;
  for (const MendReport& r : all)
    for (auto& size : choice::sizes_in(r.mended.document))
      if (std::find(sizes.begin(), sizes.end(), size) == sizes.end())
        sizes.push_back(std::move(size));
  std::sort(sizes.begin(), sizes.end(), [](const std::string& a, const std::string& b) {
    const auto number = [](const std::string& text) {
      return parse_double(text.substr(0, text.find(' '))).value_or(0.0);
    };
    return number(a) < number(b);
  });
  return sizes;
}

Json mend_object(const MendReport& r) {
  const auto& m = r.mended;
  Json json;
  json["design"] = {
      {"name", r.design->name}, {"file", r.design->file}, {"inputs_digest", r.inputs_digest}};
  json["least"] = word_of_least(r.least);
  add_verdicts(json, m.after.verdicts);
  json["changes"] = rows_json(mended_columns(), m.changes);
  json["left"] = Json::array();
  for (const auto& left : m.left) {
    Json one = json_of(left.finding);
    one["would"] = left.would;
    json["left"].push_back(std::move(one));
  }
  json["before"] = counts_json(m.before);
  json["after"] = counts_json(m.after);
  json["copper_kg"] = json_of(Number(m.copper));
  json["price"] = m.price ? Json(double(m.price->amount)) : Json();
  json["notes"] = m.notes;
  json["checks"] = m.checks;
  json["complete"] = m.complete;
  return json;
}

}  // namespace

const Columns<MendedPart>& mended_columns() {
  static const Columns<MendedPart> columns{{"path", "change", &MendedPart::path},
                                           {"from", "from", &MendedPart::from},
                                           {"to", "to", &MendedPart::to},
                                           {"why", "why", &MendedPart::why}};
  return columns;
}

std::string mend_in_words(const MendReport& r) {
  const auto& m = r.mended;
  const std::size_t n = m.changes.size();
  std::string text;
  if (n == 0)
    text = m.left.empty() ? "Nothing needs to change"
           : m.complete   ? "No change of conductors, devices or take-off fixes what is left"
                          : "No change that was tried fixes what is left";
  else text = std::to_string(n) + (n == 1 ? " change, " : " changes, ") + copper_in_words(m.copper);
  if (n > 0 && m.price) text += ", " + print(*m.price) + " for cable and devices";
  return text + ": " + verdicts_of(m.after) + ".";
}

Page mend_page(const MendReport& r) {
  const auto& m = r.mended;
  Page page{r.design->name + ": " +
                (m.changes.empty()
                     ? (m.complete ? "nothing that wiring can fix: " : "nothing found: ") +
                           verdicts_of(m.after)
                     : verdicts_of(m.before) + " → " + verdicts_of(m.after)),
            {}};
  page.blocks.emplace_back(Paragraph{mend_in_words(r)});
  if (!m.changes.empty())
    page.blocks.emplace_back(table_of("Changes", mended_columns(), m.changes));
  page.blocks.emplace_back(
      Paragraph{"Before: " + counts_of(m.before) + ". After: " + counts_of(m.after) + "."});
  for (const auto& note : m.notes) page.blocks.emplace_back(Paragraph{"Note: " + note + "."});
  if (!m.left.empty()) page.blocks.push_back(Heading{"What such a change does not fix"});
  for (const auto& left : m.left) {
    std::string line = "  " + std::string(word_of(left.finding.verdict)) + ": " +
                       std::string(left.finding.rule) + ", " + left.finding.subject.text() + ": " +
                       left.finding.message;
    if (!left.would.empty()) line += ". What would fix it: " + left.would;
    page.blocks.emplace_back(Paragraph{std::move(line)});
  }
  std::string effort = std::to_string(m.checks) + " designs were judged by every rule. ";
  effort += m.complete
                ? "None of these changes can be left out, and no size can be one smaller."
                : "THE SEARCH ENDED AT ITS LIMIT for some finding: there may still be a fix.";
  if (!m.changes.empty() || !m.complete) page.blocks.emplace_back(Paragraph{effort});
  return page;
}

std::string mend_json(const MendReport& r) {
  Json json = head();
  json.update(mend_object(r));
  return dump(json);
}

Page mend_range_page(const std::vector<MendReport>& all) {
  const auto sizes = sizes_of(all);
  std::string list;
  for (const auto& size : sizes) list += (list.empty() ? "" : ", ") + size;
  Page page{std::to_string(all.size()) + " designs mended, " + std::to_string(sizes.size()) +
                " sizes of conductor in all of them",
            {}};
  page.blocks.emplace_back(Paragraph{"Sizes: " + list + "."});
  page.blocks.emplace_back(table_of("Designs", design_columns(), all));
  for (const MendReport& r : all)
    if (!r.mended.changes.empty())
      page.blocks.emplace_back(table_of(r.design->name, mended_columns(), r.mended.changes));
  return page;
}

std::string mend_range_json(const std::vector<MendReport>& all) {
  Json json = head();
  json["sizes"] = sizes_of(all);
  json["designs"] = Json::array();
  for (const MendReport& r : all) json["designs"].push_back(mend_object(r));
  return dump(json);
}

namespace {

JsonKeys mended_keys() {
  constexpr std::string_view least[] = {"copper", "changes", "price"};
  const Json left = is::object(finding_keys() + JsonKeys{{"would", is::text()}});
  return JsonKeys{{"design", is::object(design_keys())}, {"least", is::words(least)}} +
         verdict_keys() +
         JsonKeys{{"changes", is::rows(mended_columns())},
                  {"left", is::list(left)},
                  {"before", counts_shape()},
                  {"after", counts_shape()},
                  {"copper_kg", is::number()},
                  {"price", is::or_null(is::number())},
                  {"notes", is::list(is::text())},
                  {"checks", is::whole()},
                  {"complete", is::flag()}};
}

}  // namespace

JsonKeys mend_answer() { return mended_keys(); }
JsonKeys mend_range_answer() {
  return {{"sizes", is::list(is::text())}, {"designs", is::list(is::object(mended_keys()))}};
}

}  // namespace housepower::report
