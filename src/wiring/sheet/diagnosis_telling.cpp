// SPDX-License-Identifier: Apache-2.0
// From the hypotheses that explain the readings to what is told of them.
#include <algorithm>
#include <cmath>

#include "diagnosis_work.hpp"

namespace housepower::wiring::inside {
namespace {

using design::Pole;

constexpr double told_apart = 3.0;  // ln 20: a likelihood that is twenty times smaller
constexpr double ruled_out = 7.0;   // ln 1000 less than the likeliest

double current_through(const CaseModel& model, const OperatingPoint& point, std::size_t part) {
  return std::abs(at(point.branch, int(model.parts()[part].carrier)).value());
}

/// Value, spread and heat of one added unknown of a fit.
class Telling {
public:
  Telling(Work& w, Fitting& fitting, Search& search) : w_(w), fitting_(fitting), search_(search) {}

  void tell() {
    if (const auto& best = search_.best(); best && best->log_odds >= log_least_odds) {
      const Tried& t = *best;
      w_.out.together = t.candidates.size() > 1;
      for (std::size_t n = 0; n < t.candidates.size(); ++n) add(t, n, odds_in(t, n));
      if (!w_.out.together)
        for (const Tried& other : search_.singles())
          if (other.candidates != t.candidates && other.log_odds >= log_least_odds &&
              other.log_odds >= t.log_odds - ruled_out)
            add(other, 0, other.log_odds);
    }
    std::stable_sort(w_.out.causes.begin(), w_.out.causes.end(),
                     [](const Cause& x, const Cause& y) { return x.odds > y.odds; });
    join_same_elements();
    backwards();
    hide();
    unread();
    unexplained();
    batteries();
    next();
  }

private:
  [[nodiscard]] const Tried& last() const {
    return search_.best() && !w_.out.causes.empty() ? *search_.best() : search_.sound();
  }
  /// Of one of two causes, against the other alone.
  double odds_in(const Tried& t, std::size_t n) const {
    if (t.candidates.size() < 2) return t.log_odds;
    for (const Tried& one : search_.singles())
      if (one.candidates.front() == t.candidates[1 - n]) return t.log_odds - one.log_odds;
    return t.log_odds;
  }

  void add(const Tried& t, std::size_t n, double log_odds) {
    const Candidate& c = w_.candidates[t.candidates[n]];
    Cause cause;
    cause.it = suspect_of(c);
    cause.odds = odds_of(log_odds);
    if (is_of_reading(c)) tell_reading(t, c, cause);
    else tell_part(t, n, c, cause);
    tell_alike(t, n, cause);
    if (t.candidates.size() > 1) tell_other_pairs(t, n, cause);
    w_.out.causes.push_back(std::move(cause));
  }

  static Ratio odds_of(double log_odds) {
    return std::exp(std::min(log_odds, 600.0));  // within what a number holds
  }

  /// A candidate without its value.
  Suspect suspect_of(const Candidate& c) const {
    Suspect s;
    s.is = c.is;
    s.element = c.element;
    if (c.run) s.run = *c.run;
    s.pole = c.pole;
    if (!is_of_reading(c)) s.most = most_through(c);
    return s;
  }

  /// The largest current of the design's cases through a candidate; nothing where heat is no matter.
  std::optional<Current> most_through(const Candidate& c) const {
    const bool of_parts = c.added.is == Unknown::Is::scale || c.added.is == Unknown::Is::extra;
    if (!of_parts && c.is != Cause::Is::battery) return std::nullopt;
    if (c.run) {
      const auto& current = w_.a.runs[*c.run].current;
      return c.pole == Pole::outgoing ? current.outgoing : current.back;
    }
    Current most{};
    for (const CaseResult& one : w_.a.cases)
      if (const CaseResult* borne = one.borne())
        for (const auto& battery : borne->batteries)
          most = std::max(most, Current::from_value(std::abs(battery.current.value())));
    return most;
  }

  void tell_reading(const Tried& t, const Candidate& c, Cause& cause) {
    cause.read = c.read;
    const auto y = fitting_.predicted(t.fitted.hypothesis, t.fitted.values);
    const ReadPoint& read = w_.out.readings[c.read];
    cause.it.value = {y ? (*y)[c.read] : 0.0, read.measured.kind};
    cause.sigma = {fitting_.rows()[c.read].sd, read.measured.kind};
    cause.what = c.is == Cause::Is::reversed
                     ? "plus and minus are reversed, in the wiring or at the meter's leads"
                     : "this one reading does not fit all the others";
  }

  /// Where the added unknown of a candidate stands among those of the fit.
  static std::size_t added_of(const Work& w, const Tried& t, std::size_t n) {
    std::size_t before = 0;
    for (std::size_t i = 0; i < n; ++i)
      before += is_of_reading(w.candidates[t.candidates[i]]) ? 0U : 1U;
    return before;
  }

  void tell_part(const Tried& t, std::size_t n, const Candidate& c, Cause& cause) {
    const std::size_t a = added_of(w_, t, n), u = fitting_.sound().size() + a;
    const double value = t.fitted.values[u], sd = t.fitted.sd[a];
    (void)fitting_.predicted(t.fitted.hypothesis, t.fitted.values);  // the models stand there
    CaseModel& model = fitting_.cases().front();
    const auto set = [&](double whole, Kind kind) {
      cause.it.value = {whole, kind};
      cause.sigma = {whole * sd, kind};
    };
    switch (c.is) {
    case Cause::Is::joint:
    case Cause::Is::link:
      set(std::exp(value), kind_of<Resistance>);
      cause.what = c.is == Cause::Is::joint ? "a high-resistance joint"
                                            : "a high-resistance joint inside the bank";
      break;
    case Cause::Is::conductor:
    case Cause::Is::device:
    case Cause::Is::item: {
      double whole = 0;
      for (const std::size_t k : c.added.of) whole += model.ohms(k);
      set(whole, kind_of<Resistance>);
      cause.it.expected = Number(usual_of(c), kind_of<Resistance>);
      cause.what = c.is == Cause::Is::conductor ? (value > 0.0 ? "a thinner or longer conductor"
                                                               : "a thicker or shorter conductor")
                   : c.is == Cause::Is::device  ? "a different device, or its contacts"
                                                : "a different item, or its contacts";
      break;
    }
    case Cause::Is::battery: {
      const std::size_t feed = c.added.of.front();
      set(model.network().feeds[feed].internal.value(), kind_of<Resistance>);
      cause.it.expected = model.expected().feeds[feed].internal;
      cause.what = value > 0.0 ? "a battery with more resistance than the others may have"
                               : "a battery with less resistance than it should have";
      break;
    }
    case Cause::Is::load: {
      const std::size_t load = c.added.of.front();
      for (const CaseModel& one : fitting_.cases())
        if (load < one.network().loads.size() && one.network().loads[load].power.value() != 0.0) {
          set(one.network().loads[load].power.value(), kind_of<Power>);
          cause.it.expected = one.loads()[load].expected;
        }
      cause.what = value < -1.5  ? "it was not on"
                   : value < 0.0 ? "it draws less than the design says"
                                 : "it draws more than the design says";
      break;
    }
    case Cause::Is::resting: {
      const double u0 = w_.first().open()[c.added.of.front()].expected.value();
      cause.it.value = {u0 + value, kind_of<Voltage>};
      cause.sigma = {sd, kind_of<Voltage>};
      cause.it.expected = Number(u0, kind_of<Voltage>);
      cause.what = "it rests at a different voltage from the sheet";
      break;
    }
    case Cause::Is::reading:
    case Cause::Is::reversed: break;
    }
    heat(t, c, cause);
  }

  void heat(const Tried& t, const Candidate& c, Cause& cause) {
    if (!cause.it.most) return;
    std::vector<Unknown> all = fitting_.sound();
    all.insert(all.end(), t.fitted.hypothesis.added.begin(), t.fitted.hypothesis.added.end());
    double now = 0;
    for (std::size_t i = 0; i < w_.cases.size(); ++i)
      if (const auto point = w_.cases[i].solve(all, t.fitted.values, i))
        now = std::max(now, c.is == Cause::Is::battery
                                ? std::abs(point->feed[c.added.of.front()].value())
                                : current_through(w_.cases[i], *point, c.added.of.front()));
    cause.it.most = std::max(*cause.it.most, Current::from_value(now));
    const double r = cause.it.value.si, most = cause.it.most->value();
    cause.heat = Power::from_value(now * now * r);
    cause.heat_full = Power::from_value(most * most * r);
  }

  /// Ohms of its parts as the design has them.
  double usual_of(const Candidate& c) const {
    double usual = 0;
    for (const std::size_t k : c.added.of) usual += w_.first().usual(k);
    return usual;
  }
  /// A candidate that brings what so much of its column brings: ohms, a share, volts.
  Suspect suspect_with(const Candidate& c, double size) const {
    Suspect s = suspect_of(c);
    switch (c.is) {
    case Cause::Is::joint:
    case Cause::Is::link: s.value = {size, kind_of<Resistance>}; break;
    case Cause::Is::conductor:
    case Cause::Is::device:
    case Cause::Is::item:
      s.expected = Number(usual_of(c), kind_of<Resistance>);
      s.value = {s.expected->si * std::max(1.0 + size, 0.0), kind_of<Resistance>};
      break;
    case Cause::Is::battery:
      s.expected = w_.first().expected().feeds[c.added.of.front()].internal;
      s.value = {s.expected->si * std::max(1.0 + size, 0.0), kind_of<Resistance>};
      break;
    case Cause::Is::load:
    case Cause::Is::resting:
    case Cause::Is::reading:
    case Cause::Is::reversed: break;  // no rule judges its size
    }
    return s;
  }

  /// Candidates that could bring the same readings: what is left of this one's effect when they take
  /// its place is within the noise.
  void tell_alike(const Tried& t, std::size_t n, Cause& cause) {
    const Candidate& own = w_.candidates[t.candidates[n]];
    if (is_of_reading(own)) return;
    const Values effect = effect_of(t, n);
    if (effect.empty()) return;
    auto& names = cause.cannot_be_told_from;
    const auto columns = search_.columns_at(t);
    const Values weighted = t.linear.covariance.solved(effect);
    const double whole = dot(effect, weighted);
    for (std::size_t k = 0; k < w_.candidates.size(); ++k) {
      const Candidate& other = w_.candidates[k];
      if (columns[k].empty() || k == t.candidates[n]) continue;
      const double info = dot(columns[k], t.linear.covariance.solved(columns[k]));
      const double along = dot(columns[k], weighted);
      const bool joint = other.added.is == Unknown::Is::extra;
      const double sd = joint ? 0.1 : 1.5 * other.added.sd;
      const double least = along / (info + 1.0 / (sd * sd));
      if (joint && least <= 0.0) continue;
      if (0.5 * (whole - along * least) > told_apart) continue;
      cause.instead.push_back(suspect_with(other, least));
      if (other.element == own.element) continue;
      if (std::find(names.begin(), names.end(), other.element) == names.end())
        names.push_back(other.element);
      rivals_.push_back({k, least});
    }
  }
  /// Of two causes: what else, beside the other one, is not a thousand times less likely.
  void tell_other_pairs(const Tried& t, std::size_t n, Cause& cause) {
    for (const Tried& pair : search_.pairs()) {
      if (pair.candidates == t.candidates || pair.log_odds < t.log_odds - ruled_out) continue;
      for (const std::size_t k : {0U, 1U}) {
        if (pair.candidates[1 - k] != t.candidates[1 - n]) continue;
        if (pair.candidates[k] == t.candidates[n]) continue;
        const Candidate& other = w_.candidates[pair.candidates[k]];
        if (is_of_reading(other)) continue;
        Cause instead;
        instead.it = suspect_of(other);
        tell_part(pair, k, other, instead);
        cause.instead.push_back(instead.it);
        auto& names = cause.cannot_be_told_from;
        if (other.element != cause.it.element &&
            std::find(names.begin(), names.end(), other.element) == names.end())
          names.push_back(other.element);
      }
    }
  }

  /// What the readings are with this cause, less what they would be without.
  Values effect_of(const Tried& t, std::size_t n) {
    const std::size_t a = added_of(w_, t, n);
    const auto with_it = fitting_.predicted(t.fitted.hypothesis, t.fitted.values);
    Hypothesis h = t.fitted.hypothesis;
    Values values = t.fitted.values;
    h.added.erase(h.added.begin() + std::ptrdiff_t(a));
    values.erase(values.begin() + std::ptrdiff_t(fitting_.sound().size() + a));
    const auto without = fitting_.predicted(h, values);
    if (!with_it || !without) return {};
    Values effect = *with_it;
    for (std::size_t i = 0; i < effect.size(); ++i) effect[i] -= (*without)[i];
    return effect;
  }

  /// Two explanations at one place are one cause with a choice.
  void join_same_elements() {
    auto& causes = w_.out.causes;
    for (std::size_t i = 0; i < causes.size(); ++i)
      for (std::size_t k = causes.size(); k-- > i + 1;) {
        const auto wrong = [](const Cause& c) {
          return c.it.is == Cause::Is::reading || c.it.is == Cause::Is::reversed;
        };
        if (causes[k].it.element != causes[i].it.element || wrong(causes[k]) != wrong(causes[i]))
          continue;
        if (!w_.out.together && causes[k].what != causes[i].what)
          causes[i].what += ", or " + causes[k].what;
        causes[i].instead.push_back(causes[k].it);
        causes.erase(causes.begin() + std::ptrdiff_t(k));
      }
  }

  /// Drops below nothing: their amount went into the fit, and each is told besides what that found.
  void backwards() {
    const auto y = fitting_.predicted(last().fitted.hypothesis, last().fitted.values);
    for (std::size_t i = 0; y && i < fitting_.rows().size(); ++i) {
      const Row& row = fitting_.rows()[i];
      const ReadPoint& read = w_.out.readings[i];
      if (!row.turned) continue;
      const double tolerance = 0.5 * (read.high.si - read.low.si) / half_a_band;
      const double log_odds =
          2.0 * row.measured * std::abs((*y)[i]) / (row.sd * row.sd + tolerance * tolerance) +
          log_misread(fitting_.rows().size());
      if (log_odds < log_least_odds) continue;
      Cause cause;
      cause.it.is = Cause::Is::reversed;
      cause.it.element = read.point.path;
      cause.it.value = {(*y)[i], read.measured.kind};
      cause.sigma = {row.sd, read.measured.kind};
      cause.what = "probes reversed or current flows backwards";
      cause.odds = odds_of(log_odds);
      cause.read = i;
      w_.out.causes.push_back(std::move(cause));
    }
  }

  /// A joint or contact that would just have been told, and two standard deviations more.
  void hide() {
    const Tried& t = last();
    const auto columns = search_.columns_at(t);
    for (std::size_t k = 0; k < w_.candidates.size(); ++k) {
      const Candidate& c = w_.candidates[k];
      const bool joint = c.is == Cause::Is::joint || c.is == Cause::Is::link;
      if (columns[k].empty() || !(joint || c.is == Cause::Is::device || c.is == Cause::Is::item))
        continue;
      const double usual = joint ? 1.0 : usual_of(c);  // of a device the column is by its own ohms
      const double info = dot(columns[k], t.linear.covariance.solved(columns[k])) / (usual * usual);
      w_.out.could_hide.push_back({c.element, hidden(c, info, joint ? joint_linear : usual)});
    }
  }
  /// `info`: of one ohm, in inverse variance; `range`: of a fault there, in ohms.
  std::optional<Resistance> hidden(const Candidate& c, double info, double range) const {
    if (!(info > 1.0)) return std::nullopt;  // an ohm would be lost in the noise
    const double needed = log_least_odds - c.log_prior + 0.5 * std::log1p(range * range * info);
    double ohms = (std::sqrt(2.0 * needed) + 2.0) / std::sqrt(info);
    if (c.added.is == Unknown::Is::scale) {  // a factor far from one is unlikely by itself
      const double factor = std::log1p(ohms / range) / c.added.sd;
      ohms = (std::sqrt(2.0 * needed + factor * factor + 2.0 * std::log1p(ohms / range)) + 2.0) /
             std::sqrt(info);
    }
    return Resistance::from_value(ohms);
  }

  /// Poles that carry a current while nobody reads their drop.
  void unread() {
    for (std::size_t i = 0; i < w_.d->runs.size(); ++i) {
      const design::Subject run = subject_of(w_.d, w_.d->runs[i]);
      const auto& branches = w_.first().wired().runs[i];
      for (const auto& [element, branch] :
           {std::pair(run.outgoing(), branches.outgoing), std::pair(run.back(), branches.back)})
        if (const auto in_case = first_unread(element, branch))
          w_.out.unread.push_back({element, w_.given[*in_case].load.name});
      const bool live = (branches.outgoing >= 0 && w_.live(std::size_t(branches.outgoing))) ||
                        (branches.back >= 0 && w_.live(std::size_t(branches.back)));
      if (!live) w_.out.idle.push_back({int(i)});
    }
  }
  /// The first case in which it carries a current; nothing: none, or it was read.
  std::optional<std::size_t> first_unread(const design::Subject& pole, int branch) const {
    std::optional<std::size_t> first;
    for (std::size_t c = 0; branch >= 0 && c < w_.cases.size(); ++c) {
      if (!w_.cases[c].live(std::size_t(branch))) continue;
      const auto& values = w_.given[c].values;
      if (std::any_of(values.begin(), values.end(),
                      [&](const Measured& m) { return m.path == pole; }))
        return std::nullopt;
      if (!first) first = c;
    }
    return first;
  }

  void unexplained() {
    const double m = double(fitting_.rows().size());
    w_.out.unexplained = last().fitted.misfit > m + 5.0 * std::sqrt(2.0 * m);
  }

  void batteries() {
    const Tried& t = last();
    std::vector<Unknown> all = fitting_.sound();
    all.insert(all.end(), t.fitted.hypothesis.added.begin(), t.fitted.hypothesis.added.end());
    double most = 0;
    for (std::size_t c = 0; c < w_.cases.size(); ++c) {
      const auto point = w_.cases[c].solve(all, t.fitted.values, c);
      if (!point) continue;
      std::vector<Current> currents;
      double sum = 0;
      for (const int b : w_.first().wired().batteries) {
        currents.push_back(at(point->feed, b));
        sum += currents.back().value();
      }
      if (sum <= most) continue;
      most = sum;
      w_.out.batteries = std::move(currents);
    }
  }

  /// The point not yet read where the likeliest cause and one that it cannot be told from differ most.
  void next() {
    const Tried* leading = likeliest_part();
    if (leading == nullptr) return;
    const Tried& t = *leading;
    const Candidate& own = w_.candidates[t.candidates.front()];
    std::vector<std::pair<std::size_t, double>> rivals = rivals_;
    for (const Tried& one : search_.singles())
      if (w_.candidates[one.candidates.front()].element != own.element &&
          !w_.candidates[one.candidates.front()].added.of.empty() &&
          one.log_odds > t.log_odds - ruled_out)
        rivals.emplace_back(one.candidates.front(), size_of(one));
    if (rivals.empty()) return;
    std::vector<Unknown> unknowns = fitting_.sound(), asked{own.added};
    unknowns.insert(unknowns.end(), t.fitted.hypothesis.added.begin(),
                    t.fitted.hypothesis.added.end());
    for (const auto& rival : rivals) asked.push_back(w_.candidates[rival.first].added);
    double best = 2.0;
    for (std::size_t c = 0; c < w_.cases.size(); ++c) {
      CaseModel& model = w_.cases[c];
      const auto point = model.solve(unknowns, t.fitted.values, c);
      if (!point) continue;
      const auto rows =
          model.derivatives(model.spots(), asked, Values(asked.size(), 0.0), *point, c);
      const auto tolerances =
          model.derivatives(model.spots(), fitting_.sound(), t.fitted.values, *point, c);
      for (std::size_t s = 0; s < rows.size(); ++s) {
        const Spot& spot = model.spots()[s];
        if (already(spot, c)) continue;
        double noise = sd_of(w_.given[c].meter, spot, model.read(spot, *point));
        noise *= noise;
        for (std::size_t u = 0; u < fitting_.sound().size(); ++u)
          noise += std::pow(tolerances[s][u] * fitting_.sound()[u].sd, 2);
        for (std::size_t r = 0; r < rivals.size(); ++r) {
          const double apart =
              std::abs(rows[s][0] * size_of(t) - rows[s][r + 1] * rivals[r].second) /
              std::sqrt(noise);
          if (apart <= best) continue;
          best = apart;
          w_.out.next = NextReading{spot.point,
                                    w_.given[c].load.name,
                                    {own.element, w_.candidates[rivals[r].first].element}};
        }
      }
    }
  }
  /// The likeliest that is no wrong reading: that is read again anyhow.
  [[nodiscard]] const Tried* likeliest_part() const {
    const auto is_part = [&](const Tried& t) {
      return t.log_odds >= log_least_odds && !w_.candidates[t.candidates.front()].added.of.empty();
    };
    if (search_.best() && is_part(*search_.best())) return &*search_.best();
    for (const Tried& one : search_.singles())
      if (is_part(one)) return &one;
    return nullptr;
  }
  /// The size of a cause in the unit of its column: ohms, a share, volts.
  double size_of(const Tried& t) const {
    const double value = t.fitted.values[fitting_.sound().size()];
    const auto is = t.fitted.hypothesis.added.front().is;
    return is == Unknown::Is::extra  ? std::exp(value)
           : is == Unknown::Is::open ? value
                                     : std::expm1(value);
  }
  bool already(const Spot& spot, std::size_t of_case) const {
    return std::any_of(fitting_.rows().begin(), fitting_.rows().end(), [&](const Row& row) {
      return row.of_case == of_case && row.spot.point.path == spot.point.path;
    });
  }

  Work& w_;
  Fitting& fitting_;
  Search& search_;
  std::vector<std::pair<std::size_t, double>> rivals_{};
};

}  // namespace

void tell(Work& w, Fitting& fitting, Search& search) { Telling(w, fitting, search).tell(); }

}  // namespace housepower::wiring::inside
