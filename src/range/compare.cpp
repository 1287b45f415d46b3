// SPDX-License-Identifier: Apache-2.0
// What comes out of two designs, and what the rules found in them.
#include "housepower/range/compare.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "housepower/range/range.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::range {
namespace {

using checks::Finding;
using checks::Verdict;
using Value = Change::Value;
using Way = FindingChange::Way;

struct Results {
  std::vector<Change> all;
  void tell(std::string path, std::string title, Value before, Value after, bool rises,
            std::string_view unit) {
    all.push_back({std::move(path), std::move(before), std::move(after), rises ? "higher" : "lower",
                   unit, title});
  }
  /// Where both know it and it differs enough to tell.
  template <class Q>
  void add(std::string path, std::string title, const std::optional<Q>& before,
           const std::optional<Q>& after, std::string_view unit = {}) {
    if (!before || !after) return;
    const Number x(*before), y(*after);
    const double least = double(telling_result) * std::max(std::abs(x.si), std::abs(y.si));
    if (std::abs(y.si - x.si) > least)
      tell(std::move(path), std::move(title), x, y, y.si > x.si, unit);
  }
  void add_text(std::string path, std::string title, std::string before, std::string after) {
    if (before != after)
      all.push_back(
          {std::move(path), std::move(before), std::move(after), "changed", {}, std::move(title)});
  }
};

/// Gathered a day in the mean of the months that were assessed.
std::optional<Energy> gathered(const Compared& c) {
  const auto& energy = c.checked.energy;
  if (!energy.has_place || !energy.has_array) return std::nullopt;
  Energy all{};
  for (const auto& month : energy.months) all += month.solar;
  return all / double(energy.months.size());
}

void add_energy(const Compared& a, const Compared& b, Results& results) {
  const auto &x = a.checked.energy, &y = b.checked.energy;
  const auto was = daily_use(a.design, x), is = daily_use(b.design, y);
  results.add("energy/daily", "used a day", std::optional(was.all), std::optional(is.all), "Ah");
  results.add("energy/gathered", "gathered a day", gathered(a), gathered(b), "Wh");
  if (x.usable && y.usable)
    results.add("energy/usable", "usable charge", std::optional(x.usable->charge),
                std::optional(y.usable->charge), "Ah");
  results.add("energy/autonomy", "autonomy", x.autonomy, y.autonomy, "d");
  results.add("energy/stay", "stay at the promised chance", a.stay, b.stay, "d");
}

std::string price_text(const Price& price) {
  std::string text;
  for (const auto& sum : price.sums) text += (text.empty() ? "" : " + ") + print(sum);
  return text.empty() || price.missing.empty() ? text : "at least " + text;
}

void add_mass_and_price(const Compared& a, const Compared& b, Results& results) {
  const auto was = checks::masses_of(a.design, a.checked.wiring);
  const auto is = checks::masses_of(b.design, b.checked.wiring);
  const bool whole = was.missing.empty() && is.missing.empty();
  results.add("mass", whole ? "mass" : "mass, as far as stated", std::optional(was.total),
              std::optional(is.total));
  results.add("copper", "copper", std::optional(was.copper), std::optional(is.copper));
  results.add_text("price", "price", price_text(price_of(a.design)),
                   price_text(price_of(b.design)));
}

/// The largest drop of a consumer in a judged case.
std::optional<Ratio> worst_drop(const Compared& c) {
  std::optional<Ratio> worst;
  for (const auto& in : c.checked.wiring.cases)
    if (in.load_case.judged && in.solved())
      for (const auto& at : in.consumers)
        if (at.unknown.empty()) worst = std::max(worst.value_or(0.0), at.path_share);
  return worst;
}

/// The largest fault at the bank, and at the node where it is largest.
std::optional<Current> fault_at(const Compared& c, const std::string& post) {
  for (std::size_t i = 0; i < c.design->posts.size(); ++i)
    if (c.design->posts[i].name == post) return c.checked.wiring.faults[i].largest;
  return std::nullopt;
}
std::string main_node(const Compared& c) {
  std::string name;
  std::optional<Current> most;
  for (std::size_t i = 0; i < c.design->posts.size(); ++i) {
    const auto& at = c.checked.wiring.faults[i].largest;
    const auto& post = c.design->posts[i];
    const bool meets =
        post.kind == design::resolved::PostKind::node &&
        (post.node == design::NodeKind::bus_bar || post.node == design::NodeKind::panel);
    if (meets && at && (!most || *at > *most)) most = at, name = post.name;
  }
  return name;
}

void add_wiring(const Compared& a, const Compared& b, Results& results) {
  results.add("wiring/worst_drop", "worst drop of a consumer", worst_drop(a), worst_drop(b));
  results.add("wiring/fault/bank", "largest fault at the bank", fault_at(a, "bank"),
              fault_at(b, "bank"));
  const std::string node = main_node(a);
  if (!node.empty())
    results.add("wiring/fault/" + node, "largest fault at " + node, fault_at(a, node),
                fault_at(b, node));
}

/// The largest drop along a run in a judged case.
Ratio drop_of(const Compared& c, std::size_t run) {
  Ratio worst = 0.0;
  for (const auto& in : c.checked.wiring.cases)
    if (in.load_case.judged && in.solved()) worst = std::max(worst, in.runs[run].drop_share);
  return worst;
}

std::vector<Change> run_changes(const Compared& a, const Compared& b) {
  std::vector<std::pair<double, Change>> found;
  const auto tell = [&](const std::string& run, const char* what, std::string title, Number before,
                        Number after, double weight) {
    Results one;
    one.tell("run/" + run + "/" + what, std::move(title), before, after, after.si > before.si, {});
    found.emplace_back(weight, std::move(one.all.front()));
  };
  for (std::size_t i = 0; i < a.design->runs.size(); ++i) {
    const std::string& name = a.design->runs[i].name;
    const auto& others = b.design->runs;
    const auto same = std::find_if(others.begin(), others.end(),
                                   [&](const auto& run) { return run.name == name; });
    if (same == others.end()) continue;
    const auto j = std::size_t(same - others.begin());
    const Current was = a.checked.wiring.runs[i].current.outgoing,
                  is = b.checked.wiring.runs[j].current.outgoing;
    const double larger = std::max(was.value(), is.value());
    const double share = larger > 0.0 ? std::abs((is - was).value()) / larger : 0.0;
    if (share > double(telling_current)) tell(name, "current", "current", was, is, share);
    const Ratio lost = drop_of(a, i), now = drop_of(b, j);
    const double more = std::abs(double(now) - double(lost));
    if (more > double(telling_drop)) tell(name, "drop", "drop", lost, now, 20.0 * more);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const auto& x, const auto& y) { return x.first > y.first; });
  std::vector<Change> changes;
  for (auto& one : found) changes.push_back(std::move(one.second));
  return changes;
}

using Subjects = std::map<std::pair<std::string_view, std::string_view>, const Finding*>;

bool is_worse(const Finding& a, const Finding& b) {
  return std::tuple(int(a.verdict), -double(a.margin)) >
         std::tuple(int(b.verdict), -double(b.margin));
}

/// Of each rule and subject the worst case.
Subjects worst_cases(const std::vector<Finding>& findings) {
  Subjects subjects;
  for (const Finding& f : findings) {
    const Finding*& worst = subjects[{f.rule, f.subject.text()}];
    if (!worst || is_worse(f, *worst)) worst = &f;
  }
  return subjects;
}

std::optional<Way> way_of(const Finding* before, const Finding* after) {
  if (!before) return after->verdict == Verdict::pass ? std::nullopt : std::optional(Way::newly);
  if (!after) return before->verdict == Verdict::pass ? std::nullopt : std::optional(Way::gone);
  if (after->verdict != before->verdict)
    return after->verdict > before->verdict ? Way::worse : Way::better;
  if (!before->measured || !before->limit || !after->measured || !after->limit) return std::nullopt;
  const double was = double(before->margin), is = double(after->margin);
  if (std::abs(is - was) < double(telling_margin) || std::min(was, is) >= double(ample_margin))
    return std::nullopt;
  return is < was ? Way::less_margin : Way::more_margin;
}

bool fails(const Finding* f) { return f && f->verdict == Verdict::fail; }

/// What newly fails, then other news and worse by verdict, then margins, then what got better.
int rank_of(const FindingChange& c) {
  const bool came = c.way == Way::newly || c.way == Way::worse;
  const Finding& f = c.after ? *c.after : *c.before;
  return came ? -int(f.verdict) : 1 + int(c.way);
}

}  // namespace

std::string text_of(const Value& value, std::string_view unit) {
  struct Say {
    std::string_view unit;
    std::string operator()(std::monostate) const { return ""; }
    std::string operator()(const std::string& text) const { return text; }
    std::string operator()(const Number& n) const {
      return unit.empty() ? print(n) : print_in(n, shown_unit(*unit_named(unit)));
    }
    std::string operator()(double n) const { return print_plain(n, 15); }
    std::string operator()(bool flag) const { return flag ? "true" : "false"; }
  };
  return std::visit(Say{unit}, value);
}

std::string_view word_of(Way way) {
  constexpr std::string_view words_[] = {"new",         "worse",  "less margin",
                                         "more margin", "better", "gone"};
  return words_[std::size_t(way)];
}

std::vector<FindingChange> finding_changes(const std::vector<Finding>& before,
                                           const std::vector<Finding>& after) {
  const Subjects was = worst_cases(before), is = worst_cases(after);
  std::vector<FindingChange> changes;
  const auto add = [&](const Finding* x, const Finding* y) {
    if (const auto way = way_of(x, y)) changes.push_back({*way, x, y});
  };
  for (const auto& [subject, finding] : is) {
    const auto same = was.find(subject);
    add(same == was.end() ? nullptr : same->second, finding);
  }
  for (const auto& [subject, finding] : was)
    if (is.count(subject) == 0) add(finding, nullptr);
  std::stable_sort(changes.begin(), changes.end(),
                   [](const auto& x, const auto& y) { return rank_of(x) < rank_of(y); });
  return changes;
}

Comparison compare(const Compared& before, const Compared& after) {
  Comparison c;
  c.design = design_changes(before.node, after.node, *before.design->tables);
  Results results;
  const auto &was = before.checked.verdicts, &is = after.checked.verdicts;
  const auto add_verdict = [&](const char* key, const char* title, checks::Verdict x,
                               checks::Verdict y) {
    results.add_text(key, title, std::string(word_of(x)), std::string(word_of(y)));
  };
  add_verdict("verdict", "verdict", was.worse(), is.worse());
  add_verdict("verdict_safety", "safety", was.safety, is.safety);
  add_verdict("verdict_service", "service", was.service, is.service);
  add_energy(before, after, results);
  add_mass_and_price(before, after, results);
  add_wiring(before, after, results);
  c.results = std::move(results.all);
  c.runs = run_changes(before, after);
  c.findings = finding_changes(before.checked.findings, after.checked.findings);
  c.newly_fails = std::any_of(c.findings.begin(), c.findings.end(), [](const FindingChange& f) {
    return fails(f.after) && !fails(f.before);
  });
  return c;
}

}  // namespace housepower::range
