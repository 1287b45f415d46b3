// SPDX-License-Identifier: Apache-2.0
// A design whose every quantity is driven to its limits is refused or answered; no answer holds what
// is no number.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "checks/examples.hpp"
#include "housepower/design/catalogue.hpp"
#include "housepower/report/energy.hpp"
#include "housepower/report/results.hpp"
#include "housepower/report/wiring.hpp"

namespace report_extremes {
namespace {

using namespace housepower;

struct Leaf {
  std::string path;
  Number least, most;
};

std::string joined(const std::string& path, std::string_view key) {
  return path.empty() ? std::string(key) : path + "/" + std::string(key);
}

/// The quantities that a document states, with the limits of their fields.
void add_leaves(FieldList list, const Node& table, const std::string& path,
                std::vector<Leaf>& leaves) {
  for (const Field& f : list) {
    if (f.role != Field::Role::member) continue;
    const Node::Entry* entry = table.find(f.key);
    if (!entry) continue;
    const std::string own = joined(path, f.key);
    if (f.shape->form == Shape::Form::quantity)
      leaves.push_back({own, f.least ? *f.least : *f.above, *f.most});
    else if (f.shape->form == Shape::Form::table)
      add_leaves(f.shape->inner(), entry->value, own, leaves);
    else if (f.shape->form == Shape::Form::list && f.shape->items &&
             f.shape->items->form == Shape::Form::table) {
      const auto& members = std::get<Node::List>(entry->value.value);
      for (std::size_t i = 0; i < members.size(); ++i)
        add_leaves(f.shape->items->inner(), members[i],
                   joined(own, members[i].text_at("name").value_or(std::to_string(i))), leaves);
    }
  }
}

/// "nan" or "inf" as a word of its own.
std::string no_number_in(const std::string& text) {
  const auto letter = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
  };
  for (const std::string word : {"nan", "inf"})
    for (auto at = text.find(word); at != text.npos; at = text.find(word, at + 1))
      if ((at == 0 || !letter(text[at - 1])) && (at + 3 >= text.size() || !letter(text[at + 3])))
        return text.substr(at < 60 ? 0 : at - 60, 80);
  return "";
}

/// What is no number in an answer about this design; empty where all are.
std::string no_number_of(const design::Opened& opened) {
  const auto checked = examples::checked(opened);
  const report::CheckedDesign of{opened.design, checked, "0"};
  for (const auto& page :
       {report::check_page(of, {true, true, true, true}, {}), report::check_page(of, {true}, {}),
        report::open_page(of), report::energy_page(answers::EnergyReport{of, {}}),
        report::wiring_page(answers::WiringReport{of}, answers::heaviest_case(of.checked.wiring),
                            true)})
    if (auto found = no_number_in(page::text(page, {})); !found.empty()) return found;
  for (const auto& f : checked.findings)
    if (f.measured && f.limit &&
        !(std::isfinite(f.measured->si) && std::isfinite(f.limit->si) &&
          std::isfinite(double(f.margin))))
      return std::string(f.rule) + " of " + f.subject.text();
  return "";
}

}  // namespace

TEST_CASE("each quantity at its least and its most is refused or gives numbers") {
  const std::string file = examples::faulty("base");
  Diagnostics none;
  const auto node = read_document(file, examples::from_disk, none);
  REQUIRE(node);
  std::vector<Leaf> leaves;
  add_leaves(design::document_fields(), *node, "", leaves);
  CHECK(leaves.size() > 40);
  std::size_t answered = 0;
  for (const Leaf& leaf : leaves)
    for (const Number& value : {leaf.least, leaf.most}) {
      const std::string set = leaf.path + "=" + print(value, 15);
      CAPTURE(set);
      Diagnostics problems;
      const auto opened = design::open_design(file, examples::from_disk, {set}, examples::shipped(),
                                              Defaults::ordinary, problems);
      CHECK(opened.has_value() != problems.any_error());
      if (!opened) continue;
      ++answered;
      CHECK(no_number_of(*opened) == "");
    }
  MESSAGE(leaves.size() << " quantities, " << answered << " of their limits answered");
  CHECK(answered > leaves.size() / 2);
}

}  // namespace report_extremes
