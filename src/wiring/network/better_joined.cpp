// SPDX-License-Identifier: Apache-2.0
// Which change of the joints between batteries makes them share: each is tried on the bank alone.
#include "../inside.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

bool linked(const Bank& bank) { return bank.link_positive || bank.link_negative; }
const Lead& positive_link(const Bank& bank) {
  return bank.link_positive ? *bank.link_positive : *bank.link_negative;
}
const Lead& negative_link(const Bank& bank) {
  return bank.link_negative ? *bank.link_negative : *bank.link_positive;
}

struct OtherEnd {
  std::string edit;
  Bank bank;
};

void take_diagonally(Bank& bank) { bank.takeoff = {1, bank.parallel}; }
std::string takeoff_text(const Bank& bank) {
  return "takeoff_from = [" + std::to_string(bank.takeoff[0]) + ", " +
         std::to_string(bank.takeoff[1]) + "]";
}

/// The bank with each larger size of link, smallest first.
void add_larger_links(const design::Design& d, const Bank& bank, const std::string& with,
                      std::vector<OtherEnd>& all) {
  const Area now =
      std::min(positive_link(bank).conductor.copper, negative_link(bank).conductor.copper);
  for (const tables::Conductor& c : tables::series_named(*d->tables, d->sizes)) {
    if (c.copper <= now) continue;
    Bank larger = bank;
    for (auto* link : {&larger.link_positive, &larger.link_negative})
      if (*link && (*link)->conductor.copper < c.copper)
        *link = Lead{c, (*link)->length, std::nullopt, (*link)->joints};
    all.push_back({"links of " + c.name + with, std::move(larger)});
  }
}

std::vector<OtherEnd> candidates(const design::Design& d) {
  const Bank& bank = *d->bank;
  std::vector<OtherEnd> all;
  if (!linked(bank)) return all;
  Bank diagonal = bank;
  take_diagonally(diagonal);
  all.push_back({takeoff_text(diagonal), diagonal});
  add_larger_links(d, bank, "", all);
  add_larger_links(d, diagonal, " and " + takeoff_text(diagonal), all);
  Bank star = bank;
  star.lead = positive_link(bank);
  star.link_positive.reset();
  star.link_negative.reset();
  all.push_back(
      {"equal leads from each battery to a common bar (`each_battery`)", std::move(star)});
  return all;
}

}  // namespace

std::optional<BetterJoined> better_joined(const design::Design& d, const BankLoad& load,
                                          Ratio most_uneven, std::optional<Current> limit) {
  for (OtherEnd& c : candidates(d)) {
    const Current all = 100.0 * ampere;  // any: all charged alike, the shares are the same
    const auto shares = shares_of(d, c.bank, all, load);
    const Current most = *std::max_element(shares.begin(), shares.end());
    if (unevenness(Ratio(double(c.bank.parallel)), most, all) > most_uneven) continue;
    Sharing s = discharge(d, c.bank, load);
    if (s.points.empty() || (limit && busiest_at(s, s.worst) > *limit)) continue;
    return BetterJoined{c.edit, std::move(s)};
  }
  return std::nullopt;
}

bool joined_as_stated(const Bank& bank) { return linked(bank) || bank.lead; }

Current joining_current(const design::Design& d, Voltage apart, Working* working) {
  const Bank& bank = *d->bank;
  const Source stated{SourceKind::supplier, "the design", "as stated"};
  const auto low = low_resistance_of(bank);
  const auto cold = [&](const Lead& l) { return lead_resistance(d, l, Condition::largest_fault); };
  Resistance between{};
  if (linked(bank)) between = cold(positive_link(bank)) + cold(negative_link(bank));
  else if (bank.lead) between = 2.0 * cold(*bank.lead);
  given(working, "ΔU", "apart", apart, joined_within_source);
  given(working, "R", "low resistance of each battery", low.value * double(bank.in_series),
        Source{low.kind, stated.title, stated.where});
  given(working, "R_l", "copper between them, cold, without joints", between,
        Source{SourceKind::from_memory, "copper", "joints count nothing"});
  return step(working, equalising_current, apart, Resistance(low.value * double(bank.in_series)),
              between);
}

}  // namespace housepower::wiring
