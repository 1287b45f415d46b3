// SPDX-License-Identifier: Apache-2.0
// The whole library for those who ask it questions; examples/library/ shows how. A design goes in as
// text, a typed answer comes out; all lengths, currents and times carry their unit. Nothing here opens
// a file, reads a clock or prints. Who needs less includes less: each header stands for one question.
#pragma once

// What goes in: tables, a design, and what is wrong with it.
#include "housepower/design/open.hpp"
#include "housepower/reading/diagnostic.hpp"
#include "housepower/tables/tables.hpp"
#include "housepower/units/unit.hpp"

// What comes out: every rule asked, each current and voltage, days, stays.
#include "housepower/answers/checked_design.hpp"
#include "housepower/checks/delivered.hpp"
#include "housepower/checks/rule.hpp"
#include "housepower/energy/assessment.hpp"
#include "housepower/energy/stay.hpp"
#include "housepower/energy/years.hpp"
#include "housepower/wiring/assessment.hpp"

#include "housepower/version.hpp"
