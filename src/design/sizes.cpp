// SPDX-License-Identifier: Apache-2.0
// Sizes that are written as bare numbers: of the series in use, and that is said.
#include "housepower/reading/text.hpp"
#include "resolving.hpp"

namespace housepower::design {
namespace {

struct StatedSize {
  SizeText* size;
  std::string path;
};

void add_size(std::vector<StatedSize>& all, std::optional<SizeText>& size, std::string path) {
  if (size) all.push_back({&*size, std::move(path)});
}

/// Every size that a design states of its own conductors, with its path.
std::vector<StatedSize> sizes_in(Document& document) {
  std::vector<StatedSize> all;
  for (std::size_t i = 0; i < document.run.size(); ++i) {
    Run& run = document.run[i];
    // As the errors of the same key name it.
    const std::string path =
        housepower::detail::join("run", run.name.empty() ? std::to_string(i) : run.name);
    add_size(all, run.conductor, path + "/conductor");
    if (run.return_) add_size(all, run.return_->conductor, path + "/return/conductor");
  }
  if (!document.bank) return all;
  Bank& bank = *document.bank;
  if (bank.terminal)
    add_size(all, bank.terminal->largest_conductor,
             housepower::detail::join("bank/terminal", "largest_conductor"));
  const auto add_link = [&](std::optional<Link>& link, std::string_view of) {
    if (link) all.push_back({&link->conductor, housepower::detail::join(of, "conductor")});
  };
  if (bank.links) {
    add_link(bank.links->positive, "bank/links/positive");
    add_link(bank.links->negative, "bank/links/negative");
  }
  if (bank.each_battery) add_link(bank.each_battery->lead, "bank/each_battery/lead");
  return all;
}

}  // namespace

std::vector<NamedSize> name_sizes(Document& document, const tables::Tables& tables,
                                  Diagnostics& diagnostics) {
  std::vector<NamedSize> named;
  const auto* profile = tables.profile(document.rules.profile);
  if (!document.rules.sizes && !profile) return named;
  const std::string series =
      document.rules.sizes ? std::string(word(*document.rules.sizes)) : profile->sizes;
  std::optional<Diagnostic> first;
  for (const StatedSize& one : sizes_in(document)) {
    auto name = tables::named_in_series(tables, *one.size, series);
    if (!name) continue;
    const std::string says =
        quoted(*one.size) + " is read as " + *name + ", for `sizes` is " + series;
    if (!first)
      first = Diagnostic{Severity::warning, document.place, one.path, says,
                         "write " + quoted(*name) + " to be sure"};
    named.push_back({one.path, *name, says});
    *one.size = *std::move(name);
  }
  if (!first) return named;
  const std::size_t more = named.size() - 1;
  if (more > 0) first->message += "; " + std::to_string(more) + " more are read so";
  diagnostics.all.push_back(*std::move(first));
  return named;
}

}  // namespace housepower::design
