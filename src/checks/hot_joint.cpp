// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "as_found.hpp"
#include "housepower/wiring/joints.hpp"
#include "resting.hpp"

namespace housepower::checks {
namespace {

using design::InlineKind;

constexpr Source good_source{SourceKind::published, "a service manual of a 24 V battery pack",
                             "p. 135: a good joint loses 0.008 to 0.030 V, a faulty one 0.200 V"};
constexpr Source shunt_source{SourceKind::from_memory, "shunts as they are sold",
                              "made to lose 50 or 75 mV at their rating"};
constexpr Source count_source{SourceKind::common_practice, "practice of the trade",
                              "a lug at each end of each conductor, two where something breaks it"};
constexpr Voltage good = 0.030 * volt, faulty = 0.200 * volt, of_a_shunt = 0.075 * volt;

/// A joint or contact that the current of one pole of a run passes.
struct Passed {
  Subject path;
  std::string who;
  design::Pole pole = design::Pole::outgoing;
  Resistance each{};
  bool stated = true;
  bool shunt = false;
  Subject key{};  // of its resistance
};

/// "0.12 mΩ": two digits, rounded down so that it suffices.
std::string rounded_down(Resistance r) {
  const double scale = std::pow(10.0, std::floor(std::log10(r.value())) - 1.0);
  return print(Resistance::from_value(std::floor(r.value() / scale + 1e-9) * scale));
}

Finding check_passed(const Rule& rule, const Evidence& e, const Passed& at, Current current,
                     Working working) {
  const Voltage lost = wiring::contact_voltage(current, at.each);
  const Limit limit = lost > faulty ? Limit{faulty, good_source}
                      : at.shunt    ? Limit{of_a_shunt, shunt_source, Verdict::caution}
                                    : Limit{good, good_source, Verdict::caution};
  const auto contact = wiring::contact_of(current, at.each, as_stated, at.shunt ? of_a_shunt : good,
                                          e.kept(working));
  Finding f = judge(rule, at.path, contact.lost, Bound::at_most, limit, std::move(working));
  f.message = at.who + " loses " + print(contact.lost) + " and makes " + print(contact.heat) +
              " of heat at " + print(current);
  if (f.verdict >= Verdict::caution && contact.sufficient)
    f.cure = (at.shunt ? "a shunt of at most " : "clean, crimped and tight, with at most ") +
             rounded_down(*contact.sufficient);
  return f;
}

/// The one that the item sits in; of a connector in both the one whose contacts lose more.
template <class Carried>
design::Pole busier_pole(const design::resolved::InlineItem& item, const Carried& carried) {
  using design::Pole;
  if (!item.sits_in(Pole::return_)) return Pole::outgoing;
  const bool back = carried(Pole::return_) * item.in(Pole::return_) >
                    carried(Pole::outgoing) * item.in(Pole::outgoing);
  return back || !item.sits_in(Pole::outgoing) ? Pole::return_ : Pole::outgoing;
}

/// The joints and items in line of a run. Those of one pole all pass its current.
std::vector<Passed> passed_in(const Evidence& e, RunId id) {
  const Run& run = e.design[id];
  const Subject at = subject_of(e.design, run);
  std::vector<Passed> all;
  // Joints of the outgoing pole and of the return are alike: the pole that carries more counts.
  const auto carried = [&](design::Pole pole) {
    return wiring::carried_of(e.design, e.wiring, id, pole);
  };
  const bool back =
      !run.back.chassis && carried(design::Pole::return_) > carried(design::Pole::outgoing);
  const bool some = run.joints > 0 || is_assumed(e.design, at.with("joints")) ||
                    (run.joint_resistance && !is_assumed(e.design, at.with("joint_resistance")));
  if (some)  // a stated resistance is of a joint, however many are stated
    all.push_back({at.with("joint_resistance"), "each joint of run " + quoted(run.name),
                   back ? design::Pole::return_ : design::Pole::outgoing,
                   run.joint_resistance.value_or(0.0 * ohm),
                   !is_assumed(e.design, at.with("joint_resistance")), false,
                   at.with("joint_resistance")});
  for (std::size_t n = 0; n < run.inline_items.size(); ++n) {
    const auto& item = run.inline_items[n];
    const Subject path = at.inline_item(n);
    const design::Pole pole = busier_pole(item, carried);
    all.push_back({path, item_of(run, n), pole, item.in(pole),
                   !is_assumed(e.design, path.with("resistance")), item.kind == InlineKind::shunt,
                   path.with("resistance")});
  }
  return all;
}

/// Of what nobody stated the most loaded is told, and what it may have.
struct Unstated {
  int how_many = 0;
  std::vector<Subject> keys{};
  Passed most{};
  Current current{};
};

Finding tell(const Rule& rule, const Unstated& unstated) {
  Finding f = not_checked(
      rule, Subject(Subject::Kind::run),
      "the resistance of the joints or items in line is not stated in " +
          std::to_string(unstated.how_many) + (unstated.how_many == 1 ? " place" : " places") +
          "; the most loaded is " + unstated.most.who + ", at " + print(unstated.current),
      unstated.keys);
  if (unstated.current.value() > 0.0)
    f.cure = "measure what it loses under load and state its resistance; it may have up to " +
             rounded_down(wiring::contact_resistance(unstated.most.shunt ? of_a_shunt : good,
                                                     unstated.current));
  return f;
}

/// Joints that a run has at the least: two at each conductor, two at each item in line and at each
/// device that stands in the conductor; none at a fuse in a panel's slot, and a chassis has none.
int least_joints(const Run& run) {
  const auto at_an_end =
      std::count_if(run.protection.begin(), run.protection.end(),
                    [](const Protection& p) { return !p.distance || *p.distance <= 0.0 * metre; });
  return (run.back.chassis ? 2 : 4) + 2 * (run.things() - int(at_an_end));
}

/// Fewer stated than there can be: then drop and heat are reckoned too small.
std::optional<Finding> check_count(const Rule& rule, const Evidence& e, const Run& run) {
  const Subject path = subject_of(e.design, run).with("joints");
  if (is_assumed(e.design, path)) return std::nullopt;
  const int least = least_joints(run);
  Working working;
  given(e.kept(working), "n", "joints as stated", Ratio(double(run.joints)), as_stated);
  Finding f = judge(rule, path, Ratio(double(run.joints)), Bound::at_least,
                    {Ratio(double(least)), count_source, Verdict::caution}, std::move(working));
  f.of_safety = false;
  f.message = "run " + quoted(run.name) + " is stated to have " + std::to_string(run.joints) +
              (run.joints == 1 ? " joint" : " joints") +
              "; its conductors, items in line and devices have at least " + std::to_string(least);
  if (f.verdict != Verdict::pass) {
    f.cure = "joints = " + std::to_string(least);
    f.cure_set = {setting(path, std::to_string(least))};
  }
  return f;
}

std::vector<Finding> check_joints(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  Unstated unstated;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i) {
    if (auto count = check_count(rule, e, e.design->runs[i])) findings.push_back(*std::move(count));
    for (Passed& one : passed_in(e, {int(i)})) {
      const auto& facts = e.wiring.runs[i].current;
      Working working;
      const Current current =
          wiring::carried_of(e.design, e.wiring, {int(i)}, one.pole, e.kept(working));
      if (one.stated) {
        Finding f = check_passed(rule, e, one, current, std::move(working));
        f.in_case = facts.in_case;
        hold_back(f, facts.why_unknown, e);
        findings.push_back(std::move(f));
        continue;
      }
      ++unstated.how_many;
      unstated.keys.push_back(one.key);
      if (unstated.how_many > 1 && current <= unstated.current) continue;
      unstated.most = std::move(one);
      unstated.current = current;
    }
  }
  if (unstated.how_many > 0) findings.push_back(tell(rule, unstated));
  return findings;
}

constexpr Sign hot_joint_signs[] = {{Parameter::length, Effect::none},
                                    {Parameter::ambient, Effect::none},
                                    {Parameter::load, Effect::worse},
                                    {Parameter::device_rating, Effect::worse},
                                    {Parameter::joint_resistance, Effect::worse}};

constexpr auto hot_joint_leans_on = lean_on_loads;

}  // namespace

extern const Rule hot_joint{
    .name = "hot-joint",
    .asks = "Does each joint and contact stay cool, with no more than 30 mV lost at its largest "
            "steady current?",
    .why = "A joint that loses a few tenths of a volt at a hundred amperes makes the heat of a "
           "soldering iron behind a panel.",
    .cure = "Clean joints, well crimped and tight, fewer of them, and measured.",
    .source = good_source,
    .signs = hot_joint_signs,
    .concern = Concern::safety,
    .leans_on = hot_joint_leans_on,
    .check = check_joints};

Finding judge_joint(Subject subject, const std::string& who, Current current, Resistance r,
                    const Source& source) {
  Working working;
  const auto contact = wiring::contact_of(current, r, source, good, &working);
  const Limit limit = contact.lost > faulty ? Limit{faulty, good_source}
                                            : Limit{good, good_source, Verdict::caution};
  Finding f =
      judge(hot_joint, std::move(subject), contact.lost, Bound::at_most, limit, std::move(working));
  f.message = who + " would lose " + print(contact.lost) + " and make " + print(contact.heat) +
              " of heat at " + print(current);
  if (f.verdict >= Verdict::caution) f.cure = "open it, clean it, crimp it anew, and measure again";
  return f;
}

}  // namespace housepower::checks
