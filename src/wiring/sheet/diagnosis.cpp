// SPDX-License-Identifier: Apache-2.0
// From the readings of a van to a model of each case, and through the hypotheses to a diagnosis.
#include "housepower/wiring/diagnosis.hpp"

#include <algorithm>
#include <cmath>

#include "diagnosis_work.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

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
    Row row{number, *spot, m.value.si, sd_of(given.meter, *spot, m.value.si)};
    const bool drop = !spot->clamp && spot->kind != Reading::Kind::posts;
    row.turned = drop && row.measured < -3.0 * row.sd;
    if (row.turned || spot->clamp) row.measured = std::abs(row.measured);
    rows.push_back(std::move(row));
    w.out.readings.push_back(std::move(read));
  }
  return {};
}

/// Where one case has the bank's resting voltage, it is that of the others, too.
void rest_as_measured(Work& w) {
  std::optional<Voltage> last;
  for (const MeasuredCase& given : w.given)
    if (!last && given.load.resting) last = given.load.resting;
  for (std::size_t c = 0; last && c < w.given.size(); ++c) {
    if (w.given[c].load.resting) last = w.given[c].load.resting;
    w.cases[c].rest_at(*last);
  }
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
    const Row& row = fitting.rows()[i];  // a clamp has no sign
    const double shown = row.spot.clamp ? row.measured : read.measured.si;
    read.in_band = shown >= read.low.si && shown <= read.high.si;
  }
}

}  // namespace

const std::vector<Tolerance>& diagnosis_limits() {
  constexpr Source judged{SourceKind::from_memory, "judgement", ""};
  static const std::vector<Tolerance> all{
      {"odds",
       "a cause is named from " + print_plain(double(least_odds), 2) +
           " to 1 against nothing being wrong, all that is looked for together at even odds "
           "beforehand; a second one from as much against the first alone",
       {SourceKind::from_memory,
        "judgement: the usual bar of one in twenty; proved by simulated vans, docs/LINE.md", ""}},
      {"told apart",
       "two causes are told apart where the other makes the readings 20 times less likely", judged},
      {"ruled out", "a cause 1000 times less likely than the likeliest is not listed", judged},
      {"faults",
       "joints around 10 mΩ, two thirds between 3 and 33 mΩ; conductors within a factor of 1.6; "
       "devices and batteries of 2.7; loads of 2",
       judged},
      {"unexplained", "readings five of their own spreads off whatever is assumed", judged},
      {"could hide", "what would just have been named, and two standard deviations more", judged}};
  return all;
}

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
  rest_as_measured(w);
  add_unknowns(w);
  Fitting fitting(w.cases, w.sound, rows);
  set_clamps(w, fitting);
  add_wrong_readings(w, rows);
  Search search(w, fitting);
  if (!search.run()) return NoDiagnosis{"the network has no operating point"};
  tell(w, fitting, search);
  return std::move(w.out);
}

}  // namespace housepower::wiring
