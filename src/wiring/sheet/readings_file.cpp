// SPDX-License-Identifier: Apache-2.0
#include "housepower/wiring/readings_file.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/reading/csv.hpp"
#include "housepower/reading/node.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::wiring {
namespace {

struct VanOfFile {
  std::optional<std::string> serial, design;
};
struct MeterOfFile {
  std::optional<Ratio> voltage, current;
  std::optional<Voltage> voltage_least;
  std::optional<Current> current_least;
};
struct CaseOfFile {
  std::string name;
  std::optional<std::string> at, by;
  std::optional<MeterOfFile> meter;
  std::optional<Voltage> resting;
  Place place;
};
struct File {
  int schema = 1;
  std::optional<VanOfFile> van;
  std::vector<CaseOfFile> measured;
  std::vector<CheckedByHand> checked;
};

}  // namespace
}  // namespace housepower::wiring

namespace housepower {
namespace {
using wiring::CaseOfFile, wiring::File, wiring::MeterOfFile, wiring::VanOfFile;
}
template <>
inline constexpr auto fields<wiring::VanOfFile> = std::array{
    field<&VanOfFile::serial>("serial", "Of the van.", "T2-0417"),
    field<&VanOfFile::design>("design", "The design file that it was built by.", "two-berth.toml")};
template <>
inline constexpr auto fields<wiring::MeterOfFile> = std::array{
    field<&MeterOfFile::voltage>("voltage", "Its limit of error, of what it shows.", "0.5 %")
        .at_least(Ratio(0.0))
        .at_most(Ratio(0.2)),
    field<&MeterOfFile::voltage_least>("voltage_least", "And so much more.", "2 mV")
        .more_than(0.0 * volt)
        .at_most(1.0 * volt),
    field<&MeterOfFile::current>("current", "The same of the clamp.", "2 %")
        .at_least(Ratio(0.0))
        .at_most(Ratio(0.2)),
    field<&MeterOfFile::current_least>("current_least", "And so much more.", "0.1 A")
        .more_than(0.0 * ampere)
        .at_most(10.0 * ampere)};
template <>
inline constexpr auto fields<wiring::CaseOfFile> = std::array{
    field<&CaseOfFile::name>("case", "What was switched on: a case of the design.", "dinner"),
    field<&CaseOfFile::at>("at", "When.", "2026-03-14 10:20"),
    field<&CaseOfFile::by>("by", "Who.", "line 7"),
    field<&CaseOfFile::meter>("meter", "The meter; left out, 1 % and a digit."),
    field<&CaseOfFile::resting>("resting_voltage", "Of the bank, before, with nothing on.",
                                "13.31 V")
        .more_than(0.0 * volt)
        .at_most(60.0 * volt)};
template <>
inline constexpr auto fields<wiring::CheckedByHand> =
    std::array{field<&wiring::CheckedByHand::what>(
                   "what", "A dead test, or an item of the inspection list.", "bank to chassis"),
               field<&wiring::CheckedByHand::value>("value", "What was measured.", "2.1 MΩ"),
               field<&wiring::CheckedByHand::result>("result", "What was seen.", "yes"),
               field<&wiring::CheckedByHand::by>("by", "Who.", "line 7")};
template <>
inline constexpr auto fields<wiring::File> =
    std::array{field<&File::schema>("schema", "Version of the format: 1.", "1"),
               field<&File::van>("van", "Which van."),
               field<&File::measured>("measured", "One for each case that was switched on."),
               field<&File::checked>("checked", "Dead tests, and what only a person sees.")};
}  // namespace housepower

namespace housepower::wiring {
namespace {

/// A value as written, before it is known what it means.
struct Written {
  std::string point, value;
  Place point_at, value_at;
};
struct WrittenCase {
  CaseOfFile head;
  std::vector<Written> values;
};

std::string plain_minus(std::string label) {
  for (std::size_t at = 0; (at = label.find("−", at)) != std::string::npos;)
    label.replace(at, std::string_view("−").size(), "-");
  return label;
}

class Reader {
public:
  Reader(const design::Design& d, const Assessment& a, const std::vector<TestLoad>& loads,
         Diagnostics& diagnostics)
      : d_(d), a_(a), loads_(loads), diagnostics_(diagnostics), points_(points_of(d, a)) {}

  std::optional<ReadingsFile> toml(std::string_view text, std::string_view file) {
    auto node = parse_toml(text, file, diagnostics_);
    if (!node) return std::nullopt;
    auto values = take_values(*node);
    Reading_ reading{diagnostics_};
    const auto read_file = housepower::read<File>(*node, reading);
    if (!read_file) return std::nullopt;
    if (read_file->schema != 1) {
      diagnostics_.error(node->at("schema")->place, "schema", "this program reads schema 1");
      return std::nullopt;
    }
    if (read_file->van) out_.serial = read_file->van->serial, out_.design = read_file->van->design;
    out_.checked = read_file->checked;
    std::vector<WrittenCase> cases;
    for (std::size_t i = 0; i < read_file->measured.size(); ++i)
      cases.push_back({read_file->measured[i], std::move(values[i])});
    return understood(cases, node->place);
  }

  std::optional<ReadingsFile> csv(std::string_view text, std::string_view file) {
    const auto table = parse_csv(text, file, std::nullopt, diagnostics_);
    if (!table || table->rows.empty()) return std::nullopt;
    const auto column = [&](std::string_view name) {
      const auto& head = table->rows.front();
      const auto at = std::find_if(head.begin(), head.end(),
                                   [&](const Csv::Cell& cell) { return cell.text == name; });
      return at == head.end() ? head.size() : std::size_t(at - head.begin());
    };
    const std::size_t of_case = column("case"), point = column("point"), label = column("label"),
                      unit = column("unit"), value = column("read");
    const Place top = table->place_of(table->rows.front().front());
    for (const auto& [at, name] : {std::pair(value, "read"), std::pair(unit, "unit")})
      if (at == table->rows.front().size())
        diagnostics_.error(top, "", std::string("the sheet has no column \"") + name + "\"",
                           "as test-sheet --format csv writes it");
    if (point == table->rows.front().size() && label == table->rows.front().size())
      diagnostics_.error(top, "", "the sheet has neither a column \"point\" nor \"label\"");
    if (diagnostics_.any_error()) return std::nullopt;
    std::vector<WrittenCase> cases;
    for (std::size_t r = 1; r < table->rows.size(); ++r) {
      const Csv::Row& row = table->rows[r];
      const auto cell = [&](std::size_t c) {
        return c < row.size() ? std::string(without_guard(row[c].text)) : std::string();
      };
      if (cell(value).empty()) continue;
      const std::string name =
          of_case < table->rows.front().size() || loads_.empty() ? cell(of_case) : loads_[0].name;
      auto found = std::find_if(cases.begin(), cases.end(),
                                [&](const WrittenCase& c) { return c.head.name == name; });
      if (found == cases.end()) {
        CaseOfFile head;
        head.name = name;
        head.place = table->place_of(row.front());
        found = cases.insert(cases.end(), {head, {}});
      }
      const Place here = table->place_of(row[value]);
      const std::size_t named = cell(point).empty() ? label : point;
      std::string text_of_value = cell(value);
      const bool bare = text_of_value.find_first_not_of("0123456789.,+-") == std::string::npos;
      if (bare) {
        std::replace(text_of_value.begin(), text_of_value.end(), ',', '.');
        text_of_value += " " + cell(unit);
      }
      if (cell(named) == resting_point) {
        if (const auto rest = quantity(text_of_value, kind_of<Voltage>, cell(named), here))
          found->head.resting = Voltage::from_value(rest->si);
        continue;
      }
      found->values.push_back({cell(named), text_of_value,
                               named < row.size() ? table->place_of(row[named]) : here, here});
    }
    return understood(cases, top);
  }

private:
  using Reading_ = housepower::Reading;

  /// The tables `values`, whose keys are points, taken out of the tree.
  std::vector<std::vector<Written>> take_values(Node& file) {
    std::vector<std::vector<Written>> all;
    Node::Entry* measured = file.find("measured");
    auto* list = measured ? std::get_if<Node::List>(&measured->value.value) : nullptr;
    if (!list) return all;
    for (Node& one : *list) {
      auto& written = all.emplace_back();
      auto* table = std::get_if<Node::Table>(&one.value);
      if (!table) continue;
      const auto at = std::find_if(table->begin(), table->end(),
                                   [](const Node::Entry& e) { return e.key == "values"; });
      if (at == table->end()) {
        diagnostics_.error(one.place, "measured", "nothing is read here: \"values\" is missing",
                           "values = { \"W04+\" = \"71 mV\" }");
        continue;
      }
      if (const auto* values = std::get_if<Node::Table>(&at->value.value)) {
        for (const Node::Entry& e : *values)
          if (const auto* text = std::get_if<std::string>(&e.value.value))
            written.push_back({e.key, *text, e.place, e.value.place});
          else
            diagnostics_.error(e.value.place, "measured/values/" + e.key,
                               "wants a value with its unit such as \"71 mV\"");
      } else {
        diagnostics_.error(at->value.place, "measured/values", "wants a table of points",
                           "values = { \"W04+\" = \"71 mV\" }");
      }
      table->erase(at);
    }
    return all;
  }

  std::optional<Number> quantity(const std::string& text, Kind kind, const std::string& point,
                                 const Place& at) {
    const auto parsed = parse_quantity(text, kind);
    if (const auto* number = std::get_if<Number>(&parsed)) return *number;
    const auto& problem = std::get<ParseProblem>(parsed);
    diagnostics_.error(at, point, problem.message, problem.hint);
    return std::nullopt;
  }

  const Point* point_named(const Written& w) {
    const std::string plain = plain_minus(w.point);
    std::vector<std::string_view> names;
    for (const Point& p : points_) {
      if (p.path == w.point || plain_minus(p.label) == plain) return &p;
      names.push_back(p.label);
      names.push_back(p.path.text());
    }
    diagnostics_.error(w.point_at, w.point, "the sheet has no point \"" + w.point + "\"",
                       did_you_mean(w.point, names));
    return nullptr;
  }

  std::optional<ReadingsFile> understood(const std::vector<WrittenCase>& cases,
                                         const Place& whole) {
    if (cases.empty() && !diagnostics_.any_error())
      diagnostics_.error(whole, "", "nothing is read in it");
    for (const WrittenCase& c : cases) understand(c);
    if (diagnostics_.any_error()) return std::nullopt;
    return std::move(out_);
  }

  void understand(const WrittenCase& c) {
    const auto load = std::find_if(loads_.begin(), loads_.end(),
                                   [&](const TestLoad& l) { return l.name == c.head.name; });
    if (load == loads_.end()) {
      std::vector<std::string_view> names;
      for (const TestLoad& l : loads_) names.push_back(l.name);
      diagnostics_.error(c.head.place, "measured", "the design has no case \"" + c.head.name + "\"",
                         did_you_mean(c.head.name, names));
      return;
    }
    MeasuredCase measured{*load, meter_of(c.head), {}};
    if (c.head.resting) measured.load.resting = c.head.resting;
    const auto answer = test_sheet(d_, a_, measured.load);
    const auto* sheet = std::get_if<TestSheet>(&answer);
    if (!sheet) {
      diagnostics_.error(c.head.place, "measured",
                         "no test sheet for " + c.head.name + ": " +
                             std::get<NoTestSheet>(answer).why);
      return;
    }
    ReadingsFile::Told told{c.head.at, c.head.by, c.head.place, {}};
    struct Understood {
      const Written* written;
      const Point* point;
      Number value;
    };
    std::vector<Understood> values;
    for (const Written& w : c.values)
      if (const Point* point = point_named(w))
        if (const auto value = quantity(w.value, point->kind, w.point, w.value_at)) {
          values.push_back({&w, point, *value});
          measured.values.push_back({point->path, *value});
        }
    if (was_dead(measured, *sheet, c.head)) return;  // or each drop would be told by itself
    measured.values.clear();
    for (const auto& [w, point, value] : values) {
      if (!may_be_read(*point, value, *w, *sheet, c.head.name) ||
          contradicts(measured, told, *point, value, *w))
        continue;
      measured.values.push_back({point->path, value});
      told.values.push_back(w->value_at);
    }
    if (is_of_another(measured, *sheet, c.head)) return;
    out_.cases.push_back(std::move(measured));
    out_.told.push_back(std::move(told));
  }

  static Meter meter_of(const CaseOfFile& head) {
    Meter meter;
    if (!head.meter) return meter;
    const MeterOfFile& said = *head.meter;
    if (said.voltage) meter.voltage = *said.voltage;
    if (said.voltage_least) meter.volts_least = meter.drops_least = *said.voltage_least;
    if (said.current) meter.current = *said.current;
    if (said.current_least) meter.current_least = *said.current_least;
    return meter;
  }

  static const Reading* in_sheet(const TestSheet& sheet, const design::Subject& path) {
    const auto at = std::find_if(sheet.readings.begin(), sheet.readings.end(),
                                 [&](const Reading& r) { return r.name == path; });
    return at == sheet.readings.end() ? nullptr : &*at;
  }

  /// The point carries a current in this case, and the value is not a thousand times off.
  bool may_be_read(const Point& point, Number value, const Written& w, const TestSheet& sheet,
                   const std::string& of_case) {
    const bool clamp = point.kind == kind_of<Current>;
    const Reading* expected = in_sheet(sheet, clamp ? point.path.without_key() : point.path);
    if (!expected) {
      diagnostics_.error(w.point_at, w.point,
                         "no current flows there in " + of_case + ", so nothing is read");
      return false;
    }
    if (point.kind == kind_of<Current>) return true;
    const double u = std::abs(value.si), high = std::max(expected->high.value(), 1e-3);
    const double low = expected->low.value();
    const auto plausible = [&](double x) { return x <= 3.0 * high && x >= 0.3 * low; };
    for (const double factor : {1e3, 1e-3}) {
      const bool far = factor > 1.0 ? u < 0.05 * low : u > 30.0 * high;
      if (!far || !plausible(u * factor)) continue;
      diagnostics_.error(w.value_at, w.point,
                         "reads " + print(value, 4) + ", expected " + print(expected->low) +
                             " to " + print(expected->high),
                         factor < 1.0 ? "were millivolts meant?" : "were volts meant?");
      return false;
    }
    return true;
  }

  bool contradicts(const MeasuredCase& measured, const ReadingsFile::Told& told, const Point& point,
                   Number value, const Written& w) {
    const auto against = [&](const MeasuredCase& c, const ReadingsFile::Told& where) {
      for (std::size_t i = 0; i < c.values.size(); ++i) {
        if (c.values[i].path != point.path) continue;
        const double share =
            double(point.kind == kind_of<Current> ? c.meter.current : c.meter.voltage);
        const double least = point.kind == kind_of<Current> ? c.meter.current_least.value()
                                                            : c.meter.volts_least.value();
        const double may = 2.0 * (share * std::abs(value.si) + least);
        if (std::abs(c.values[i].value.si - value.si) <= may) continue;
        diagnostics_.error(w.value_at, w.point,
                           "reads " + print(value, 4) + ", but " + print(c.values[i].value, 4) +
                               " at line " + std::to_string(where.values[i].line),
                           "measure it again, and keep the one that holds");
        return true;
      }
      return false;
    };
    if (against(measured, told)) return true;
    for (std::size_t c = 0; c < out_.cases.size(); ++c)
      if (out_.cases[c].load.name == measured.load.name && against(out_.cases[c], out_.told[c]))
        return true;
    return false;
  }

  /// Every drop is near nothing: then nothing was on.
  bool was_dead(const MeasuredCase& measured, const TestSheet& sheet, const CaseOfFile& head) {
    int drops = 0, dead = 0;
    for (const Measured& m : measured.values)
      if (const Reading* r = in_sheet(sheet, m.path);
          r && r->kind != Reading::Kind::posts && r->expected.value() > 5e-3) {
        ++drops;
        dead += std::abs(m.value.si) < 0.1 * r->expected.value();
      }
    if (drops >= 2 && dead == drops) {
      diagnostics_.error(head.place, "measured",
                         "case \"" + head.name +
                             "\" was not on: no drop is a tenth of what is expected");
      return true;
    }
    return false;
  }

  /// Half of the drops do not fit, and those of another case do.
  bool is_of_another(const MeasuredCase& measured, const TestSheet& sheet, const CaseOfFile& head) {
    const auto [fit, of] = in_band(measured, sheet);
    if (of < 4 || 2 * fit >= of) return false;
    for (const TestLoad& other : loads_) {
      if (other.name == head.name) continue;
      TestLoad load = other;
      load.resting = measured.load.resting;
      const auto answer = test_sheet(d_, a_, load);
      const auto* its = std::get_if<TestSheet>(&answer);
      if (!its) continue;
      const auto [fit_other, of_other] = in_band(measured, *its);
      if (of_other < of || 10 * fit_other < 9 * of_other) continue;
      diagnostics_.error(head.place, "measured",
                         "case \"" + head.name + "\" was not on: the drops are those of \"" +
                             other.name + "\"",
                         "case = \"" + other.name + "\"");
      return true;
    }
    return false;
  }
  static std::pair<int, int> in_band(const MeasuredCase& measured, const TestSheet& sheet) {
    int fit = 0, of = 0;
    for (const Measured& m : measured.values)
      if (const Reading* r = in_sheet(sheet, m.path); r && r->kind != Reading::Kind::posts) {
        ++of;
        fit += m.value.si >= r->low.value() && m.value.si <= r->high.value();
      }
    return {fit, of};
  }

  const design::Design& d_;
  const Assessment& a_;
  const std::vector<TestLoad>& loads_;
  Diagnostics& diagnostics_;
  std::vector<Point> points_;
  ReadingsFile out_{};
};

}  // namespace

std::optional<ReadingsFile> read_readings(std::string_view text, std::string_view file,
                                          const design::Design& d, const Assessment& a,
                                          const std::vector<TestLoad>& loads,
                                          Diagnostics& diagnostics) {
  Reader reader(d, a, loads, diagnostics);
  return file.ends_with(".csv") ? reader.csv(text, file) : reader.toml(text, file);
}

FieldList readings_fields() { return fields<File>; }

}  // namespace housepower::wiring
