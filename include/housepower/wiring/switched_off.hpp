// SPDX-License-Identifier: Apache-2.0
// What the bank still feeds once isolators are open: current goes only where there is both a way out
// along the plus conductors and a way home along returns and chassis. Any of several ways will do, so
// an isolator parts nothing that another way goes round.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "housepower/wiring/neighbours.hpp"

namespace housepower::wiring {

/// What a hand or a coil opens: an isolator, a contactor.
[[nodiscard]] bool is_switch(const design::resolved::InlineItem&);

/// Which items in line are open.
using IsOpen =
    std::function<bool(const design::resolved::Run&, const design::resolved::InlineItem&)>;

/// The posts to which the bank has a way out and a way home while those are open; none without a bank.
/// A chassis is one conductor, joined to the negative where the design bonds it; where it does not say,
/// at the bank (the safe side: there no isolator parts it).
[[nodiscard]] Reached fed_while_open(const design::Design&, const IsOpen&);
/// The same with every isolator and contactor open: a van that is left.
[[nodiscard]] Reached fed_while_parked(const design::Design&);

/// Appliances and inverters at such posts, by their names.
[[nodiscard]] std::vector<std::string> drawing_at(const design::Design&, const Reached&);

}  // namespace housepower::wiring
