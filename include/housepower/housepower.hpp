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

// The answers: a question with its files as text, what it opens, and what is asked of that.
#include "housepower/answers/build_plan.hpp"
#include "housepower/answers/cable.hpp"
#include "housepower/answers/checked_design.hpp"
#include "housepower/answers/compare.hpp"
#include "housepower/answers/energy.hpp"
#include "housepower/answers/first_van.hpp"
#include "housepower/answers/formula.hpp"
#include "housepower/answers/looms.hpp"
#include "housepower/answers/mend.hpp"
#include "housepower/answers/one_finding.hpp"
#include "housepower/answers/opening.hpp"
#include "housepower/answers/pack_file.hpp"
#include "housepower/answers/page_content.hpp"
#include "housepower/answers/question.hpp"
#include "housepower/answers/range.hpp"
#include "housepower/answers/record.hpp"
#include "housepower/answers/replace.hpp"
#include "housepower/answers/report_parts.hpp"
#include "housepower/answers/shelf.hpp"
#include "housepower/answers/size.hpp"
#include "housepower/answers/stay.hpp"
#include "housepower/answers/test_sheet.hpp"
#include "housepower/answers/wiring.hpp"

// What they hold: every rule asked, each current and voltage, days, stays.
#include "housepower/checks/delivered.hpp"
#include "housepower/checks/rule.hpp"
#include "housepower/energy/assessment.hpp"
#include "housepower/energy/stay.hpp"
#include "housepower/energy/years.hpp"
#include "housepower/wiring/assessment.hpp"

#include "housepower/version.hpp"
