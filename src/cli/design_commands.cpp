// SPDX-License-Identifier: Apache-2.0
// check, energy, wiring: a design file in, an answer out.
#include <algorithm>
#include <array>

#include "asked.hpp"
#include "given.hpp"
#include "housepower/answers/one_finding.hpp"
#include "housepower/choice/cures.hpp"
#include "housepower/reading/shown.hpp"
#include "pack_file.hpp"
#include "threads.hpp"
#include "verbs.hpp"

namespace housepower::cli {

/// What `wiring` takes beside the options of a design.
struct WiringOutput {
  std::optional<std::string> output;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::WiringOutput> = std::array{field<&cli::WiringOutput::output>(
    "output",
    "Writes the conductors and devices that were chosen as an option pack, a file that extends the "
    "design; - writes it to standard output, instead of the answer.",
    "wired.toml")};
}  // namespace housepower

namespace housepower::cli {
namespace {

/// What `energy` takes besides.
constexpr std::array asked_of_energy{
    field<&DesignOptions::people>("people",
                                  "How many people; left out, as many as the design says.", "4")
        .at_least(Ratio(1.0))
        .at_most(Ratio(double(answers::most_people))),
    field<&DesignOptions::add>("add", "Another appliance, any number of times.",
                               "Air fryer: 1400 W, 0.3 h, inverter")};

/// What `check` takes besides.
constexpr std::array asked_of_check{
    field<&DesignOptions::full>("full", "Shows all: what passes, energy, wiring, what was assumed.")
        .optional(),
    field<&DesignOptions::open>(
        "open", "Lists what was not checked: to look at, and the figures that are wanted.")
        .optional(),
    field<&DesignOptions::sources>("sources", "Prints the source of each limit.").optional(),
    field<&DesignOptions::strict>("strict",
                                  "Ends with 1 for a caution and for what is not checked, too.")
        .optional(),
    field<&DesignOptions::why>("why",
                               "One finding with its working: the rule, a space, what it is about.",
                               "drop appliance/Fridge")};

std::vector<Field> with_more(FieldList more) {
  std::vector<Field> list(fields<DesignOptions>.begin(), fields<DesignOptions>.end());
  list.insert(list.end(), more.begin(), more.end());
  return list;
}

bool at_one_place(const DesignOptions& o, World& world) {
  return cli::names_one_place(o.town.has_value(), o.weather.has_value(), o.at.has_value(), world);
}

/// What the catalogue that a design names says of the stock; false, and told, where it cannot.
bool take_stock(Opening& opening, const DesignOptions& options, World& world,
                Diagnostics& diagnostics) {
  add_stock(*opening.document, parts_for({}, options.file, opening, world, diagnostics));
  return !diagnostics.any_error();
}

/// What a command does beside showing figures.
enum class Does { no_more, chooses };

/// Opens and checks a design, and answers by `page` and `json` of (checked, opening).
template <class MakePage, class MakeJson>
int answer_design(const Node& typed, World& world, MakePage page, MakeJson json, Does does,
                  FieldList list = fields<DesignOptions>) {
  auto options = options_from<DesignOptions>(typed, world, list);
  if (!options || !at_one_place(*options, world)) return usage;
  options->needs_runs = does != Does::no_more;
  Diagnostics diagnostics;
  auto opening = open_checked(*options, world, diagnostics);
  if (!opening) return refuse(world, *options->format, diagnostics);
  if (does == Does::chooses && !take_stock(*opening, *options, world, diagnostics))
    return refuse(world, *options->format, diagnostics);
  warn(world, *options->format, diagnostics);
  const report::CheckedDesign checked{*opening->design, opening->checked, opening->digest};
  answer(
      world, *options->format, [&] { return page(checked, *opening); },
      [&] { return json(checked, *opening); });
  return ok;
}

/// Headroom and changes are of the design with what was chosen for it.
report::Sized sized(const Opening& opening) {
  report::Sized s{choice::choose(*opening.document, *opening.tables), {}, {}};
  s.headroom = choice::headroom(s.chosen.document, *opening.tables);
  s.what_if = choice::what_if(s.chosen.document, *opening.tables);
  return s;
}

/// Each month over thirty years.
std::vector<energy::MonthOverYears> over_years(const design::Design& design,
                                               const energy::DeliveredList& charging) {
  const auto weather = energy::weather_of(design, 30, energy::usual_seed);
  if (!weather || !design->bank) return {};
  const energy::Surroundings surroundings(design, *weather, {}, charging);
  Workers workers(nullptr);
  return energy::months_over_years(design, surroundings, workers.each());
}

std::optional<std::string> take_output(Node& typed) {
  const auto output = typed.text_at("output");
  std::optional<std::string> path;
  if (output) path = std::string(*output);
  std::erase_if(std::get<Node::Table>(typed.value),
                [](const Node::Entry& e) { return e.key == "output"; });
  return path;
}

/// The design with what was chosen for the runs that it leaves open.
int write_wired(const Node& typed, const std::string& output, World& world) {
  const auto options = options_from<DesignOptions>(typed, world);
  if (!options || !at_one_place(*options, world)) return usage;
  Diagnostics diagnostics;
  auto opening = open_unchecked(*options, world, diagnostics, false);
  if (!opening) return refuse(world, *options->format, diagnostics);
  const auto own_parts = opening->document->part;
  if (!take_stock(*opening, *options, world, diagnostics))
    return refuse(world, *options->format, diagnostics);
  auto chosen = choice::choose(*opening->document, *opening->tables);
  const auto left_open = [](const choice::Choice& c) { return !c.why_none.empty(); };
  for (const auto& choice : chosen.choices)
    if (left_open(choice))
      world.err << "note: no " << (choice.was_open ? "conductor" : "device") << " for run \""
                << shown(choice.run) << "\": " << shown(choice.why_none) << "\n";
  if (std::all_of(chosen.choices.begin(), chosen.choices.end(), left_open)) {
    world.err << "error: --output: "
              << (chosen.choices.empty()
                      ? "the design leaves nothing open: every run has its conductor, every end "
                        "that needs one its device"
                      : "nothing was found for what is open")
              << "; no pack is written\n";
    return check_fails;
  }
  std::vector<std::string> about{"Conductors and devices that `wiring` chose for what is open in " +
                                 opening->document->vehicle.name + "."};
  for (const auto& choice : chosen.choices)
    if (!choice.why_none.empty())
      about.push_back("None for run \"" + choice.run + "\": " + choice.why_none);
  chosen.document.part = own_parts;
  const int written = write_pack(output, *options, *opening, chosen.document, about, world);
  return written == ok && !chosen.found_all ? check_fails : written;
}

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

FieldList check_options() {
  static const std::vector<Field> all = with_more(asked_of_check);
  return all;
}
FieldList wiring_options() {
  static const std::vector<Field> all = with_more(fields<WiringOutput>);
  return all;
}
FieldList energy_options() {
  static const std::vector<Field> all = with_more(asked_of_energy);
  return all;
}

int run_check(const Node& typed, World& world) {
  const auto options = options_from<DesignOptions>(typed, world, check_options());
  if (!options || !at_one_place(*options, world)) return usage;
  Diagnostics diagnostics;
  const bool shows_workings = options->format == Format::json || options->working.value_or(false);
  auto opening = open_checked(*options, world, diagnostics,
                              shows_workings ? checks::Workings::kept : checks::Workings::left_out);
  if (!opening) return refuse(world, *options->format, diagnostics);
  if (options->why) return answer_why(*opening, *options, world);
  choice::try_cures(*opening->document, *opening->design, opening->checked);
  warn(world, *options->format, diagnostics);
  const auto checked = opening->checked_design();
  answer(
      world, *options->format, [&] { return page_of_check(*opening, *options); },
      [&] { return report::check_json(checked); });
  return exit_of_check(checked, options->strict.value_or(false));
}
int run_energy(const Node& typed, World& world) {
  return answer_design(
      typed, world,
      [](const report::CheckedDesign& c, const Opening&) {
        return report::energy_page(c, over_years(c.design, c.checked.charging));
      },
      [](const report::CheckedDesign& c, const Opening&) {
        return report::energy_json(c, over_years(c.design, c.checked.charging));
      },
      Does::no_more, energy_options());
}
int run_wiring(const Node& typed, World& world) {
  Node own = typed;
  const auto output = take_output(own);
  if (output != "-") {
    const int answered = answer_design(
        own, world,
        [](const report::CheckedDesign& c, const Opening& opening) {
          return report::wiring_page(c, sized(opening));
        },
        [](const report::CheckedDesign& c, const Opening& opening) {
          return report::wiring_json(c, sized(opening));
        },
        Does::chooses);
    if (answered != ok || !output) return answered;
  }
  return write_wired(own, *output, world);
}

}  // namespace housepower::cli
