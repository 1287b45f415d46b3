// SPDX-License-Identifier: Apache-2.0
// From the text of a file of readings, TOML or CSV, to what was written in it.
#include "housepower/wiring/readings_file.hpp"

#include <algorithm>

#include "housepower/reading/csv.hpp"
#include "housepower/reading/node.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/units/unit.hpp"
#include "housepower/wiring/dead_tests.hpp"
#include "readings_written.hpp"

namespace housepower::wiring {
namespace {

struct VanOfFile {
  std::optional<std::string> serial, design;
};
struct File {
  int schema = 1;
  std::optional<VanOfFile> van;
  std::vector<inside::CaseOfFile> measured;
  std::vector<CheckedByHand> checked;
};

}  // namespace
}  // namespace housepower::wiring

namespace housepower {
namespace {
using wiring::File, wiring::VanOfFile;
using wiring::inside::CaseOfFile, wiring::inside::MeterOfFile;
}  // namespace
template <>
inline constexpr auto fields<wiring::VanOfFile> = std::array{
    field<&VanOfFile::serial>("serial", "Of the van.", "T2-0417"),
    field<&VanOfFile::design>("design", "The design file that it was built to.", "two-berth.toml")};
template <>
inline constexpr auto fields<MeterOfFile> = std::array{
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
inline constexpr auto fields<CaseOfFile> = std::array{
    field<&CaseOfFile::name>("case", "What was switched on: a case of the design.", "dinner"),
    field<&CaseOfFile::at>("at", "When.", "2026-03-14 10:20"),
    field<&CaseOfFile::by>("by", "Who.", "line 7"),
    field<&CaseOfFile::meter>("meter", "The meter; left out, the one that the sheet is for."),
    field<&CaseOfFile::resting>("resting_voltage", "Of the bank, before, with nothing on.",
                                "13.31 V")
        .more_than(0.0 * volt)
        .at_most(wiring::inside::most_resting)};
template <>
inline constexpr auto fields<wiring::CheckedByHand> =
    std::array{field<&wiring::CheckedByHand::what>(
                   "what", "A dead test, or an item of the inspection list.", "bank to chassis"),
               field<&wiring::CheckedByHand::value>("value", "What was measured.", "2.1 MΩ"),
               field<&wiring::CheckedByHand::result>("result", "What was seen: yes or no.", "yes"),
               field<&wiring::CheckedByHand::by>("by", "Who.", "line 7")};
template <>
inline constexpr auto fields<wiring::File> =
    std::array{field<&File::schema>("schema", "Version of the format: 1.", "1"),
               field<&File::van>("van", "Which van."),
               field<&File::measured>("measured", "One for each case that was switched on."),
               field<&File::checked>("checked", "Dead tests, and what only a person sees.")};
}  // namespace housepower

namespace housepower::wiring {

using namespace inside;

namespace {

/// The table `values` of one case, whose keys are points, taken out of the tree.
void take_values(Node& one, WrittenCase& into, Diagnostics& diagnostics) {
  auto* table = std::get_if<Node::Table>(&one.value);
  if (!table) return;
  const auto at = std::find_if(table->begin(), table->end(),
                               [](const Node::Entry& e) { return e.key == "values"; });
  if (at == table->end()) {
    diagnostics.error(one.place, "measured", "nothing is read here: \"values\" is missing",
                      "values = { \"W04+\" = \"71 mV\" }");
    return;
  }
  if (const auto* values = std::get_if<Node::Table>(&at->value.value)) {
    for (const Node::Entry& e : *values)
      if (const auto* text = std::get_if<std::string>(&e.value.value))
        into.values.push_back({e.key, *text, e.place, e.value.place});
      else
        diagnostics.error(e.value.place, "measured/values/" + e.key,
                          "wants a value with its unit such as \"71 mV\"");
  } else {
    diagnostics.error(at->value.place, "measured/values", "wants a table of points",
                      "values = { \"W04+\" = \"71 mV\" }");
  }
  table->erase(at);
}

/// What each case has beside its head.
std::vector<WrittenCase> take_cases(Node& file, Diagnostics& diagnostics) {
  std::vector<WrittenCase> all;
  Node::Entry* measured = file.find("measured");
  auto* list = measured ? std::get_if<Node::List>(&measured->value.value) : nullptr;
  if (!list) return all;
  for (Node& one : *list) {
    WrittenCase& written = all.emplace_back();
    take_values(one, written, diagnostics);
    if (const Node* resting = one.at("resting_voltage")) written.resting_at = resting->place;
  }
  return all;
}

/// The sheet's rows with their columns, by the names of its head in any letters.
class Rows {
public:
  explicit Rows(const Csv& table) : table_(table) {}
  [[nodiscard]] std::size_t size() const { return table_.rows.size(); }
  [[nodiscard]] bool has(std::string_view column) const { return at(column).has_value(); }
  [[nodiscard]] std::string text(std::size_t row, std::string_view column) const {
    const Csv::Cell* cell = cell_of(row, column);
    return cell ? std::string(without_guard(cell->text)) : std::string();
  }
  [[nodiscard]] Place place(std::size_t row, std::string_view column) const {
    const Csv::Cell* cell = cell_of(row, column);
    return table_.place_of(cell ? *cell : table_.rows[row].front());
  }

  /// The one decimal sign of that column where no comma parts the cells; nothing where it has both, or
  /// commas part them.
  [[nodiscard]] std::optional<DecimalMark> decimals_of(std::string_view column) const {
    bool comma = false, point = false;
    for (std::size_t r = 1; r < size(); ++r) {
      const std::string cell = text(r, column);
      comma = comma || cell.find(',') != std::string::npos;
      point = point || cell.find('.') != std::string::npos;
    }
    if (comma && (point || table_.delimiter == ',')) return std::nullopt;
    return comma ? DecimalMark::comma : DecimalMark::point;
  }

private:
  [[nodiscard]] std::optional<std::size_t> at(std::string_view column) const {
    const auto& head = table_.rows.front();
    for (std::size_t c = 0; c < head.size(); ++c)
      if (detail::in_small_letters(head[c].text) == column) return c;
    return std::nullopt;
  }
  [[nodiscard]] const Csv::Cell* cell_of(std::size_t row, std::string_view column) const {
    const auto c = at(column);
    return c && *c < table_.rows[row].size() ? &table_.rows[row][*c] : nullptr;
  }
  const Csv& table_;
};

bool is_bare(const std::string& value) {
  return plain_minus(value).find_first_not_of("0123456789.,+-") == std::string::npos;
}

bool has_columns(const Rows& rows, const Place& top, Diagnostics& diagnostics) {
  for (const std::string_view name : {"read", "unit"})
    if (!rows.has(name))
      diagnostics.error(top, "", "the sheet has no column \"" + std::string(name) + "\"",
                        "as test-sheet --format csv writes it");
  if (!rows.has("point") && !rows.has("label"))
    diagnostics.error(top, "", "the sheet has neither a column \"point\" nor \"label\"");
  return !diagnostics.any_error();
}

class SheetRows {
public:
  SheetRows(const Rows& rows, std::string_view usual_case, Diagnostics& diagnostics)
      : rows_(rows), usual_case_(usual_case), decimals_(rows.decimals_of("read")),
        diagnostics_(diagnostics) {}

  void take(std::size_t r) {
    const std::string read = rows_.text(r, "read"), unit = rows_.text(r, "unit");
    if (read.empty()) return;
    const std::string_view named = rows_.text(r, "point").empty() ? "label" : "point";
    const std::string point = rows_.text(r, named);
    if (point.starts_with(checked_point)) {
      take_checked(point.substr(checked_point.size()), read, unit, rows_.place(r, "read"));
      return;
    }
    const Place here = rows_.place(r, "read");
    const std::string value = with_unit(read, unit);
    if (!is_clear(value, point, here)) return;
    WrittenCase& into = case_of(r);
    if (point != resting_point) {
      into.values.push_back({point, value, rows_.place(r, named), here});
      return;
    }
    into.resting_at = here;
    if (const auto rest = quantity_of(value, kind_of<Voltage>, point, here, diagnostics_))
      into.head.resting = Voltage::from_value(rest->si);
  }
  std::vector<WrittenCase> cases{};
  std::vector<CheckedByHand> checked{};

private:
  /// With a decimal point; between thousands stands nothing on a sheet.
  [[nodiscard]] std::string with_unit(std::string read, const std::string& unit) const {
    if (is_bare(read)) read += " " + unit;
    if (decimals_ == DecimalMark::comma) std::replace(read.begin(), read.end(), ',', '.');
    return read;
  }
  /// In a column with both signs a point before three figures may part thousands.
  bool is_clear(const std::string& value, const std::string& point, const Place& at) {
    if (decimals_ || decimal_mark_of(value) != DecimalMark::point_or_thousands) return true;
    const auto problem = problem_of_thousands(value);
    diagnostics_.error(at, point, problem.message, problem.hint);
    return false;
  }
  /// What was seen has yes or no in place of a unit.
  void take_checked(std::string what, const std::string& read, const std::string& unit, Place at) {
    CheckedByHand one;
    one.what = std::move(what);
    one.place = std::move(at);
    const bool measured = !unit.empty() && unit != yes_or_no;
    if (measured) one.value = with_unit(read, unit);
    else one.result = read;
    checked.push_back(std::move(one));
  }
  WrittenCase& case_of(std::size_t r) {
    const std::string name = rows_.has("case") ? rows_.text(r, "case") : std::string(usual_case_);
    const auto found = std::find_if(cases.begin(), cases.end(),
                                    [&](const WrittenCase& c) { return c.head.name == name; });
    if (found != cases.end()) return *found;
    WrittenCase& added = cases.emplace_back();
    added.head.name = name;
    added.head.place = rows_.place(r, "case");
    return added;
  }
  const Rows& rows_;
  std::string_view usual_case_;
  std::optional<DecimalMark> decimals_;
  Diagnostics& diagnostics_;
};

/// What a file holds, in either form.
struct WrittenFile {
  ReadingsFile heads;  // all but its cases
  std::vector<WrittenCase> cases;
  Place whole;
};

std::optional<WrittenFile> written_toml(std::string_view text, std::string_view file,
                                        Diagnostics& diagnostics) {
  auto node = parse_toml(text, file, diagnostics);
  if (!node) return std::nullopt;
  WrittenFile w{{}, take_cases(*node, diagnostics), node->place};
  housepower::Reading reading{diagnostics};
  auto read_file = housepower::read<File>(*node, reading);
  if (!read_file) return std::nullopt;
  if (read_file->schema != 1) {
    diagnostics.error(node->at("schema")->place, "schema", "this program reads schema 1");
    return std::nullopt;
  }
  if (read_file->van)
    w.heads.serial = read_file->van->serial, w.heads.design = read_file->van->design;
  w.heads.checked = std::move(read_file->checked);
  for (std::size_t i = 0; i < read_file->measured.size(); ++i)
    w.cases[i].head = read_file->measured[i];
  return w;
}

std::optional<WrittenFile> written_csv(std::string_view text, std::string_view file,
                                       std::string_view usual_case, Diagnostics& diagnostics) {
  const auto table = parse_csv(text, file, std::nullopt, diagnostics);
  if (table && table->rows.empty())
    diagnostics.error({std::string(file), 1, 1}, "", "nothing is read in it");
  if (!table || table->rows.empty()) return std::nullopt;
  const Rows rows(*table);
  const Place top = table->place_of(table->rows.front().front());
  if (!has_columns(rows, top, diagnostics)) return std::nullopt;
  SheetRows sheet(rows, usual_case, diagnostics);
  for (std::size_t r = 1; r < rows.size(); ++r) sheet.take(r);
  WrittenFile w;
  w.whole = top;
  w.cases = std::move(sheet.cases);
  w.heads.checked = std::move(sheet.checked);
  return w;
}

}  // namespace

std::optional<ReadingsFile> read_readings(std::string_view text, std::string_view file,
                                          const design::Design& d, const Assessment& a,
                                          const std::vector<TestLoad>& loads,
                                          Diagnostics& diagnostics) {
  auto written =
      detail::in_small_letters(std::string(file)).ends_with(".csv")
          ? written_csv(text, file, loads.empty() ? std::string_view() : loads[0].name, diagnostics)
          : written_toml(text, file, diagnostics);
  if (!written) return std::nullopt;
  ReadingsFile& out = written->heads;
  const bool by_hand = std::any_of(out.checked.begin(), out.checked.end(),
                                   [](const auto& one) { return one.result || one.value; });
  if (written->cases.empty() && !by_hand && !diagnostics.any_error())
    diagnostics.error(written->whole, "", "nothing is read in it");
  const auto tests = dead_tests(d);
  for (CheckedByHand& one : out.checked) judge_by_hand(one, tests, diagnostics);
  understand(written->cases, d, a, loads, diagnostics, out);
  return diagnostics.any_error() ? std::nullopt : std::optional(std::move(out));
}

}  // namespace housepower::wiring
