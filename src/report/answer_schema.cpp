// SPDX-License-Identifier: Apache-2.0
// Which answers a command gives, and what is defined once for all of them.
#include "housepower/report/answer_schema.hpp"

#include <algorithm>
#include <array>

#include "answer_shapes.hpp"

namespace housepower::report {
namespace {

using page::Json;

/// What a command may answer; more than one are of other options or other kinds of file.
struct Answers {
  std::string_view command;
  std::array<JsonKeys (*)(), 3> any{};
};
constexpr Answers all_answers[] = {{"check", {check_answer, finding_answer}},
                                   {"energy", {energy_answer_keys}},
                                   {"wiring", {wiring_answer}},
                                   {"mend", {mend_answer, mend_range_answer}},
                                   {"stay", {stay_answer, first_figure_answer}},
                                   {"size", {pack_answer}},
                                   {"range", {range_answer}},
                                   {"compare", {compare_answer}},
                                   {"replace", {replace_answer}},
                                   {"looms", {looms_answer}},
                                   {"test-sheet", {test_sheet_answer, diagnosis_answer}},
                                   {"record", {record_answer, handover_answer, against_answer}},
                                   {"build-list", {build_list_answer}},
                                   {"schedule", {schedule_answer}},
                                   {"cable", {cable_answer}},
                                   {"loads", {list_answer, list_csv_answer}},
                                   {"runs", {list_answer, list_csv_answer}},
                                   {"parts", {list_answer, list_csv_answer}},
                                   {"explain", {rule_list_answer, rule_answer}},
                                   {"formula", {formula_list_answer, formula_answer}},
                                   {"tables", {table_list_answer, table_answer}}};

struct Definition {
  std::string_view name;
  Json shape;
};
std::vector<Definition> definitions() {
  return {{"finding", is::object(finding_keys())},
          {"choice", choice_shape()},
          {"step", step_shape()},
          {"source", source_shape()},
          {"diagnostic", diagnostic_shape()}};
}

/// With what stands at the head of every answer.
Json whole(const JsonKeys& keys) {
  const Json tool = is::object({{"name", is::exactly("housepower")}, {"version", is::text()}});
  return is::object(JsonKeys{{"schema", is::exactly(1)}, {"tool", tool}, {"safety", is::text()}} +
                    keys);
}

Json answers_of(const Answers& a) {
  std::vector<Json> any;
  for (const auto one : a.any)
    if (one) any.push_back(whole(one()));
  any.push_back(is::a("bad-input"));
  return is::any_of(any);
}

/// Those of the definitions that are named there, or in one that is.
Json named_in(const Json& shape) {
  const auto all = definitions();
  Json found = Json::object();
  std::vector<std::string> wanted = page::names_in(shape);
  for (std::size_t i = 0; i < wanted.size(); ++i)
    for (const auto& [name, its] : all)
      if (name == wanted[i] && found[name] == Json()) {
        found[name] = its;
        for (auto& inner : page::names_in(its)) wanted.push_back(std::move(inner));
      }
  return found;
}

Json headed(const std::string& title, const Json& shape) {
  Json schema{{"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"title", title}};
  schema.update(shape);
  return schema;
}

}  // namespace

std::vector<std::string_view> commands_with_answers() {
  std::vector<std::string_view> names;
  for (const Answers& a : all_answers) names.push_back(a.command);
  return names;
}

std::optional<std::string> answer_schema(const std::optional<std::string_view>& command) {
  Json each = Json::object();
  std::vector<Json> any;
  Json defined = Json::object();
  defined["bad-input"] = whole(diagnostics_answer());
  for (const Answers& a : all_answers) {
    if (command && a.command != *command) continue;
    each[a.command] = answers_of(a);
    any.push_back(is::a(a.command));
  }
  if (any.empty()) return std::nullopt;
  const std::string title =
      command ? "housepower " + std::string(*command) + ": answer" : "housepower: answers";
  Json schema = headed(title, command ? each[*command] : is::any_of(any));
  if (!command) defined.update(each);
  Json of = named_in(schema);
  of.update(named_in(defined));
  defined.update(of);
  schema["$defs"] = defined;
  return page::dump(schema);
}

}  // namespace housepower::report
