// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/range.hpp"

#include <algorithm>
#include <array>
#include <deque>
#include <iterator>
#include <mutex>

#include "housepower/answers/named_files.hpp"
#include "housepower/design/elsewhere.hpp"
#include "housepower/reading/digest.hpp"
#include "housepower/version.hpp"

namespace housepower::answers {
namespace {

using range::RangeRow;

/// A diagnostic with its place, as one line.
std::string line_of(const Diagnostic& d) {
  const Place& at = d.place;
  std::string text = at.file;
  if (at.line > 0) text += ":" + std::to_string(at.line) + ":" + std::to_string(at.column);
  text += ": " + (d.key.empty() || d.key == unreadable ? "" : d.key + ": ") + d.message;
  return d.key == unreadable && !d.hint.empty() ? text + ": " + d.hint : text;
}

/// The first error, and how many there are more.
std::string problem_of(const Diagnostics& diagnostics) {
  const auto& all = diagnostics.all;
  const auto is_error = [](const Diagnostic& d) { return d.severity == Severity::error; };
  const auto first = std::find_if(all.begin(), all.end(), is_error);
  if (first == all.end()) return "";
  const auto errors = std::count_if(all.begin(), all.end(), is_error);
  return line_of(*first) +
         (errors > 1 ? " (and " + std::to_string(errors - 1) + " more)" : std::string());
}

std::vector<std::string> warnings_of(const Diagnostics& diagnostics) {
  std::vector<std::string> lines;
  for (const Diagnostic& d : diagnostics.all)
    if (d.severity == Severity::warning) lines.push_back(line_of(d));
  return lines;
}

/// Of a file that could not be opened.
bool any_unread(const Diagnostics& diagnostics) {
  return std::any_of(diagnostics.all.begin(), diagnostics.all.end(), [](const Diagnostic& d) {
    return d.severity == Severity::error && d.key == unreadable;
  });
}

RangeRow row_not_read(const RangeFile& file, Diagnostics diagnostics) {
  diagnostics.sort_by_place();
  RangeRow row;
  row.name = row.file = file.name;
  row.verdict = range::not_read;
  row.problem = problem_of(diagnostics);
  row.why_not_read = std::move(diagnostics.all);
  return row;
}

/// All that rows are made with.
struct Making {
  const RangeAsked& asked;
  const std::shared_ptr<const tables::Tables>& tables;
  const FileReader& read;
  ParsedFiles bases{};

  [[nodiscard]] std::size_t places() const { return std::max<std::size_t>(1, asked.places.size()); }
  [[nodiscard]] std::size_t months() const { return std::max<std::size_t>(1, asked.months.size()); }
  [[nodiscard]] std::size_t rows_a_design() const { return places() * months(); }
};

/// At the first of the places, so that neither the place nor the weather file of its own is read.
Question question_of(const RangeFile& file, const RangeAsked& asked) {
  Question q;
  q.file = file.name;
  q.set = asked.set;
  if (!asked.places.empty()) q.town = asked.places.front();
  return q;
}

/// A design, opened by the first who needs it and let go by the last.
class AtHand {
public:
  void needed_once_more() { ++users_; }
  /// Null where it is none.
  const Opening* open(const RangeFile& file, Making& making) {
    const std::lock_guard lock(mutex_);
    if (!opened_) open_now(file, making);
    opened_ = true;
    return opening_ ? &*opening_ : nullptr;
  }
  void let_go() {
    const std::lock_guard lock(mutex_);
    if (--users_ == 0) opening_.reset();
  }
  std::string left_out{};  // why it is no design, and no row
  std::optional<std::string> catalogue{};
  Diagnostics diagnostics{};

private:
  void open_now(const RangeFile& file, Making& making) {
    const Question question = question_of(file, making.asked);
    auto design = read_of(question, making.read, diagnostics, &making.bases);
    if (!design) return;
    catalogue = catalogue_named(design->node, file.name);
    const bool broken = diagnostics.any_error();  // then that is told
    if (!file.asked_for && !broken) left_out = why_no_design(design->node);
    if (left_out.empty())
      opening_ = open_on(making.tables, *std::move(design), question, making.read, diagnostics);
  }
  std::mutex mutex_{};
  std::optional<Opening> opening_{};
  int users_ = 0;
  bool opened_ = false;
};

/// Some months of one design at one place.
struct Item {
  std::size_t design = 0, place = 0, first_month = 0, end_month = 0;
};

/// The rows between two of a table of so many designs, as items.
std::vector<Item> items_of(std::size_t designs, const Making& making, const RowsOfPart& wanted) {
  std::vector<Item> items;
  const std::size_t places = making.places(), months = making.months();
  for (std::size_t at = 0; at < designs * places; ++at) {
    const std::size_t begin = at * months;
    const std::size_t first = std::clamp(wanted.first, begin, begin + months) - begin;
    const std::size_t end = std::clamp(wanted.end, begin, begin + months) - begin;
    if (first < end) items.push_back({at / places, at % places, first, end});
  }
  return items;
}

/// The document there and then; nothing where it is the one that was opened.
std::optional<design::Document> elsewhere(const Opening& opening, const Making& making,
                                          const Item& item, std::size_t month) {
  const RangeAsked& asked = making.asked;
  if (asked.places.empty() && asked.months.empty()) return std::nullopt;
  auto document = *opening.document;
  if (!asked.places.empty())
    if (const auto* town = design::town_named(*opening.tables, asked.places[item.place]))
      design::put_at(document, *town);
  if (!asked.months.empty())
    if (const auto name = design::name_of_month(asked.months[month]))
      design::put_in(document, *name);
  return document;
}

std::string digest_there(const Opening& opening, const design::Document& document) {
  const auto& at = document.location;
  return digest_of(std::array{opening.digest, at && at->name ? *at->name : std::string(),
                              at && at->month ? *at->month : std::string()});
}

RangeRow row_there(const RangeFile& file, const Opening& opening, design::Document document,
                   range::RowsAtPlace& rows, Diagnostics& told) {
  Diagnostics problems;
  const auto design = design::resolve(document, *opening.tables, Defaults::ordinary, problems);
  if (!design || problems.any_error()) {
    design::locate(problems, opening.node);
    return row_not_read(file, std::move(problems));
  }
  told = std::move(problems);
  RangeRow row = rows.row(document, *design);
  row.inputs_digest = digest_there(opening, document);
  return row;
}

std::vector<RangeRow> rows_of_item(const RangeFile& file, const Opening& opening, Making& making,
                                   const Item& item, const Diagnostics& of_opening) {
  std::vector<RangeRow> rows;
  range::RowsAtPlace at(making.asked.stays);
  for (std::size_t m = item.first_month; m < item.end_month; ++m) {
    Diagnostics told = of_opening;
    if (auto document = elsewhere(opening, making, item, m)) {
      rows.push_back(row_there(file, opening, *std::move(document), at, told));
    } else {
      rows.push_back(at.row(*opening.document, *opening.design));
      rows.back().inputs_digest = opening.digest;
    }
    rows.back().warnings = warnings_of(told);
  }
  return rows;
}

/// Where and when a row would have been of, of what could not be read.
std::vector<RangeRow> rows_not_read(const RangeFile& file, const Making& making, const Item& item,
                                    const Diagnostics& diagnostics) {
  std::vector<RangeRow> rows;
  for (std::size_t m = item.first_month; m < item.end_month; ++m) {
    rows.push_back(row_not_read(file, diagnostics));
    if (!making.asked.places.empty()) rows.back().place = making.asked.places[item.place];
    for (int month = 0; !making.asked.months.empty() && month < 12; ++month)
      if (design::name_of_month(month) == making.asked.months[m])
        rows.back().month = energy::month_name(month);
  }
  return rows;
}

/// The designs among the files, and the digest of what is asked.
struct Looked {
  std::vector<RangeFile> designs{};
  std::vector<RangeReport::LeftOut> left_out{};
  std::vector<std::string> kept{};
  bool unread = false;
  std::string question{};
};

std::vector<std::string> texts_of(const RangeAsked& asked) {
  std::vector<std::string> texts{std::string(version()), std::to_string(int(asked.stays.simulate)),
                                 std::to_string(asked.stays.years)};
  for (const auto* list : {&asked.set, &asked.places, &asked.months, &asked.tables}) {
    texts.push_back(std::to_string(list->size()));
    texts.insert(texts.end(), list->begin(), list->end());
  }
  return texts;
}

Looked look_through(std::span<const RangeFile> files, Making& making, const energy::Each& each) {
  struct Seen {
    std::string why, digest;
    std::optional<std::string> catalogue{};
    bool unread = false;
  };
  std::vector<Seen> seen(files.size());
  each(int(files.size()), [&](int i) {
    const RangeFile& file = files[std::size_t(i)];
    Seen& s = seen[std::size_t(i)];
    Diagnostics told;
    auto design = read_of(question_of(file, making.asked), making.read, told, &making.bases);
    s.unread = any_unread(told);
    if (!design) return;
    s.catalogue = catalogue_named(design->node, file.name);
    if (const auto weather = weather_named(design->node, file.name))
      if (const auto text = making.read(*weather)) design->texts.push_back(*text);
    s.digest = digest_of(design->texts);
    if (!file.asked_for && !told.any_error()) s.why = why_no_design(design->node);
  });
  Looked looked;
  auto texts = texts_of(making.asked);
  for (std::size_t i = 0; i < files.size(); ++i) {
    looked.unread = looked.unread || seen[i].unread;
    if (seen[i].catalogue) looked.kept.push_back(*seen[i].catalogue);
    if (!seen[i].why.empty()) {
      looked.left_out.push_back({files[i].name, seen[i].why});
      continue;
    }
    looked.designs.push_back(files[i]);
    texts.push_back(files[i].name), texts.push_back(seen[i].digest);
  }
  looked.question = digest_of(texts);
  return looked;
}

/// The rows of these designs, or of a part of them, one after another.
void make_rows(std::span<const RangeFile> designs, Making& making, const RowsOfPart& wanted,
               const energy::Each& each, RangeReport& report) {
  const auto items = items_of(designs.size(), making, wanted);
  std::deque<AtHand> at_hand(designs.size());
  for (const Item& item : items) at_hand[item.design].needed_once_more();
  std::vector<std::vector<RangeRow>> made(items.size());
  each(int(items.size()), [&](int i) {
    const Item& item = items[std::size_t(i)];
    const RangeFile& file = designs[item.design];
    AtHand& one = at_hand[item.design];
    if (const Opening* opening = one.open(file, making))
      made[std::size_t(i)] = rows_of_item(file, *opening, making, item, one.diagnostics);
    else if (one.left_out.empty())
      made[std::size_t(i)] = rows_not_read(file, making, item, one.diagnostics);
    one.let_go();
  });
  for (auto& rows : made)
    report.rows.insert(report.rows.end(), std::make_move_iterator(rows.begin()),
                       std::make_move_iterator(rows.end()));
  for (std::size_t i = 0; i < designs.size(); ++i) {
    if (!at_hand[i].left_out.empty())
      report.left_out.push_back({designs[i].name, at_hand[i].left_out});
    if (at_hand[i].catalogue) report.kept.push_back(*at_hand[i].catalogue);
    const auto& told = at_hand[i].diagnostics;
    report.unread = report.unread || any_unread(told);
  }
}

}  // namespace

std::string why_no_design(const Node& node) {
  if (node.find("vehicle")) return "";
  if (const auto* entries = std::get_if<Node::Table>(&node.value))
    for (const auto& entry : *entries)  // a slip of the pen, to be told as one
      if (!nearest(entry.key, {"vehicle"}).empty()) return "";
  return node.find("part") ? "a catalogue of parts"
                           : "it has no [vehicle], so it is not a whole design";
}

RowsOfPart rows_of(const Part& part, std::size_t rows) {
  const std::size_t each = rows / part.of, more = rows % part.of;
  const auto before = [&](std::size_t number) { return number * each + std::min(number, more); };
  return {before(part.number - 1), before(part.number)};
}

RangeReport range_of(std::span<const RangeFile> files, const RangeAsked& asked,
                     const std::optional<Part>& part,
                     const std::shared_ptr<const tables::Tables>& tables, const FileReader& read,
                     const energy::Each& each) {
  Making making{asked, tables, read};
  RangeReport report;
  report.simulate = asked.stays.simulate;
  report.years = asked.stays.years;
  report.places = int(asked.places.size());
  report.months = int(asked.months.size());
  if (!part) {
    make_rows(files, making, {0, files.size() * making.rows_a_design()}, each, report);
    report.designs = int(files.size() - report.left_out.size());
  } else {
    Looked looked = look_through(files, making, each);
    const std::size_t all = looked.designs.size() * making.rows_a_design();
    report.part = {*part, rows_of(*part, all), all, looked.question};
    make_rows(looked.designs, making, report.part->holds, each, report);
    report.designs = int(looked.designs.size());
    report.left_out = std::move(looked.left_out);
    report.kept = std::move(looked.kept);
    report.unread = report.unread || looked.unread;
  }
  report.all_rows = int(report.rows.size());
  return report;
}

}  // namespace housepower::answers
