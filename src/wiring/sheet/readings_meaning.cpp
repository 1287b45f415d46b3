// SPDX-License-Identifier: Apache-2.0
// What the points and values of a file of readings mean, and what cannot be so.
#include <algorithm>
#include <cmath>

#include "housepower/parts/cell.hpp"
#include "housepower/units/unit.hpp"
#include "housepower/wiring/test_plan.hpp"
#include "readings_written.hpp"
#include "test_network.hpp"

namespace housepower::wiring::inside {
namespace {

// Of what is expected: nearer than that a reading is no slip of a thousand (from judgement).
constexpr double far_below = 0.05, far_above = 30.0, plausible_low = 0.3, plausible_high = 3.0;
/// At a post a slip is refused, so it must fit closely: what lies behind an open fuse has millivolts, too.
constexpr double close_low = 0.9, close_high = 1.1;
/// A drop is at most so much of what the bank rests at: then all of it is lost there, and the meter
/// shows too much.
constexpr double most_of_bank = 1.2;
/// Two values of one thing may differ by so many times both errors of the meter.
constexpr double errors_apart = 2.0;
/// A cell at rest lies between these (from judgement: what no cell in use leaves).
constexpr Voltage empty_cell = Voltage::from_value(2.5), full_cell = Voltage::from_value(3.65);

std::string where(const Place& at) {
  return at.file + ":" + std::to_string(at.line) + ":" + std::to_string(at.column);
}

Meter meter_of(const CaseOfFile& head) {
  Meter meter;
  if (!head.meter) return meter;
  const MeterOfFile& said = *head.meter;
  if (said.voltage) meter.voltage = *said.voltage;
  if (said.voltage_least) meter.volts_least = meter.drops_least = *said.voltage_least;
  if (said.current) meter.current = *said.current;
  if (said.current_least) meter.current_least = *said.current_least;
  return meter;
}

const Reading* in_sheet(const TestSheet& sheet, const design::Subject& path) {
  const auto at = std::find_if(sheet.readings.begin(), sheet.readings.end(),
                               [&](const Reading& r) { return r.name == path; });
  return at == sheet.readings.end() ? nullptr : &*at;
}

/// What was read at one point, and where it stands.
struct Read {
  const Point* point;
  Number value;
  Place point_at, value_at;
  std::string written;  // the point, as it was called
  [[nodiscard]] bool is_clamp() const { return point->kind == kind_of<Current>; }
  /// A clamp has no sign.
  [[nodiscard]] double shown() const { return is_clamp() ? std::abs(value.si) : value.si; }
};

class Meaning {
public:
  Meaning(const design::Design& d, const Assessment& a, const std::vector<TestLoad>& loads,
          Diagnostics& diagnostics, ReadingsFile& out)
      : d_(d), a_(a), loads_(loads), diagnostics_(diagnostics), points_(points_of(d, a)),
        out_(out) {}

  void understand(const WrittenCase& c) {
    // the usual case as sheets called it before
    const std::string_view name =
        c.head.name == "everything-on" ? all_appliances : std::string_view(c.head.name);
    const auto load = std::find_if(loads_.begin(), loads_.end(),
                                   [&](const TestLoad& l) { return l.name == name; });
    if (load == loads_.end()) {
      std::vector<std::string_view> names;
      for (const TestLoad& l : loads_) names.push_back(l.name);
      diagnostics_.error(c.head.place, "measured", "the design has no case \"" + c.head.name + "\"",
                         did_you_mean(c.head.name, names));
      return;
    }
    MeasuredCase measured{*load, meter_of(c.head), {}};
    if (c.head.resting && may_rest(*c.head.resting, c.resting_at.value_or(c.head.place)))
      measured.load.resting = c.head.resting;
    const auto answer = test_sheet(d_, a_, measured.load);
    if (const auto* none = std::get_if<NoTestSheet>(&answer)) {
      diagnostics_.error(c.head.place, "measured",
                         "no test sheet for " + c.head.name + ": " + none->why);
      return;
    }
    const auto& sheet = std::get<TestSheet>(answer);
    const std::vector<Read> values = read_of(c);
    if (was_dead(values, sheet, c.head)) return;  // or each drop would be told by itself
    const Voltage bank = bank_of(measured.load, sheet);
    std::vector<Read> kept;
    for (const Read& r : values)
      if (may_be_read(r, sheet, bank, c.head.name) && !contradicts(measured, kept, r))
        kept.push_back(r);
    contradicts_whole(measured.meter, kept);
    if (is_of_another(measured, kept, sheet, c.head)) return;
    ReadingsFile::Told told{c.head.at, c.head.by, c.head.place, {}};
    for (const Read& r : kept) {
      measured.values.push_back({r.point->path, r.value});
      told.values.push_back(r.value_at);
    }
    out_.cases.push_back(std::move(measured));
    out_.told.push_back(std::move(told));
  }

private:
  /// By its path, or by its label where only one point has that.
  const Point* point_named(const Written& w) {
    for (const Point& p : points_)
      if (p.path == w.point) return &p;
    const std::string plain = plain_minus(w.point);
    std::vector<const Point*> found;
    std::vector<std::string_view> names;
    for (const Point& p : points_) {
      if (plain_minus(p.label) == plain) found.push_back(&p);
      names.push_back(p.label);
      names.push_back(p.path.text());
    }
    if (found.size() == 1) return found.front();
    if (found.empty())
      diagnostics_.error(w.point_at, w.point, "the sheet has no point \"" + w.point + "\"",
                         did_you_mean(w.point, names));
    else
      diagnostics_.error(w.point_at, w.point, "\"" + w.point + "\" is more than one point",
                         "say which by its path: \"" + found[0]->path.text() + "\" or \"" +
                             found[1]->path.text() + "\"");
    return nullptr;
  }

  std::vector<Read> read_of(const WrittenCase& c) {
    std::vector<Read> all;
    for (const Written& w : c.values)
      if (const Point* point = point_named(w))
        if (const auto value = quantity_of(w.value, point->kind, w.point, w.value_at, diagnostics_))
          all.push_back({point, *value, w.point_at, w.value_at, w.point});
    return all;
  }

  bool may_rest(Voltage u, const Place& at) {
    if (!d_->bank) return true;
    const double cells = double(parts::cells_in_series(*d_->bank));
    if (u.value() > 0.0 && u >= empty_cell * cells && u <= full_cell * cells) return true;
    diagnostics_.error(
        at, "resting_voltage",
        "no bank of " + print_plain(cells, 2) + " cells in series rests at " + print(u, 4),
        "it rests between " + print(empty_cell * cells) + " and " + print(full_cell * cells));
    return false;
  }

  Voltage bank_of(const TestLoad& load, const TestSheet& sheet) const {
    if (const auto rest = resting_range(d_, load)) return rest->high;
    Voltage most{};
    for (const Reading& r : sheet.readings)
      if (r.kind == Reading::Kind::posts) most = std::max(most, r.high);
    return most;
  }

  /// The point carries a current in this case, and the value is one that can be there.
  bool may_be_read(const Read& r, const TestSheet& sheet, Voltage bank,
                   const std::string& of_case) {
    const Reading* expected =
        in_sheet(sheet, r.is_clamp() ? r.point->path.without_key() : r.point->path);
    if (!expected) {
      diagnostics_.error(r.point_at, r.written,
                         "no current flows there in " + of_case + ", so nothing is read");
      return false;
    }
    if (r.is_clamp()) return true;
    const double u = std::abs(r.value.si), high = std::max(expected->high.value(), 1e-3);
    const double low = expected->low.value();
    const bool drop = expected->kind != Reading::Kind::posts;
    const auto would_fit = [&](double x) {
      return x <= (drop ? plausible_high : close_high) * high &&
             x >= (drop ? plausible_low : close_low) * low;
    };
    const bool volts = u < far_below * low && would_fit(u * 1e3);
    const bool millivolts = u > far_above * high && would_fit(u * 1e-3);
    const bool cannot_be = drop ? u > most_of_bank * bank.value() : volts || millivolts;
    if (!cannot_be && !volts && !millivolts) return true;
    const std::string hint = volts ? "were volts meant?" : "were millivolts meant?";
    const std::string says = "reads " + print(r.value, 4) + ", expected " + print(expected->low) +
                             " to " + print(expected->high);
    if (cannot_be) diagnostics_.error(r.value_at, r.written, says, hint);
    else diagnostics_.warning(r.value_at, r.written, says, hint);
    return !cannot_be;
  }

  static double error_of_value(const Meter& meter, const Read& r) {
    const double share = double(r.is_clamp() ? meter.current : meter.voltage);
    const double least = r.is_clamp() ? meter.current_least.value() : meter.volts_least.value();
    return share * std::abs(r.value.si) + least;
  }

  /// Another value at the same point in the same case, of this table or of one before it.
  bool contradicts(const MeasuredCase& measured, const std::vector<Read>& before, const Read& r) {
    const double may = errors_apart * error_of_value(measured.meter, r);
    const auto differs = [&](const Number& other, const Place& at) {
      const double apart = std::abs((r.is_clamp() ? std::abs(other.si) : other.si) - r.shown());
      if (apart <= may) return false;
      diagnostics_.error(r.value_at, r.written,
                         "reads " + print(r.value, 4) + ", but " + print(other, 4) + " at " +
                             where(at),
                         "measure it again, and keep the right one");
      return true;
    };
    for (const Read& old : before)
      if (old.point->path == r.point->path && differs(old.value, old.value_at)) return true;
    for (std::size_t c = 0; c < out_.cases.size(); ++c) {
      if (out_.cases[c].load.name != measured.load.name) continue;
      const auto& values = out_.cases[c].values;
      for (std::size_t i = 0; i < values.size(); ++i)
        if (values[i].path == r.point->path && differs(values[i].value, out_.told[c].values[i]))
          return true;
    }
    return false;
  }

  /// A part that loses more than the whole of which it is one.
  void contradicts_whole(const Meter& meter, const std::vector<Read>& reads) {
    const auto find = [&](const design::Subject& path) {
      const auto at = std::find_if(reads.begin(), reads.end(),
                                   [&](const Read& r) { return r.point->path == path; });
      return at == reads.end() ? nullptr : &*at;
    };
    for (const auto& run : d_->runs) {
      const design::Subject at = subject_of(d_, run);
      const Read* out = find(at.outgoing());
      const Read* back = find(at.back());
      std::vector<const Read*> devices;
      for (std::size_t n = 0; n < run.protection.size(); ++n)
        if (const Read* device = find(at.protection(n))) devices.push_back(device);
      if (out) is_more(meter, devices, {out});
      const Read* joints = find(at.with("joints"));
      if (joints && out && back) is_more(meter, {joints}, {out, back});
    }
  }
  void is_more(const Meter& meter, const std::vector<const Read*>& parts,
               const std::vector<const Read*>& whole) {
    double of_parts = 0, of_whole = 0, error = 0;
    const auto add = [&](const std::vector<const Read*>& list, double& to) {
      for (const Read* r : list) {
        to += std::abs(r->value.si);
        error += double(meter.voltage) * std::abs(r->value.si) + meter.drops_least.value();
      }
    };
    add(parts, of_parts);
    add(whole, of_whole);
    if (parts.empty() || of_parts - of_whole <= errors_apart * error) return;
    const Read& part = *parts.front();
    diagnostics_.error(
        part.value_at, part.written,
        (parts.size() > 1 ? "with the other devices of its conductor it reads " : "reads ") +
            print(Voltage::from_value(of_parts), 4) + ", but all of " +
            whole.front()->point->label +
            (whole.size() > 1 ? " and " + whole.back()->point->label : "") + " " +
            print(Voltage::from_value(of_whole), 4) + " at " + where(whole.front()->value_at),
        "a part cannot lose more than the whole: measure both again");
  }

  /// Every drop is near nothing: then nothing was on.
  bool was_dead(const std::vector<Read>& values, const TestSheet& sheet, const CaseOfFile& head) {
    int drops = 0, dead = 0;
    for (const Read& v : values)
      if (const Reading* r = in_sheet(sheet, v.point->path);
          r && r->kind != Reading::Kind::posts && r->expected.value() > 5e-3) {
        ++drops;
        dead += std::abs(v.value.si) < 0.1 * r->expected.value();
      }
    if (drops < 2 || dead < drops) return false;
    diagnostics_.error(head.place, "measured",
                       "case \"" + head.name +
                           "\" was not on: no drop is a tenth of what is expected");
    return true;
  }

  /// Half of the drops do not fit, and those of another case do.
  bool is_of_another(const MeasuredCase& measured, const std::vector<Read>& reads,
                     const TestSheet& sheet, const CaseOfFile& head) {
    const auto [fit, of] = in_band(reads, sheet);
    if (of < 4 || 2 * fit >= of) return false;
    for (const TestLoad& other : loads_) {
      if (other.name == head.name) continue;
      TestLoad load = other;
      load.resting = measured.load.resting;
      const auto answer = test_sheet(d_, a_, load);
      const auto* its = std::get_if<TestSheet>(&answer);
      if (!its) continue;
      const auto [fit_other, of_other] = in_band(reads, *its);
      if (of_other < of || 10 * fit_other < 9 * of_other) continue;
      diagnostics_.error(head.place, "measured",
                         "case \"" + head.name + "\" was not on: the drops are those of \"" +
                             other.name + "\"",
                         "case = \"" + other.name + "\"");
      return true;
    }
    return false;
  }
  static std::pair<int, int> in_band(const std::vector<Read>& reads, const TestSheet& sheet) {
    int fit = 0, of = 0;
    for (const Read& v : reads)
      if (const Reading* r = in_sheet(sheet, v.point->path); r && r->kind != Reading::Kind::posts) {
        ++of;
        fit += v.value.si >= r->low.value() && v.value.si <= r->high.value();
      }
    return {fit, of};
  }

  const design::Design& d_;
  const Assessment& a_;
  const std::vector<TestLoad>& loads_;
  Diagnostics& diagnostics_;
  std::vector<Point> points_;
  ReadingsFile& out_;
};

}  // namespace

std::string plain_minus(std::string text) {
  constexpr std::string_view printed = "−";
  for (std::size_t at = 0; (at = text.find(printed, at)) != std::string::npos;)
    text.replace(at, printed.size(), "-");
  return text;
}

std::optional<Number> quantity_of(std::string text, Kind kind, const std::string& point,
                                  const Place& at, Diagnostics& diagnostics) {
  const auto parsed = parse_quantity(plain_minus(std::move(text)), kind);
  if (const auto* number = std::get_if<Number>(&parsed)) return *number;
  const auto& problem = std::get<ParseProblem>(parsed);
  diagnostics.error(at, point, problem.message, problem.hint);
  return std::nullopt;
}

void understand(const std::vector<WrittenCase>& cases, const design::Design& d, const Assessment& a,
                const std::vector<TestLoad>& loads, Diagnostics& diagnostics, ReadingsFile& out) {
  Meaning meaning(d, a, loads, diagnostics, out);
  for (const WrittenCase& c : cases) meaning.understand(c);
}

}  // namespace housepower::wiring::inside
