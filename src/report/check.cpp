// SPDX-License-Identifier: Apache-2.0
// The main answer whole: what fails first, then energy and wiring, then what was assumed; and as JSON.
#include <algorithm>
#include <map>

#include "answer_shapes.hpp"
#include "json.hpp"
#include "pieces.hpp"

namespace housepower::report {
namespace {

using checks::Verdict;

std::size_t count(std::span<const checks::Finding> findings, Verdict verdict) {
  return static_cast<std::size_t>(std::count_if(
      findings.begin(), findings.end(), [&](const auto& f) { return f.verdict == verdict; }));
}

}  // namespace

std::string short_percent(Ratio share) {
  const double value = 100.0 * double(share);
  return print_plain(value > -1e-6 && value < 1e-6 ? 0.0 : value, 2) + " %";
}

Judgement judgement(const checks::Finding& f) {
  return {f.verdict, std::string(f.rule), f.subject.text(),      f.message, f.in_case,
          f.cure,    place_text(f.place), source_line(f.source), f.working};
}

JudgementsBlock judgements(std::span<const checks::Finding> findings, bool with_working) {
  JudgementsBlock block{{}, with_working};
  for (const auto& f : findings) block.judgements.push_back(judgement(f));
  return block;
}

Paragraph silences_of(const CheckedDesign& c) {
  std::string list;
  for (const auto& silence : c.checked.silences)
    list += (list.empty() ? "" : "; ") + silence.what + " (" + std::string(silence.rule) + ")";
  return {list.empty()
              ? list
              : "What the profile " + c.design->profile->name + " does not ask: " + list + "."};
}

std::string counts_of(const checks::Checked& checked) {
  std::string line;
  for (const Verdict v : {Verdict::fail, Verdict::caution, Verdict::not_checked, Verdict::pass})
    if (const std::size_t n = count(checked.findings, v); n > 0 || v == Verdict::pass)
      line += (line.empty() ? "" : ", ") + std::to_string(n) + " " + std::string(word_of(v));
  return line;
}

TableBlock passes_table(std::span<const checks::Finding> findings) {
  TableBlock table{
      "What passes", {"rule", "passes", "least margin", "there"}, {false, true, true, false}, {}};
  for (const checks::Rule* rule : checks::rules()) {
    std::size_t number = 0;
    const checks::Finding* least = nullptr;
    for (const auto& f : findings) {
      if (f.rule != rule->name || f.verdict != Verdict::pass) continue;
      ++number;
      if (f.measured && f.limit && (!least || f.margin < least->margin)) least = &f;
    }
    if (number == 0) continue;
    table.rows.push_back({std::string(rule->name), std::to_string(number),
                          least ? short_percent(least->margin) : "",
                          least ? least->subject.text() : ""});
  }
  return table;
}

TableBlock assumptions_table(const design::Design& design) {
  // The same default of many runs is one line.
  std::map<std::string, std::pair<std::size_t, std::string>> lines;
  std::vector<std::string> order;
  for (const Assumption& a : design->assumptions) {
    const auto first = a.path.find('/'), last = a.path.rfind('/');
    const std::string kind = first == last || first == std::string::npos
                                 ? a.path
                                 : a.path.substr(0, first) + "/…" + a.path.substr(last);
    const std::string key = kind + " = " + a.value;
    auto& line = lines[key];
    if (line.first++ == 0) order.push_back(key), line.second = a.path;
  }
  TableBlock table{"Assumed, since the design does not say",
                   {"key and value", "times", "first"},
                   {false, true, false},
                   {}};
  for (const auto& key : order)
    table.rows.push_back({key, std::to_string(lines[key].first), lines[key].second});
  return table;
}

Json design_object(const CheckedDesign& c) {
  return {{"name", c.design->name}, {"file", c.design->file}, {"inputs_digest", c.inputs_digest}};
}

std::string check_json(const CheckedDesign& c, bool quick) {
  Json json = head();
  json["design"] = design_object(c);
  json["quick"] = quick;
  add_verdicts(json, c.checked.verdicts);
  for (const Verdict v : {Verdict::pass, Verdict::caution, Verdict::fail, Verdict::not_checked})
    json["counts"][std::string(word_of(v))] = count(c.checked.findings, v);
  json["silences"] = Json::array();
  for (const auto& silence : c.checked.silences)
    json["silences"].push_back({{"rule", silence.rule}, {"what", silence.what}});
  json["findings"] = findings_json(c.checked.findings);
  json["energy"] = energy_object(c.checked.energy);
  json["wiring"] = wiring_object(c.design, c.checked.wiring);
  json["assumed"] = Json::array();
  for (const Assumption& a : c.design->assumptions)
    json["assumed"].push_back({{"path", a.path}, {"value", a.value}, {"why", a.why}});
  return dump(json);
}

Page whole_check_page(const CheckedDesign& c, const Detail& detail) {
  Page page{first_line_of(c), {}};
  JudgementsBlock attention{{}, detail.working}, rest = attention;
  for (const auto& f : c.checked.findings)
    if (f.verdict != Verdict::pass) attention.judgements.push_back(judgement(f));
    else if (detail.passes) rest.judgements.push_back(judgement(f));
  page.blocks.push_back(std::move(attention));
  if (detail.passes) page.blocks.push_back(std::move(rest));
  else page.blocks.push_back(passes_table(c.checked.findings));
  for (auto part :
       {energy_page(c.design, c.checked.energy), wiring_page(c.design, c.checked.wiring)}) {
    page.blocks.push_back(Heading{part.title});
    for (auto& block : part.blocks) page.blocks.push_back(std::move(block));
  }
  if (auto said = silences_of(c); !said.text.empty()) page.blocks.push_back(std::move(said));
  page.blocks.push_back(assumptions_table(c.design));
  return page;
}

JsonKeys check_answer() {
  const Json silence = is::object({{"rule", is::text()}, {"what", is::text()}});
  return JsonKeys{{"design", is::object(design_keys())}, {"quick", is::flag()}} + verdict_keys() +
         JsonKeys{{"counts", counts_shape()},
                  {"silences", is::list(silence)},
                  {"findings", is::list(is::a("finding"))},
                  {"energy", is::object(energy_keys())},
                  {"wiring", is::object(wiring_keys())},
                  {"assumed", assumed_shape()}};
}

}  // namespace housepower::report
