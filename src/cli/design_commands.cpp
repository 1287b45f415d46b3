// SPDX-License-Identifier: Apache-2.0
// check: a design file in, every finding out.
#include "asked.hpp"
#include "given.hpp"
#include "housepower/answers/one_finding.hpp"
#include "housepower/choice/cures.hpp"
#include "threads.hpp"
#include "verbs.hpp"

namespace housepower::cli {
namespace {

/// What `check` takes besides.
constexpr std::array asked_of_check{
    field<&DesignOptions::passes>("passes", "Lists each finding that passes, too.").optional(),
    field<&DesignOptions::working>("working", "Prints the calculation under each finding.")
        .optional(),
    field<&DesignOptions::full>("full", "Shows all: what passes, energy, wiring, what was assumed.")
        .optional(),
    field<&DesignOptions::open>(
        "open", "Lists what was not checked: what to look at, and the figures wanted.")
        .optional(),
    field<&DesignOptions::sources>("sources", "Prints the source of each limit.").optional(),
    field<&DesignOptions::strict>("strict",
                                  "Exits with 1 for a caution or anything not checked, too.")
        .optional(),
    field<&DesignOptions::quick>(
        "quick", "Faster: without tried fixes, and in JSON without most calculations.")
        .optional(),
    field<&DesignOptions::why>("why",
                               "One finding with its working: the rule, a space, what it is about.",
                               "drop appliance/Fridge")};

/// One finding alone; it passes where the finding does.
int answer_why(const Opening& opening, const DesignOptions& options, World& world) {
  Diagnostics diagnostics;
  const auto found =
      answers::one_finding(opening, answers::asked_in_words(*options.why), diagnostics);
  if (!found) {
    world.err << render(diagnostics, world.read);
    return usage;
  }
  answer(
      world, *options.format, [&] { return report::finding_page(*found); },
      [&] { return report::finding_json(*found); });
  return found->verdict == checks::Verdict::fail ? check_fails : ok;
}

/// The stay is simulated only where it is shown.
page::Page page_of_check(const Opening& opening, const DesignOptions& options) {
  const auto checked = opening.checked_design();
  if (options.open.value_or(false)) return report::open_page(checked);
  const report::Detail detail{options.passes.value_or(false), options.working.value_or(false),
                              options.sources.value_or(false), options.full.value_or(false)};
  std::optional<energy::StayAnswer> parked;
  if (!detail.full) {
    Diagnostics no_stay;  // without a bank or a place, and that is said
    Workers workers(nullptr);
    parked = answers::length_of_a_stay(given(opening, options.file), {}, no_stay, workers.each());
  }
  return report::check_page(checked, detail, parked);
}

int exit_of_check(const report::CheckedDesign& c, bool strict) {
  if (c.checked.verdicts.worse() == checks::Verdict::fail) return check_fails;
  const auto& findings = c.checked.findings;
  const bool open = std::any_of(findings.begin(), findings.end(),
                                [](const auto& f) { return f.verdict != checks::Verdict::pass; });
  return strict && (open || report::is_empty(c.design)) ? check_fails : ok;
}

}  // namespace

FieldList design_options() { return fields<DesignOptions>; }
FieldList check_options() {
  static const std::vector<Field> all = joined(fields<DesignOptions>, asked_of_check);
  return all;
}

int run_check(const Node& typed, World& world) {
  const auto options = options_from<DesignOptions>(typed, world, check_options());
  if (!options || !at_one_place(*options, world)) return usage;
  Diagnostics diagnostics;
  const bool quick = options->quick.value_or(false);
  const bool shows_workings =
      (options->format == Format::json && !quick) || options->working.value_or(false);
  auto opening = open_checked(*options, world, diagnostics,
                              shows_workings ? checks::Workings::kept : checks::Workings::left_out);
  if (!opening) return refuse(world, *options->format, diagnostics);
  if (options->why) return answer_why(*opening, *options, world);
  if (quick) choice::forget_untried(opening->checked);
  else choice::try_cures(*opening->document, *opening->design, opening->checked);
  warn(world, Format::text, diagnostics);
  const auto checked = opening->checked_design();
  answer(
      world, *options->format, [&] { return page_of_check(*opening, *options); },
      [&] { return report::check_json(checked, quick); });
  return exit_of_check(checked, options->strict.value_or(false));
}

}  // namespace housepower::cli
