// SPDX-License-Identifier: Apache-2.0
// The parts of a van that bear a serial, by their paths in its design.
#include <algorithm>

#include "housepower/answers/record.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::answers {

std::vector<std::string> part_paths(const design::Design& d) {
  std::vector<std::string> all;
  const auto add = [&](const std::string& path) { all.push_back(path); };
  const auto add_numbers = [&](const std::string& path, std::size_t from, std::size_t to) {
    for (std::size_t n = from; n < to; ++n) add(path + "/" + std::to_string(n));
  };
  const auto add_names = [&](const char* kind, const auto& list) {
    for (const auto& one : list) add(std::string(kind) + "/" + one.name);
  };
  if (d->bank) {
    add("bank");
    add_numbers("bank/battery", 1, std::size_t(d->bank->parallel * d->bank->in_series) + 1);
  }
  add_names("inverter", d->inverters);
  add_names("charger", d->chargers);
  add_names("controller", d->controllers);
  add_names("array", d->arrays);
  for (const auto& array : d->arrays)
    add_numbers("array/" + array.name + "/module", 1, std::size_t(array.modules) + 1);
  add_names("feed", d->feeds);
  add_names("appliance", d->appliances);
  for (const auto& post : d->posts)
    if (post.kind == design::resolved::PostKind::node) add("node/" + post.name);
  add_names("connector", d->connectors);
  for (const auto& run : d->runs) {
    add("run/" + run.name);
    add_numbers("run/" + run.name + "/protection", 0, run.protection.size());
    add_numbers("run/" + run.name + "/inline", 0, run.inline_items.size());
  }
  return all;
}

std::optional<Fitted::Part> part_of(std::string_view written, const std::string& name,
                                    Diagnostics& diagnostics) {
  const auto trimmed = [](std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    return std::string(text);
  };
  const auto at = written.find('=');
  Fitted::Part part{trimmed(written.substr(0, at)),
                    at == written.npos ? std::string() : trimmed(written.substr(at + 1))};
  if (!part.path.empty() && !part.serial.empty()) return part;
  diagnostics.error({name}, name, housepower::quoted(written) + " is no part with its serial",
                    "as bank/battery/1=SN 123");
  return std::nullopt;
}

void require_parts(const Fitted& fitted, const design::Design& d, const std::string& name,
                   Diagnostics& diagnostics) {
  const auto paths = part_paths(d);
  const std::vector<std::string_view> known(paths.begin(), paths.end());
  for (const auto& part : fitted.parts)
    if (std::find(known.begin(), known.end(), part.path) == known.end()) {
      const std::string meant = did_you_mean(part.path, known);
      diagnostics.error({name}, name, "the design has no part " + housepower::quoted(part.path),
                        meant.empty() ? "a path of the design, as bank/battery/1 or "
                                        "inverter/NAME or run/NAME/protection/0"
                                      : meant);
    }
}

}  // namespace housepower::answers
