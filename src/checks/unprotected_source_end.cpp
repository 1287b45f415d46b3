// SPDX-License-Identifier: Apache-2.0
#include <map>

#include "common.hpp"

namespace housepower::checks {
namespace {

using design::RunEnd;
using design::resolved::PostId;
using design::resolved::PostKind;

constexpr Source link_source{SourceKind::from_memory, "judgement",
                             "links of up to 0.35 m inside the box"};

/// What a limited source at this post drives at most; nothing where there is none.
std::optional<Current> limited_source(const design::Design& design, PostId id) {
  for (const auto& c : design->chargers)
    if (c.out == id) return c.current;
  for (const auto& c : design->controllers)
    if (c.out == id) return c.max_charge_current;
  for (const auto& a : design->arrays)
    if (a.post == id && a.module.isc)  // 1.25 for bright skies, 1.25 for continuous load
      return *a.module.isc * double(a.modules / a.in_series) * 1.25 * 1.25;
  return std::nullopt;
}

bool stops(const Run& run, Current ampacity) {
  return std::any_of(run.protection.begin(), run.protection.end(),
                     [&](const Protection& p) { return p.rating <= ampacity; });
}

/// What reaches a post through runs without a device that protects `ampacity`.
struct Reaching {
  const design::resolved::Post* unlimited = nullptr;  // one that drives any current
  Current limited{};                                  // the sum of the others' limits
};
Reaching reaching(const design::Design& design, PostId start, std::size_t without,
                  Current ampacity) {
  Reaching found;
  std::vector<PostId> open{start};
  std::vector<bool> seen(design->posts.size(), false);
  seen[std::size_t(start.index)] = true;
  while (!open.empty()) {
    const PostId here = open.back();
    open.pop_back();
    if (is_unlimited(design[here])) found.unlimited = &design[here];
    found.limited += limited_source(design, here).value_or(0.0 * ampere);
    for (std::size_t i = 0; i < design->runs.size(); ++i) {
      const Run& run = design->runs[i];
      if (i == without || stops(run, ampacity) || (run.from != here && run.to != here)) continue;
      const PostId next = run.from == here ? run.to : run.from;
      if (seen[std::size_t(next.index)]) continue;
      seen[std::size_t(next.index)] = true;
      open.push_back(next);
    }
  }
  return found;
}

std::optional<Current> least_ampacity(const wiring::RunFacts& facts) {
  const auto* out = std::get_if<wiring::Ampacity>(&facts.ampacity);
  const auto* back = std::get_if<wiring::Ampacity>(&facts.ampacity_back);
  if (!out) return std::nullopt;
  return back ? std::min(out->value, back->value) : out->value;
}

Finding check_end(const Rule& rule, const Evidence& e, std::size_t i, RunEnd end) {
  const Run& run = e.design->runs[i];
  const PostId post = end == RunEnd::from ? run.from : run.to;
  const std::string where = "run " + quoted(run.name) + " at " + quoted(e.design[post].name);
  const bool own = std::any_of(run.protection.begin(), run.protection.end(),
                               [&](const Protection& p) { return p.end == end; });
  const auto ampacity = least_ampacity(e.wiring.runs[i]);
  if (own)
    return state(rule, subject_of(run), Verdict::pass, where + " has a device of its own",
                 rule.source);
  if (!ampacity)
    return not_checked(rule, subject_of(run),
                       where +
                           ": its ampacity is not known, so no device can be judged to protect it");
  const Reaching source = reaching(e.design, post, i, *ampacity);
  if (!source.unlimited && source.limited > *ampacity) {
    Working working;
    given(&working, "I_max", "what the limited sources there drive together", source.limited,
          as_stated);
    Finding f = judge(rule, subject_of(run), source.limited, Bound::at_most,
                      {*ampacity, rule.source}, std::move(working));
    f.message = where + ": what charges there drives up to " + print(source.limited) +
                ", the conductor bears " + print(*ampacity);
    f.cure = "a larger conductor, or a device of at most " + print(*ampacity) + " at that end";
    return f;
  }
  if (!source.unlimited)
    return state(rule, subject_of(run), Verdict::pass,
                 where + ": no source there drives more than the conductor bears", rule.source);
  // A device within the stub length of both ends serves both.
  const auto reach = e.design->profile->first_device.empty()
                         ? std::nullopt
                         : e.design->profile->first_device.front().longest;
  const bool short_run =
      reach && run.length <= *reach && !run.protection.empty() && stops(run, *ampacity);
  Finding f =
      state(rule, subject_of(run), short_run ? Verdict::pass : Verdict::fail,
            where + ": " + quoted(source.unlimited->name) +
                " can drive any current into it; no device there or before limits it to the " +
                print(*ampacity) + " that the conductor bears",
            rule.source);
  if (short_run) f.message = where + " is short enough to be served by the device at its other end";
  else f.cure = "a device of at most " + print(*ampacity) + " at that end";
  return f;
}

/// Links between parallel batteries are exempt while they are short and stay in the box.
std::vector<Finding> check_links(const Rule& rule, const Evidence& e) {
  constexpr Length short_link = 0.35 * metre;
  std::vector<Finding> findings;
  if (!e.design->bank || e.design->bank->parallel < 2) return findings;
  const auto& bank = *e.design->bank;
  const std::pair<const std::optional<design::resolved::Lead>*, const char*> links[] = {
      {&bank.link_positive, "bank/links/positive"}, {&bank.link_negative, "bank/links/negative"}};
  for (const auto& [link, path] : links) {
    if (!*link) continue;
    const bool many = bank.parallel > 2 && !bank.each_device;
    Working working;
    given(&working, "L", "length of a link", (*link)->length, as_stated);
    Finding f = judge(rule, path, (*link)->length, Bound::at_most,
                      {short_link, link_source, many ? Verdict::fail : Verdict::caution},
                      std::move(working));
    f.message = "the links between the batteries are " + print((*link)->length) + " long; up to " +
                print(short_link) + " they need no device of their own";
    if (f.verdict != Verdict::pass)
      f.cure = "batteries closer together, or a device for each battery";
    findings.push_back(std::move(f));
  }
  return findings;
}

std::vector<Finding> check_ends(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i)
    for (const RunEnd end : {RunEnd::from, RunEnd::to}) {
      Finding f = check_end(rule, e, i, end);
      f.in_case = end == RunEnd::from ? "from its `from` end" : "from its `to` end";
      findings.push_back(std::move(f));
    }
  for (Finding& f : check_links(rule, e)) findings.push_back(std::move(f));
  return findings;
}

constexpr Sign signs[] = {{Parameter::area, Effect::better},
                          {Parameter::ambient, Effect::worse},
                          {Parameter::circuits_together, Effect::worse},
                          {Parameter::device_rating, Effect::worse}};

}  // namespace

extern const Rule unprotected_source_end{
    .name = "unprotected-source-end",
    .asks = "Has each end of each run that a strong source can feed a device that protects the "
            "conductor?",
    .why = "A chafed conductor without a device between it and a lithium bank glows within seconds "
           "and nothing stops it.",
    .cure = "A device at that end, rated no higher than the conductor's ampacity; or a conductor "
            "that the device before it protects.",
    .source = {SourceKind::published, "IEC 60364-4-43:2008", "433.1, applied from every source"},
    .signs = signs,
    .of_safety = true,
    .check = check_ends};

}  // namespace housepower::checks
