// SPDX-License-Identifier: Apache-2.0
// From the hypotheses that explain the readings to what is told of them.
#include "housepower/wiring/diagnosis.hpp"

#include <algorithm>
#include <cmath>

#include "diagnosis_work.hpp"

namespace housepower::wiring {

using namespace inside;

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
    hide();
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
    cause.is = c.is;
    cause.element = c.element;
    cause.odds = std::exp(std::min(log_odds, 600.0));  // within what a number holds
    if (c.run) cause.run = *c.run;
    cause.pole = c.pole;
    if (is_of_reading(c)) tell_reading(t, c, cause);
    else tell_part(t, n, c, cause);
    cause.cannot_be_told_from = alike(t, n);
    w_.out.causes.push_back(std::move(cause));
  }

  void tell_reading(const Tried& t, const Candidate& c, Cause& cause) {
    cause.read = c.read;
    const auto y = fitting_.predicted(t.fitted.hypothesis, t.fitted.values);
    const ReadPoint& read = w_.out.readings[c.read];
    cause.value = {y ? (*y)[c.read] : 0.0, read.measured.kind};
    cause.sigma = {fitting_.rows()[c.read].sd, read.measured.kind};
    cause.what = c.is == Cause::Is::reversed
                     ? "plus and minus are the wrong way round, of the wires or of the leads"
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
      cause.value = {whole, kind};
      cause.sigma = {whole * sd, kind};
    };
    switch (c.is) {
    case Cause::Is::joint:
    case Cause::Is::link:
      set(std::exp(value), kind_of<Resistance>);
      cause.what = c.is == Cause::Is::joint ? "a joint with ohms too many"
                                            : "a joint inside the bank with ohms too many";
      break;
    case Cause::Is::conductor:
    case Cause::Is::device:
    case Cause::Is::item: {
      double whole = 0, usual = 0;
      for (const std::size_t k : c.added.of) {
        whole += model.ohms(k);
        usual += model.usual(k);
      }
      set(whole, kind_of<Resistance>);
      cause.expected = Number(usual, kind_of<Resistance>);
      cause.what = c.is == Cause::Is::conductor ? (value > 0.0 ? "a thinner or longer conductor"
                                                               : "a thicker or shorter conductor")
                   : c.is == Cause::Is::device  ? "another device, or its contacts"
                                                : "another item, or its contacts";
      break;
    }
    case Cause::Is::battery: {
      const std::size_t feed = c.added.of.front();
      set(model.network().feeds[feed].internal.value(), kind_of<Resistance>);
      cause.expected = model.expected().feeds[feed].internal;
      cause.what = value > 0.0 ? "a battery with more resistance than the others may have"
                               : "a battery with less resistance than it should have";
      break;
    }
    case Cause::Is::load: {
      const std::size_t load = c.added.of.front();
      for (const CaseModel& one : fitting_.cases())
        if (load < one.network().loads.size() && one.network().loads[load].power.value() != 0.0) {
          set(one.network().loads[load].power.value(), kind_of<Power>);
          cause.expected = one.loads()[load].expected;
        }
      cause.what = value < -1.5  ? "it was not on"
                   : value < 0.0 ? "it draws less than the design says"
                                 : "it draws more than the design says";
      break;
    }
    case Cause::Is::resting: {
      const CaseModel& own = fitting_.cases()[c.added.in_case];
      const double u0 = own.open()[c.added.of.front()].expected.value();
      cause.value = {u0 + value, kind_of<Voltage>};
      cause.sigma = {sd, kind_of<Voltage>};
      cause.expected = Number(u0, kind_of<Voltage>);
      cause.what = "it rests at another voltage than the sheet says";
      break;
    }
    case Cause::Is::reading:
    case Cause::Is::reversed: break;
    }
    heat(t, c, cause);
  }

  void heat(const Tried& t, const Candidate& c, Cause& cause) {
    const bool of_parts = c.added.is == Unknown::Is::scale || c.added.is == Unknown::Is::extra;
    if (!of_parts && c.is != Cause::Is::battery) return;
    const auto amperes = [&] {
      double most = 0;
      std::vector<Unknown> all = fitting_.sound();
      all.insert(all.end(), t.fitted.hypothesis.added.begin(), t.fitted.hypothesis.added.end());
      for (std::size_t i = 0; i < w_.cases.size(); ++i)
        if (const auto point = w_.cases[i].solve(all, t.fitted.values, i))
          most = std::max(most, of_parts ? current_through(w_.cases[i], *point, c.added.of.front())
                                         : std::abs(point->feed[c.added.of.front()].value()));
      return most;
    };
    const double r = cause.value.si, now = amperes();
    cause.heat = Power::from_value(now * now * r);
    double full = 0;
    if (c.run) {
      const auto& current = w_.a.runs[*c.run].current;
      full = (c.pole == Pole::outgoing ? current.outgoing : current.back).value();
    } else {
      for (const CaseResult& one : w_.a.cases)
        if (const CaseResult* borne = one.borne())
          for (const auto& battery : borne->batteries)
            full = std::max(full, std::abs(battery.current.value()));
    }
    cause.heat_full = Power::from_value(std::max(full, now) * std::max(full, now) * r);
  }

  /// Candidates that could bring the same readings: what is left of this one's effect when they take
  /// its place is within the noise.
  std::vector<design::Subject> alike(const Tried& t, std::size_t n) {
    const Candidate& own = w_.candidates[t.candidates[n]];
    std::vector<design::Subject> names;
    if (is_of_reading(own)) return names;
    const Values effect = effect_of(t, n);
    if (effect.empty()) return names;
    const auto columns = search_.columns_at(t);
    const Values weighted = t.linear.covariance.solved(effect);
    const double whole = dot(effect, weighted);
    for (std::size_t k = 0; k < w_.candidates.size(); ++k) {
      const Candidate& other = w_.candidates[k];
      if (columns[k].empty() || other.element == own.element) continue;
      const double info = dot(columns[k], t.linear.covariance.solved(columns[k]));
      const double along = dot(columns[k], weighted);
      const bool joint = other.added.is == Unknown::Is::extra;
      const double sd = joint ? 0.1 : 1.5 * other.added.sd;
      const double least = along / (info + 1.0 / (sd * sd));
      if (joint && least <= 0.0) continue;
      if (0.5 * (whole - along * least) > told_apart) continue;
      if (std::find(names.begin(), names.end(), other.element) == names.end())
        names.push_back(other.element);
      rivals_.push_back({k, least});
    }
    return names;
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
          return c.is == Cause::Is::reading || c.is == Cause::Is::reversed;
        };
        if (causes[k].element != causes[i].element || wrong(causes[k]) != wrong(causes[i]))
          continue;
        if (!w_.out.together && causes[k].what != causes[i].what)
          causes[i].what += ", or " + causes[k].what;
        causes.erase(causes.begin() + std::ptrdiff_t(k));
      }
  }

  /// A joint that would just have been told, and two standard deviations more.
  void hide() {
    const Tried& t = last();
    const auto columns = search_.columns_at(t);
    for (std::size_t k = 0; k < w_.candidates.size(); ++k) {
      const Candidate& c = w_.candidates[k];
      if (c.is != Cause::Is::joint || columns[k].empty()) continue;
      const double info = dot(columns[k], t.linear.covariance.solved(columns[k]));
      if (!(info > 1.0)) {  // an ohm would be lost in the noise
        w_.out.could_hide.push_back({c.element, std::nullopt});
        continue;
      }
      const double needed =
          log_least_odds - c.log_prior + 0.5 * std::log1p(joint_linear * joint_linear * info);
      w_.out.could_hide.push_back(
          {c.element, Resistance::from_value((std::sqrt(2.0 * needed) + 2.0) / std::sqrt(info))});
    }
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

/// A case with its model and its readings' bands; why not.
enum class Idle { refused, left_out };  // a point where nothing flows in this case
std::string add_case(Work& w, std::size_t number, std::vector<Row>& rows, Idle idle) {
  const MeasuredCase& given = w.given[number];
  TestNetwork s = test_network_of(w.d, w.a, given.load);
  Solver solver(s.wired.network);
  const Solution solution = settle(s, solver);
  const auto* point = std::get_if<OperatingPoint>(&solution);
  if (!point) return "the network has no operating point under " + given.load.name;
  const OperatingPoint expected = *point;
  const auto answer = sheet_of(s, solver, expected, given.meter);
  if (const auto* none = std::get_if<NoTestSheet>(&answer)) return none->why;
  const auto& sheet = std::get<TestSheet>(answer);
  w.cases.emplace_back(std::move(s), expected);
  const CaseModel& model = w.cases.back();
  for (std::size_t i = 0; i < given.values.size(); ++i) {
    const Measured& m = given.values[i];
    const auto spot = std::find_if(model.spots().begin(), model.spots().end(),
                                   [&](const Spot& one) { return one.point.path == m.path; });
    if (spot == model.spots().end() && idle == Idle::left_out) continue;
    if (spot == model.spots().end()) return m.path.text() + " has no reading in " + given.load.name;
    ReadPoint read{number, i, spot->point, m.value, {}, {}, {}};
    for (const Reading& r : sheet.readings)
      if (r.name == m.path) {
        read.expected = r.expected;
        read.low = r.low;
        read.high = r.high;
        if (!(r.low.value() > 0.0)) read.low = -error_of(given.meter, r.kind, Voltage{});
      }
    rows.push_back({number, *spot, m.value.si, sd_of(given.meter, *spot, m.value.si)});
    w.out.readings.push_back(std::move(read));
  }
  return {};
}

/// A clamp's band: what the sound van shows, two standard deviations to each side.
void set_clamps(Work& w, Fitting& fitting) {
  const Values start = fitting.start_of({});
  const auto y = fitting.predicted({}, start);
  const auto rows = fitting.columns({}, start, fitting.sound());
  for (std::size_t i = 0; i < w.out.readings.size(); ++i) {
    ReadPoint& read = w.out.readings[i];
    if (y && rows && fitting.rows()[i].spot.clamp) {
      double variance = std::pow(fitting.rows()[i].sd, 2);
      for (std::size_t u = 0; u < fitting.sound().size(); ++u)
        variance += std::pow((*rows)[i][u] * fitting.sound()[u].sd, 2);
      const double wide = 2.0 * std::sqrt(variance);
      const Kind kind = kind_of<Current>;
      read.expected = {(*y)[i], kind};
      read.low = {(*y)[i] - wide, kind};
      read.high = {(*y)[i] + wide, kind};
    }
    read.in_band = read.measured.si >= read.low.si && read.measured.si <= read.high.si;
  }
}

}  // namespace

std::vector<Point> points_of(const design::Design& d, const Assessment& a) {
  std::vector<Point> points;
  const TestLoad nothing;
  for (const Probe& p : test_network_of(d, a, nothing).probes) {
    const design::Subject& path = p.reading.name;
    const design::Subject clamp = path.with("current");
    points.push_back({path, label_of_point(d, path), p.reading.probes, kind_of<Voltage>});
    if (p.reading.kind == Reading::Kind::along || path.is(design::Subject::Part::battery))
      points.push_back({clamp, label_of_point(d, clamp), "clamp around it", kind_of<Current>});
  }
  return points;
}

std::variant<std::vector<ReadPoint>, NoDiagnosis> sheet_points(const design::Design& d,
                                                               const Assessment& a,
                                                               const TestLoad& load,
                                                               const Meter& meter) {
  const auto known = points_of(d, a);
  MeasuredCase given{load, meter, {}};
  for (const Point& p : known) given.values.push_back({p.path, Number(0.0, p.kind)});
  const std::vector<MeasuredCase> cases{std::move(given)};
  Work w{d, a, cases};
  std::vector<Row> rows;
  if (auto why = add_case(w, 0, rows, Idle::left_out); !why.empty())
    return NoDiagnosis{std::move(why)};
  add_unknowns(w);
  Fitting fitting(w.cases, w.sound, rows);
  set_clamps(w, fitting);
  return std::move(w.out.readings);
}

DiagnosisAnswer diagnose(const design::Design& d, const Assessment& a,
                         const std::vector<MeasuredCase>& given) {
  Work w{d, a, given};
  std::vector<Row> rows;
  w.cases.reserve(given.size());
  for (std::size_t c = 0; c < given.size(); ++c)
    if (auto why = add_case(w, c, rows, Idle::refused); !why.empty())
      return NoDiagnosis{std::move(why)};
  if (rows.empty()) return NoDiagnosis{"nothing was read"};
  add_unknowns(w);
  Fitting fitting(w.cases, w.sound, rows);
  set_clamps(w, fitting);
  add_wrong_readings(w, rows);
  Search search(w, fitting);
  if (!search.run()) return NoDiagnosis{"the network has no operating point"};
  Telling(w, fitting, search).tell();
  return std::move(w.out);
}

}  // namespace housepower::wiring
