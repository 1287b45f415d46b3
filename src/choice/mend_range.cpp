// SPDX-License-Identifier: Apache-2.0
// A range of models with few sizes of conductors: each mended by itself, then size after size given
// up where all can do without it.
#include <algorithm>
#include <map>
#include <set>

#include "housepower/choice/mend.hpp"
#include "housepower/choice/trial.hpp"

namespace housepower::choice {
namespace {

using Sizes = std::set<std::string>;

/// The design where only these sizes can be bought; what its own parts say of price and stock holds.
design::Document only_with(const design::Document& document, const Sizes& sizes) {
  design::Document bounded = document;
  Sizes missing = sizes;
  for (design::Part& part : bounded.part)
    if (auto* conductor = std::get_if<design::StockedConductor>(&part.is)) {
      conductor->in_stock = conductor->in_stock.value_or(true) && sizes.count(conductor->size) > 0;
      missing.erase(conductor->size);
    }
  for (const std::string& size : missing) {
    design::Part part;
    part.name = "size " + size;
    part.is = design::StockedConductor{size, {}, true};
    bounded.part.push_back(std::move(part));
  }
  return bounded;
}

Sizes sizes_of(const Mended& mended) {
  const auto list = sizes_in(mended.document);
  return {list.begin(), list.end()};
}

/// How many changes take each size.
void count_uses(const Mended& mended, std::map<std::string, int>& uses) {
  for (const MendedPart& change : mended.changes)
    if (change.path.ends_with("conductor")) ++uses[change.to];
}
bool takes(const Mended& mended, const std::string& size) {
  std::map<std::string, int> uses;
  count_uses(mended, uses);
  return uses.count(size) > 0;
}

/// No finding at caution or worse that the other does not have as bad.
bool is_as_good(const Mended& one, const Mended& other) {
  const Standing stood(other.after.findings);
  return std::none_of(one.after.findings.begin(), one.after.findings.end(),
                      [&](const Finding& f) { return stood.is_new(f); });
}

bool states(const design::Document& document, const std::string& size) {
  const auto list = sizes_in(document);
  return std::find(list.begin(), list.end(), size) != list.end();
}

}  // namespace

std::vector<std::string> sizes_in(const design::Document& document) {
  Sizes sizes;
  for (const design::Run& run : document.run) {
    if (run.conductor) sizes.insert(*run.conductor);
    if (run.return_ && run.return_->conductor) sizes.insert(*run.return_->conductor);
  }
  if (document.bank && document.bank->links) {
    const auto& links = *document.bank->links;
    for (const auto* link : {&links.positive, &links.negative})
      if (*link) sizes.insert((*link)->conductor);
  }
  if (document.bank && document.bank->each_battery && document.bank->each_battery->lead)
    sizes.insert(document.bank->each_battery->lead->conductor);
  return {sizes.begin(), sizes.end()};
}

std::optional<std::vector<Mended>> mend_with_fewest_sizes(const std::vector<InRange>& designs,
                                                          LeastChange least,
                                                          Diagnostics& diagnostics) {
  std::vector<Mended> all;
  all.reserve(designs.size());
  for (const InRange& one : designs) {
    auto mended = mend(one.document, one.design, least, diagnostics);
    if (!mended) return std::nullopt;
    all.push_back(*std::move(mended));
  }
  Sizes allowed;
  for (const Mended& m : all) allowed.merge(sizes_of(m));
  std::map<std::string, int> all_uses;
  for (const Mended& m : all) count_uses(m, all_uses);
  std::vector<std::pair<int, std::string>> order;
  for (const auto& [size, uses] : all_uses) order.emplace_back(uses, size);
  std::sort(order.begin(), order.end());
  for (const auto& least_used : order) {
    const std::string& size = least_used.second;
    const bool stays = std::any_of(designs.begin(), designs.end(), [&](const InRange& one) {
      const std::size_t i = std::size_t(&one - designs.data());
      return states(one.document, size) && states(all[i].document, size) && !takes(all[i], size);
    });
    if (stays) continue;  // the range has it whatever is changed
    Sizes fewer = allowed;
    fewer.erase(size);
    if (fewer.empty()) continue;
    std::map<std::size_t, std::optional<Mended>> tried;
    bool good = true;
    for (std::size_t i = 0; i < designs.size() && good; ++i) {
      if (!takes(all[i], size)) continue;
      Diagnostics problems;
      const auto bounded = only_with(designs[i].document, fewer);
      auto mended = mend(bounded, designs[i].design, least, problems);
      good = mended && is_as_good(*mended, all[i]) && sizes_of(*mended).count(size) == 0;
      if (!good) break;
      mended->document.part = designs[i].document.part;
      tried[i] = std::move(mended);
    }
    if (!good) continue;
    for (auto& [i, mended] : tried) all[i] = *std::move(mended);
    allowed = std::move(fewer);
  }
  return all;
}

}  // namespace housepower::choice
