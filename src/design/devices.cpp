// SPDX-License-Identifier: Apache-2.0
// Overcurrent devices: of a fuse type of the tables or of a maker, with what is known of each.
#include <algorithm>
#include <cmath>

#include "housepower/tables/breaking.hpp"
#include "resolving.hpp"

namespace housepower::design {
namespace {

constexpr Source as_stated{SourceKind::supplier, "the design", "as stated"};

void take_from_maker(Resolving& r, const MakersDevice& maker, const Place& place,
                     const std::string& path, resolved::Protection& out) {
  out.kind = maker.kind.value_or(DeviceKind::fuse);
  out.breaking_capacity = maker.breaking_capacity;
  out.rated_voltage = maker.rated_voltage;
  out.breaking_source = out.voltage_source = as_stated;
  out.curve = maker.curve;
  out.curve_fast = maker.curve_fast;
  const bool is_made = maker.ratings.empty() ||
                       std::any_of(maker.ratings.begin(), maker.ratings.end(), [&](Current rating) {
                         return std::abs(rating.value() / out.rating.value() - 1.0) < 1e-6;
                       });
  if (is_made) return;
  std::string ratings;
  for (const Current& rating : maker.ratings)
    ratings += (ratings.empty() ? "" : ", ") + print(Number(rating));
  r.error(RestsOn::whole, place, path + "/rating",
          quoted(maker.name) + " is not made for " + print(Number(out.rating)),
          "its ratings are " + ratings);
}

void take_from_tables(const tables::FuseType& type, Voltage system, resolved::Protection& out) {
  out.fuse = &type;
  const auto* row = tables::breaking_at(type, system);
  if (!row) return;
  out.breaking_capacity = row->capacity;
  out.rated_voltage = row->at;
  out.breaking_source = row->source;
  out.voltage_source = row->at_source;
}

/// The runs that end at each post.
using RunsAt = resolved::PerPost<std::vector<const resolved::Run*>>;
RunsAt runs_at(const resolved::Content& d) {
  RunsAt at(d.posts.size());
  for (const resolved::Run& run : d.runs) {
    at[run.from].push_back(&run);
    at[run.to].push_back(&run);
  }
  return at;
}

bool is_bank_or_feed(const resolved::Content& d, resolved::PostId id) {
  const auto kind = d.posts[id].kind;
  return kind == resolved::PostKind::bank || kind == resolved::PostKind::feed;
}

bool has(const resolved::Run& run, const std::string& type) {
  return std::any_of(run.protection.begin(), run.protection.end(),
                     [&](const resolved::Protection& p) { return p.type == type; });
}

/// A device of that type stands on the shortest way from a source to a post that does not use `own`.
bool stands_before(const resolved::Content& d, const RunsAt& at, const resolved::Run& own,
                   resolved::PostId post, const std::string& type) {
  struct Reached {
    resolved::PostId post;
    bool behind_it;
  };
  resolved::PerPost<bool> seen(d.posts.size());
  std::vector<Reached> open{{post, false}};
  seen[post] = true;
  for (std::size_t i = 0; i < open.size(); ++i) {
    const Reached here = open[i];
    if (is_bank_or_feed(d, here.post)) {
      if (here.behind_it) return true;
      continue;  // what lies beyond a source does not stand between it and the post
    }
    for (const resolved::Run* run : at[here.post]) {
      const auto other = run->from == here.post ? run->to : run->from;
      if (run == &own || seen[other]) continue;
      seen[other] = true;
      open.push_back({other, here.behind_it || has(*run, type)});
    }
  }
  return false;
}

/// A device of that type stands between a source and this one: on its own run, on one before it,
/// or at each battery.
bool stands_upstream(const resolved::Content& d, const RunsAt& at, const resolved::Run& run,
                     std::size_t number, const std::string& type) {
  if (d.bank && d.bank->each_device && d.bank->each_device->device.type == type) return true;
  for (std::size_t n = 0; n < run.protection.size(); ++n)
    if (n != number && run.protection[n].type == type) return true;
  const auto post = run.protection[number].end == RunEnd::from ? run.from : run.to;
  return stands_before(d, at, run, post, type);
}

std::string all_names(const std::vector<std::string_view>& names) {
  std::string list;
  for (const auto name : names) list += (list.empty() ? "" : ", ") + std::string(name);
  return list;
}

/// Of "class T" or "blade", as our own sheets say it: how the file writes it.
std::string written_for(std::string_view plain, const tables::Tables& tables) {
  std::vector<std::string_view> names;
  for (const auto& fuse : tables.fuses) names.push_back(fuse.plain);
  const auto meant = nearest(plain, names);
  for (const auto& fuse : tables.fuses)
    if (!meant.empty() && fuse.plain == meant)
      return "a " + fuse.plain + " fuse is written " + quoted(fuse.name);
  return {};
}

}  // namespace

resolved::Protection device_of(Resolving& r, const std::string& type, Current rating,
                               std::optional<Current> breaking_capacity, const Place& place,
                               const std::string& path) {
  resolved::Protection out;
  out.type = type;
  out.rating = rating;
  const auto maker = r.devices.find(type);
  const tables::FuseType* fuse = r.tables.fuse(type);
  if (maker != r.devices.end()) take_from_maker(r, *maker->second, place, path, out);
  else if (fuse) take_from_tables(*fuse, r.out.nominal, out);
  else {
    auto known = names_of(r.tables.fuses);
    for (const auto name : names_of(r.devices)) known.push_back(name);
    std::string hint = did_you_mean(type, known);
    if (hint.empty()) hint = written_for(type, r.tables);
    r.error(RestsOn::names, place, path + "/type",
            quoted(type) + " is neither a fuse type of the tables nor a [[device]] of the design",
            hint.empty() ? "a maker's device needs a [[device]]; the types are " + all_names(known)
                         : hint);
  }
  if (breaking_capacity) {
    out.breaking_capacity = breaking_capacity;
    out.breaking_source = as_stated;
  }
  return out;
}

void check_backing(Resolving& r) {
  const auto& runs = r.out.runs;
  const bool drawn = std::all_of(runs.begin(), runs.end(), [](const resolved::Run& run) {
    return run.from.index >= 0 && run.to.index >= 0;
  });
  if (!drawn) return;  // said already
  const RunsAt at = runs_at(r.out);
  for (std::size_t i = 0; i < runs.size(); ++i)
    for (std::size_t n = 0; n < runs[i].protection.size(); ++n) {
      const std::string& type = runs[i].protection[n].backed_by;
      if (type.empty() || stands_upstream(r.out, at, runs[i], n, type)) continue;
      r.error(RestsOn::whole, r.document.run[i].protection[n].place,
              r.path("run", i, runs[i].name) + "/protection/" + std::to_string(n) + "/backed_by",
              "no " + quoted(type) + " is between a source and this device",
              "name the type of the device upstream with which its maker rates it together");
    }
}

namespace {

/// Between two gates on a straight line of logarithms, as the engines read a curve; nothing beyond its
/// gates.
std::optional<Duration> time_on(const std::vector<CurvePoint>& curve, Ratio multiple) {
  if (curve.empty() || multiple < curve.front().multiple) return std::nullopt;
  for (std::size_t i = 0; i < curve.size(); ++i) {
    const CurvePoint& at = curve[i];
    if (at.multiple == multiple) return at.time;
    if (at.multiple < multiple) continue;
    const CurvePoint& before = curve[i - 1];
    const double along = std::log(double(multiple / before.multiple)) /
                         std::log(double(at.multiple / before.multiple));
    return before.time * std::pow(double(at.time / before.time), along);
  }
  return std::nullopt;
}

/// The fast edge comes no later than the slow one. Between gates both are straight: asked at each gate.
struct TooSlow {
  Ratio multiple;
  Duration fast, slow;
};
std::optional<TooSlow> too_slow(const std::vector<CurvePoint>& slow,
                                const std::vector<CurvePoint>& fast) {
  constexpr double hair = 1e-9;  // of rounding
  for (const auto* gates : {&slow, &fast})
    for (const CurvePoint& gate : *gates) {
      const auto opens_at_last = time_on(slow, gate.multiple),
                 opens_first = time_on(fast, gate.multiple);
      if (opens_at_last && opens_first && *opens_first > *opens_at_last * (1.0 + hair))
        return TooSlow{gate.multiple, *opens_first, *opens_at_last};
    }
  return std::nullopt;
}

}  // namespace

void check_edges(Resolving& r, const std::vector<CurvePoint>& slow,
                 const std::vector<CurvePoint>& fast, const Place& place, const std::string& path) {
  const auto found = too_slow(slow, fast);
  if (!found) return;
  r.error(place, path + "/curve_fast",
          "opens later than `curve`: at " + print_plain(double(found->multiple)) +
              " times its rating in " + print(Number(found->fast)) + ", `curve` in " +
              print(Number(found->slow)),
          "`curve` is by when it has opened for sure, `curve_fast` the earliest that it may");
}

void check_curve(Resolving& r, const std::vector<CurvePoint>& curve, const Place& place,
                 const std::string& path) {
  if (!curve.empty() && curve.front().multiple <= Ratio(1.0))
    r.error(place, path + "/0",
            "opens at " + print_plain(double(curve.front().multiple)) +
                " times its rating, which a device carries for good",
            "the first multiple is above 1, for example 1.35");
  for (std::size_t i = 1; i < curve.size(); ++i) {
    const bool rises = curve[i].multiple > curve[i - 1].multiple;
    if (rises && curve[i].time <= curve[i - 1].time) continue;
    r.error(place, path + "/" + std::to_string(i),
            rises ? "takes longer at more current than the point before it"
                  : "is at no more current than the point before it",
            "the multiples rise and the times fall");
  }
}

}  // namespace housepower::design
