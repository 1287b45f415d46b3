// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/replace.hpp"

#include <algorithm>

namespace housepower::answers {
namespace {

using checks::Finding;
using checks::Verdict;
using choice::MendedPart;

std::optional<choice::Mended> mended_side(const ReplaceSide& side, Diagnostics& diagnostics) {
  const ToMend one{side.side.given, side.parts};
  auto reports = mend(std::span(&one, 1), {}, diagnostics);
  return reports ? std::optional(std::move(reports->front().mended)) : std::nullopt;
}

bool same_change(const MendedPart& a, const MendedPart& b) {
  return a.path == b.path && a.to == b.to;
}

template <class List, class Same> bool holds(const List& list, const Same& same) {
  return std::any_of(list.begin(), list.end(), same);
}

/// What is that bad now and was not before, in any case of its rule and subject.
std::vector<Finding> newly(const range::Comparison& changes, Verdict verdict) {
  std::vector<Finding> found;
  for (const auto& change : changes.findings)
    if (change.after && change.after->verdict == verdict &&
        (!change.before || change.before->verdict < verdict))
      found.push_back(*change.after);
  return found;
}

void take_needs(ReplaceReport& r, const choice::Mended& before, const choice::Mended& after) {
  for (const MendedPart& change : after.changes) {
    const bool known =
        holds(before.changes, [&](const MendedPart& old) { return same_change(change, old); });
    (known ? r.besides : r.needs).push_back(change);
  }
  for (const choice::Left& left : after.left) {
    const auto same = [&](const Finding& f) {
      return f.rule == left.finding.rule && f.subject == left.finding.subject;
    };
    if (holds(r.fails, same) || holds(r.cautions, same)) r.left.push_back(left);
  }
  r.then = after.after.verdicts;
  r.complete = after.complete;
}

}  // namespace

std::optional<ReplaceReport> replace(const ReplaceSide& before, const ReplaceSide& after,
                                     Diagnostics& diagnostics) {
  const auto as_built = mended_side(before, diagnostics),
             replaced = mended_side(after, diagnostics);
  if (!as_built || !replaced) return std::nullopt;
  auto compared = compare(before.side, after.side);
  ReplaceReport r{std::move(compared.before),
                  std::move(compared.after),
                  std::move(compared.changes),
                  {},
                  {},
                  {},
                  {},
                  {},
                  {}};
  r.fails = newly(r.changes, Verdict::fail);
  r.cautions = newly(r.changes, Verdict::caution);
  take_needs(r, *as_built, *replaced);
  return r;
}

}  // namespace housepower::answers
