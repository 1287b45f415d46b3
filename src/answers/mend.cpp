// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/mend.hpp"

#include "housepower/answers/named_files.hpp"
#include "housepower/design/open.hpp"

namespace housepower::answers {
namespace {

std::optional<std::vector<choice::Mended>>
mended(std::span<const ToMend> designs, const MendAsked& asked, Diagnostics& diagnostics) {
  std::vector<design::Document> with_stock;
  for (const ToMend& one : designs) {
    with_stock.push_back(one.given.document);
    add_stock(with_stock.back(), one.parts);
  }
  if (asked.fewest_sizes) {
    std::vector<choice::InRange> list;
    for (std::size_t i = 0; i < designs.size(); ++i)
      list.push_back({with_stock[i], designs[i].given.design});
    return choice::mend_with_fewest_sizes(list, asked.least, diagnostics);
  }
  std::vector<choice::Mended> all;
  all.reserve(designs.size());
  for (std::size_t i = 0; i < designs.size(); ++i) {
    auto one = choice::mend(with_stock[i], designs[i].given.design, asked.least, diagnostics);
    if (!one) {
      design::locate(diagnostics, designs[i].given.node);
      return std::nullopt;
    }
    all.push_back(*std::move(one));
  }
  return all;
}

void locate_left(choice::Mended& mended, const Node& node) {
  for (auto& left : mended.left) {
    std::vector<checks::Finding> one{left.finding};
    checks::locate(one, node);
    left.finding.place = one.front().place;
  }
}

}  // namespace

std::optional<std::vector<MendReport>> mend(std::span<const ToMend> designs, const MendAsked& asked,
                                            Diagnostics& diagnostics) {
  auto all = mended(designs, asked, diagnostics);
  if (!all) return std::nullopt;
  std::vector<MendReport> reports;
  reports.reserve(all->size());
  for (std::size_t i = 0; i < all->size(); ++i) {
    const GivenDesign& given = designs[i].given;
    choice::Mended& one = (*all)[i];
    locate_left(one, given.node);
    one.document.part = given.document.part;
    reports.push_back({given.design, std::move(one), asked.least, given.inputs_digest});
  }
  return reports;
}

}  // namespace housepower::answers
