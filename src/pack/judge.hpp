// SPDX-License-Identifier: Apache-2.0
// What a pick keeps, by energy first and by simulation then; and the design that comes of it, with
// conductors and devices, judged by every rule.
#pragma once

#include <map>
#include <tuple>

#include "housepower/choice/trial.hpp"
#include "housepower/energy/least_store.hpp"
#include "housepower/pack/levers.hpp"
#include "space.hpp"

namespace housepower::pack::inside {

using checks::Finding;
using checks::Verdict;
using choice::choose;
using choice::Chosen;
using choice::energy_of;
using choice::runs_of;
using choice::Standing;
using choice::Trial;
using choice::try_out;
using design::Document;

/// A place at which the promise has to hold, with the month that is looked at for it.
struct Site {
  std::string town;  // empty: as the design says
  std::string title;
  energy::Weather weather;
  int month = 0;
};

struct Asked {
  bool stay = true;  // otherwise days of autonomy are the measure
  Duration length{};
  Ratio chance = 0.9;
  bool without_end = false;  // every start, also with less sun and more use
};

/// What the promise asks; nothing, and told, where it asks nothing.
[[nodiscard]] std::optional<Asked> asked_of(const design::Design&, Diagnostics&);
/// The places of the search, each with its weather and the month in which the design as it stands
/// keeps least.
[[nodiscard]] std::optional<std::vector<Site>> sites_of(const design::Document&,
                                                        const design::Design& own,
                                                        const tables::Tables&, const Asked&,
                                                        const energy::Each&, Diagnostics&);
/// The design at another town; as it is where none is named.
[[nodiscard]] design::Document moved_to(design::Document, const std::string& town);

class Judge {
public:
  Judge(const Space&, const tables::Tables&, const PackQuestion&, const Asked&,
        std::vector<Site> sites, const energy::Each&);

  /// The largest chance that it can have; 1 where no bound is known. Each level asks for it again,
  /// and for what falls short: found once for each pick.
  [[nodiscard]] double at_best(const Pick&);
  /// Whether the controllers bear the array; rules of the roof alone, once for each such choice.
  [[nodiscard]] bool electrically_sound(const Pick&);
  [[nodiscard]] bool tow_line_sound(const Pick& pick) { return tow_line(pick).sound; }
  /// Why autonomy or balance falls short; empty where neither does.
  [[nodiscard]] const std::string& falls_short(const Pick&);
  /// Simulated, at the worst of the places. Once for each pick.
  [[nodiscard]] const Kept& kept(const Pick&);
  [[nodiscard]] bool was_simulated(const Pick& pick) const { return kept_.count(pick) > 0; }
  /// With the length of stay that the chance reaches, in the month in which it was found.
  [[nodiscard]] Kept kept_whole(const Pick& pick) { return kept_whole(pick, kept(pick)); }
  [[nodiscard]] Kept kept_whole(const Pick&, Kept found);
  /// What a pick would keep with such a change; nothing where that is no design.
  [[nodiscard]] std::optional<Addition> with_relief(const Pick&, const Relief&);
  /// What would help a pick, at the place where it keeps least.
  [[nodiscard]] std::vector<Relief> reliefs_of(const Pick&);
  /// What the choices rise in: chance, or autonomy over the promised one.
  [[nodiscard]] double measure(const Pick&);
  /// Written, fitted with conductors and judged by every rule.
  [[nodiscard]] PackChoice judged(const Pick&) const;
  /// Chances of several numbers of batteries with the other options of a pick.
  [[nodiscard]] std::vector<double> chances(const Pick&, const std::vector<std::uint16_t>& banks);

  std::size_t simulated = 0;
  [[nodiscard]] const Asked& asked() const { return asked_; }

private:
  [[nodiscard]] std::optional<design::Design> design_of(design::Document, const Site&) const;
  /// Of a pick; the last one stays at hand, for the next question is often of the same.
  [[nodiscard]] const std::optional<design::Design>& design_of(const Pick&, const Site&);
  [[nodiscard]] energy::StayQuestion question(const Site&, int days) const;
  [[nodiscard]] energy::kernel::Plant plant(const design::Design&) const;
  [[nodiscard]] Ratio chance_of(const energy::kernel::Plant&, const energy::Surroundings&,
                                const Site&) const;
  [[nodiscard]] energy::Surroundings around(const design::Design&, const Site&, const Pick&);
  [[nodiscard]] const std::vector<energy::LeastStore>& least_stores(const Pick&);
  [[nodiscard]] design::Document at_best_with(const Pick&) const;
  [[nodiscard]] double bound_of(const Pick&);
  [[nodiscard]] std::string shortfall_of(const Pick&);
  [[nodiscard]] std::optional<Duration> autonomy_at(const Pick&, const Site&, int month);
  [[nodiscard]] int longest_days() const;

  const Space& space_;
  const tables::Tables& tables_;
  const PackQuestion& question_;
  Asked asked_;
  std::vector<Site> sites_;
  const energy::Each& each_;
  Standing before_;
  bool chooses_direct_ = false;                                         // among the controllers
  std::map<std::uint16_t, std::vector<energy::LeastStore>> bounds_;     // by option of the array
  std::map<std::uint16_t, std::vector<energy::kernel::Plant>> plants_;  // by option of the bank
  struct {
    Pick pick;
    const Site* site = nullptr;
    std::optional<design::Design> design;
  } last_;
  std::map<Pick, double> at_best_;
  std::map<Pick, std::string> falls_short_;
  std::map<const Site*, std::optional<int>> month_of_autonomy_;
  std::map<const Site*, std::optional<energy::Weather>> for_autonomy_;
  std::map<std::tuple<Pick, const Site*, int>, std::optional<Duration>> autonomy_;
  std::map<Pick, Kept> kept_;
  struct TowLine {
    bool sound = true;
    energy::DeliveredList delivered;  // with conductors chosen where it needs others
  };
  [[nodiscard]] const TowLine& tow_line(const Pick&);
  std::map<Pick, TowLine> tow_line_;  // by the options of chargers
  std::map<Pick, bool> sound_;        // by the options of array and controllers
};
/// Whether a change of conductors or devices may help a rule, as its sign table says.
[[nodiscard]] bool helped_by_wiring(std::string_view rule);

/// The design with conductors and devices for what is open, and for the runs of what was changed
/// where they are beyond a limit.
struct Fitted {
  design::Document document;
  std::vector<Choice> choices;
  std::string against;              // filled: no conductor or device helps
  std::string_view against_rule{};  // that says so, where it is one
  std::string against_run{};        // for which there is no conductor, where it is that
};
[[nodiscard]] Fitted fitted(design::Document, const tables::Tables&, const Standing& before);

}  // namespace housepower::pack::inside
