// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/one_finding.hpp"

#include <algorithm>

#include "housepower/choice/cures.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/units/phrases.hpp"

namespace housepower::answers {
namespace {

using checks::Finding;

bool is_asked(const Finding& f, const FindingAsked& asked) {
  return f.rule == asked.rule && f.subject == asked.subject &&
         (!asked.in_case || f.in_case == *asked.in_case);
}

/// No such rule, or no such finding of it: what there is.
void tell_what_there_is(const FindingAsked& asked, const std::vector<Finding>& findings,
                        Diagnostics& diagnostics) {
  std::vector<std::string_view> names;
  if (!checks::rule_named(asked.rule)) {
    for (const checks::Rule* rule : checks::rules()) names.push_back(rule->name);
    diagnostics.error({}, "rule", "there is no rule " + housepower::quoted(asked.rule),
                      did_you_mean(asked.rule, names));
    return;
  }
  std::string list;
  for (const Finding& f : findings)
    if (f.rule == asked.rule) {
      names.push_back(f.subject.text());
      if (names.size() <= 6) list += (list.empty() ? "" : ", ") + f.subject.text();
    }
  if (asked.subject.empty() && !names.empty()) {
    diagnostics.error({}, "subject",
                      asked.rule + " has " + std::to_string(names.size()) +
                          (names.size() == 1 ? " finding" : " findings") +
                          ": say which, behind a space",
                      housepower::quoted(asked.rule + " " + std::string(names.front())) +
                          "; it is about " + list + (names.size() > 6 ? " …" : ""));
    return;
  }
  const std::string near = did_you_mean(asked.subject, names);
  diagnostics.error(
      {}, "subject",
      asked.rule + " has no finding of " + housepower::quoted(asked.subject) +
          (asked.in_case ? " in the case " + housepower::quoted(*asked.in_case) : std::string()),
      !near.empty()  ? near
      : list.empty() ? "it has none in this design"
                     : "it is about " + list + (names.size() > 6 ? " …" : ""));
}

}  // namespace

FindingAsked asked_in_words(std::string_view words) {
  const auto space = std::min(words.find(' '), words.size());
  return {std::string(words.substr(0, space)),
          std::string(words.substr(std::min(space + 1, words.size())))};
}

std::optional<Finding> one_finding(const Opening& opening, const FindingAsked& asked,
                                   Diagnostics& diagnostics) {
  auto checked = checks::check(*opening.document, *opening.design, checks::Workings::kept,
                               checks::Unsaid::ranked);
  const auto found = std::find_if(checked.findings.begin(), checked.findings.end(),
                                  [&](const Finding& f) { return is_asked(f, asked); });
  if (found == checked.findings.end()) {
    tell_what_there_is(asked, checked.findings, diagnostics);
    return std::nullopt;
  }
  choice::try_cures(*opening.document, *opening.design, checked);
  checks::locate(checked.findings, opening.node);
  return *found;
}

}  // namespace housepower::answers
