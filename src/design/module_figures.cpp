// SPDX-License-Identifier: Apache-2.0
#include "module_figures.hpp"

#include "housepower/units/unit.hpp"

namespace housepower::design {

void check_module(Diagnostics& diagnostics, const Module& m, const Place& place,
                  const std::string& path) {
  const auto refuse = [&](const char* key, const std::string& message, const char* hint) {
    diagnostics.error(place, path + "/" + key, message, hint);
  };
  const auto doubt = [&](const char* key, const std::string& message, const char* hint) {
    diagnostics.warning(place, path + "/" + key, message, hint);
  };
  if (m.voc && m.vmp && *m.voc < *m.vmp)
    refuse("voc",
           print(Number(*m.voc)) + " is less than `vmp`, " + print(Number(*m.vmp)) +
               ": an open module has the higher voltage",
           "the two may have been changed about");
  if (m.isc && m.imp && *m.isc < *m.imp)
    refuse("isc",
           print(Number(*m.isc)) + " is less than `imp`, " + print(Number(*m.imp)) +
               ": a short circuit drives the higher current",
           "the two may have been changed about");
  if (m.vmp && m.imp) {
    const Power product = *m.vmp * *m.imp;
    // Data sheets round all three; a bifacial one may count its back.
    if (m.power > 1.1 * product || m.power < 0.8 * product)
      doubt("power",
            print(Number(m.power)) + " does not go with `vmp` times `imp`, " +
                print(Number(product)),
            "all three are of one module, at its best point");
  }
  if (m.size.size() == 2) {
    const Area area = m.size[0] * m.size[1];
    const Power most = 260.0 * watt * (area / (1.0 * square_metre));
    if (m.power > most)
      doubt("size",
            print(Number(area)) + " is too little for `power`, " + print(Number(m.power)) +
                ": the best modules give 260 W/m²",
            "length and width of one module");
  }
}

}  // namespace housepower::design
