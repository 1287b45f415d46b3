// SPDX-License-Identifier: Apache-2.0
// A rule: its text and its code in one value. Each stands in a file of its own, src/checks/<name>.cpp,
// with examples/faulty/<name>.toml that raises it. `explain`, the manual and the report print the
// text. A rule composes nothing: it asks one engine function (with a Working) and then `judge`.
#pragma once

#include <functional>
#include <span>
#include <string_view>
#include <vector>

#include "housepower/checks/finding.hpp"
#include "housepower/design/design.hpp"
#include "housepower/energy/assessment.hpp"
#include "housepower/energy/outlook.hpp"
#include "housepower/wiring/assessment.hpp"

namespace housepower::checks {

/// Whether findings come with their workings. Without them a fifth less is calculated to judge, and
/// a third less memory is touched.
enum class Workings { kept, left_out };

/// Everything a rule may look at.
struct Evidence {
  const design::Design& design;
  const energy::Assessment& energy;
  const wiring::Assessment& wiring;
  const energy::Outlook& outlook;
  Workings workings = Workings::kept;
  /// Where an engine function writes down what a finding keeps of it.
  [[nodiscard]] Working* kept(Working& working) const {
    return workings == Workings::kept ? &working : nullptr;
  }
};

/// In which direction a parameter moves a rule: the law that is tested says that a parameter moved
/// in a rule's bad direction, to the end of its range, never turns that rule's fail into a pass or
/// a not-checked, nor makes it vanish.
enum class Parameter {
  length,
  area,
  ambient,
  circuits_together,
  load,
  device_rating,
  batteries,
  bank_age,
  reserve,
  array,
  distance,
  joints,
  joint_resistance,
  battery_resistance_low,
  battery_resistance_high,
  charge_limit,
  discharge_limit,
  record_low
};
enum class Effect { worse, better, none, not_monotone };
struct Sign {
  Parameter parameter;
  Effect when_larger;
};

/// To which verdict a rule's findings count. Of some only the fails are of safety; what else is
/// decided finding by finding.
enum class Concern { service, safety, safety_where_it_fails };
/// What must have been assessed: the network of conductors, the bank and its inverters with it, or
/// the hours of the simulation.
enum class Needs { network, bank, hours };
/// What a rule is about, for those who choose parts and cables by it.
enum class About {
  other,
  load,
  drop,
  missing_device,
  promise,
  array,
  tow_line,
  reserve,
  inspection  // what only a person can see
};
/// Whether one run by itself, without a vehicle, can answer it.
enum class OneRun { no, yes, with_its_device };

/// A key whose supplied value a pass rests on, and says so: of the run, the bank or the case that the
/// finding is about, of what its run feeds; of the runs at the bank where it is about a part of that.
struct Leaning {
  design::Subject::Kind of;
  std::string_view key;     // "loss/k"; numbers of lists within are left out
  bool on_the_way = false;  // of the runs and the bank through which a run is fed, too
};

struct Rule {
  std::string_view name;  // kebab-case, never reused for another meaning
  std::string_view asks;  // one sentence, a question
  std::string_view why;   // what happens in the van otherwise
  std::string_view cure;  // in general; a finding's cure names the edit
  Source source;          // of the rule itself
  std::span<const Sign> signs;
  Concern concern;  // not checked of one of safety holds that verdict at caution
  Needs needs = Needs::network;
  About about = About::other;
  OneRun of_one_run = OneRun::no;
  std::span<const Leaning> leans_on{};
  /// What the profile does not ask; empty where it does.
  std::string (*silent)(const design::Design&) = nullptr;
  std::vector<Finding> (*check)(const Rule&, const Evidence&);
};

/// Told by the choice of parts where no device fits.
extern const Rule fuse_below_conductor;

/// All rules, in the order of the report.
[[nodiscard]] std::span<const Rule* const> rules();
[[nodiscard]] const Rule* rule_named(std::string_view name);

[[nodiscard]] bool is_about(const Finding&, About);

/// How bad it is to be beyond a limit: a habit of the trade cautions, a limit that was read fails.
struct Limit {
  Number value;
  Source source;
  Verdict beyond = Verdict::fail;
};

/// The one place where a verdict and a margin are made from two numbers.
[[nodiscard]] Finding judge(const Rule&, design::Subject subject, Number measured, Bound,
                            const Limit&, Working);
/// A verdict without two numbers: a place, a missing device.
[[nodiscard]] Finding state(const Rule&, design::Subject subject, Verdict, std::string message,
                            const Source&);
/// What could not be checked, why, and the keys that would tell; left out: the subject's own key.
[[nodiscard]] Finding not_checked(const Rule&, design::Subject subject, std::string why,
                                  std::vector<design::Subject> wants = {});

/// Every rule on the evidence; sorted: what fails first, then cautions, not-checked, passes, each
/// in the order of the rules and the design.
[[nodiscard]] std::vector<Finding> evaluate(const Evidence&);

/// The design as resolved, and again with the kindest defaults. What fails only with the ordinary
/// ones rests on a value nobody stated and becomes the caution "state it".
struct Checked {
  energy::Assessment energy;
  wiring::Assessment wiring;
  energy::DeliveredList charging;  // what arrives from each charger
  energy::Outlook outlook;
  std::vector<Finding> findings;
  std::vector<Silence> silences;
  Verdicts verdicts;
};
/// Of a finding that rests on values nobody stated: every such value that may concern it, or those
/// alone that move it, by how far they do. To rank them each is tried by itself.
enum class Unsaid { listed, ranked };
/// How a check asks the engines, of the design and, where something is to be softened, of that with
/// the kindest defaults: a caller may leave something out, or know a part of it already.
struct Engines {
  std::function<energy::Assessment(const design::Design&)> energy;
  std::function<wiring::Assessment(const design::Design&, std::span<const wiring::LoadCase>,
                                   Defaults)>
      wiring;
  /// What it leaves out of the simulation is not checked.
  std::function<energy::Outlook(const design::Design&, const energy::DeliveredList&)> outlook;
};
/// The only whole check. The design is that of the document with the ordinary defaults; the second
/// resolve is made only where something fails or cautions.
[[nodiscard]] Checked check(const design::Document&, const design::Design&,
                            Workings = Workings::kept, Unsaid = Unsaid::listed);
[[nodiscard]] Checked check(const design::Document&, const design::Design&, const Engines&,
                            Workings, Unsaid = Unsaid::listed);

/// The worst of each kind; at best a caution while something of safety is not checked. What else is
/// not checked touches neither.
[[nodiscard]] Verdicts worst(std::span<const Finding>);

/// File, line and column of each finding's subject.
void locate(std::vector<Finding>&, const Node& document);

/// The load cases to assess: everything that the design states, or its fullest hour with its
/// largest starter; every consumer that runs in none of them on its own besides.
[[nodiscard]] std::vector<wiring::LoadCase> load_cases(const design::Design&,
                                                       const energy::Assessment&);

}  // namespace housepower::checks
