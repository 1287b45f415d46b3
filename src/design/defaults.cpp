// SPDX-License-Identifier: Apache-2.0
// What the file leaves out: first [wiring] speaks for runs that do not say, then the field list.
// Defaults that depend on other values are chosen where those are resolved.
#include "resolving.hpp"

namespace housepower::design {
namespace {

template <class T> void take_over(std::optional<T>& own, const std::optional<T>& common) {
  if (!own) own = common;
}

void apply_wiring(Document& document) {
  if (!document.wiring) return;
  const WiringDefaults& common = *document.wiring;
  for (Run& run : document.run) {
    take_over(run.insulation, common.insulation);
    take_over(run.insulation_material, common.insulation_material);
    take_over(run.laid, common.laid);
    take_over(run.ambient, common.ambient);
    take_over(run.circuits_together, common.circuits_together);
    take_over(run.joints, common.joints);
    take_over(run.joint_resistance, common.joint_resistance);
  }
}

template <class T> void make_room(std::optional<T>& table) {
  if (!table) table.emplace();
}

}  // namespace

void fill_in(Resolving& r) {
  Document& document = r.document;
  apply_wiring(document);
  make_room(document.promise);  // tables left out whole, whose keys have defaults
  make_room(document.travel);
  if (document.bank) make_room(document.bank->storage);
  for (auto& feed : document.feed) make_room(feed.voltage);
  for (auto& inverter : document.inverter)
    if (!inverter.efficiency) make_room(inverter.loss);
  fill_defaults(document_fields(), &document, r.defaults, {}, r.out.assumptions);
}

}  // namespace housepower::design
