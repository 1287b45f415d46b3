// SPDX-License-Identifier: Apache-2.0
// Rows of the build list and their columns, for its page, its JSON and sheets made of them.
#pragma once

#include "housepower/report/build_list.hpp"
#include "json.hpp"

namespace housepower::report {

/// One conductor of one model; `vans` of it are made.
struct CutRow {
  std::string model;
  int vans = 1;
  std::string label, run, pole, conductor, standard;
  bool tinned = false;
  std::optional<Temperature> insulation;
  std::optional<std::string> material;
  std::string colour;
  Length length{}, to_cut{};
  int pieces = 1;
  std::string cut_for;  // "class T 300 A at 0.15 m; isolator 350 A, place not stated"
  std::string label_from, label_to, lands_from, lands_to;
};
[[nodiscard]] std::vector<CutRow> cut_rows(const BuildPlan&);
[[nodiscard]] const Columns<CutRow>& cut_columns();

struct CableRow {
  std::string conductor, standard;
  bool tinned = false;
  std::optional<Temperature> insulation;
  std::optional<std::string> material;
  std::string colour;
  int pieces = 0;
  Length to_cut{};
  std::optional<Length> a_day;  // of a plan
  Mass copper{};
  std::string needed_by;
};
[[nodiscard]] std::vector<CableRow> cable_rows(const BuildPlan&, const range::BuildTotals&);
[[nodiscard]] const Columns<CableRow>& cable_columns();

/// Ends of conductors that are alike: lugs where a stud is stated.
struct EndRow {
  std::string conductor;
  std::string what;  // "M8", "way of a panel"; where nothing is stated, the place
  int number = 0;
  std::string needed_by;
};
[[nodiscard]] std::vector<EndRow> end_rows(const BuildPlan&, const range::BuildTotals&,
                                           range::Landing::On);
/// `key` and `title` name what the ends have in common: "stud_thread", "stud".
[[nodiscard]] Columns<EndRow> end_columns(std::string_view key, std::string_view title,
                                          std::string_view number);

struct PartRow {
  std::string what;
  std::optional<Current> rating;
  int number = 0;
  std::string needed_by;
};
[[nodiscard]] std::vector<PartRow> part_rows(const BuildPlan&,
                                             const std::vector<range::PartTotal>&);
[[nodiscard]] const Columns<PartRow>& part_columns();

/// A text to print on a sleeve, and how many of it.
struct SleeveRow {
  std::string model, text, conductor;
  int number = 0;
};
[[nodiscard]] std::vector<SleeveRow> sleeve_rows(const BuildPlan&);
[[nodiscard]] const Columns<SleeveRow>& sleeve_columns();

/// What one station does, and how often in all vans of the plan.
struct StationRow {
  std::optional<std::string> station;
  std::string task, conductor, what;
  int number = 0;
  std::optional<Length> to_cut;
  int without_length = 0;
  std::optional<std::string> die;
  std::optional<Length> strip;
  std::optional<Torque> torque;
  bool crimped = false, done_up = false;  // so that strip and die, or a torque, belong to it
  std::string needed_by;
};
[[nodiscard]] std::vector<StationRow> station_rows(const BuildPlan&);
[[nodiscard]] const Columns<StationRow>& station_columns();

/// What only a person can see, by the design's profile.
struct InspectionRow {
  std::string item;
  bool inspected = false;
  std::string source;
  std::string model;
};
[[nodiscard]] std::vector<InspectionRow> inspection_rows(const BuildModel&);
[[nodiscard]] const Columns<InspectionRow>& inspection_columns();

[[nodiscard]] range::BuildTotals totals_of(const BuildPlan&);
/// All of these lists but what is inspected: conductors, cables, lugs …
[[nodiscard]] std::vector<RowTable> lists_of(const BuildPlan&, const range::BuildTotals&);
/// "35 mm2", or "to be chosen".
[[nodiscard]] std::string size_of(const std::optional<tables::Conductor>&);
/// "Pellibri two-berth: build list"; of a plan its vans and days instead of a name.
[[nodiscard]] std::string title_of(const BuildPlan&, std::string_view what);
[[nodiscard]] TableBlock cutting_table(const BuildPlan&, const std::vector<CutRow>&);

}  // namespace housepower::report
