// SPDX-License-Identifier: Apache-2.0
// Runs: their ends, conductors, surroundings, joints and devices.
#include <algorithm>

#include "resolving.hpp"

namespace housepower::design {
namespace {

// Hottest air by where something sits, in the order of Sits (from judgement; the roof in the sun).
constexpr std::array hottest{celsius(40), celsius(50), celsius(50),
                             celsius(50), celsius(70), celsius(60)};

/// A run under work, with what its messages need.
struct RunDraft {
  Resolving& r;
  const Run& run;
  const std::string path;
  resolved::Run out{};
  void error(const std::string& key, std::string message, std::string hint = {}) const {
    r.error(run.place, path + "/" + key, std::move(message), std::move(hint));
  }
  [[nodiscard]] Sits sits(resolved::PostId id) const { return r.out.posts[id].sits; }
};

void resolve_ends(RunDraft& draft) {
  Resolving& r = draft.r;
  const Run& run = draft.run;
  if (const auto id = find_post(r, run.from, run.place, draft.path + "/from")) draft.out.from = *id;
  if (const auto id = find_post(r, run.to, run.place, draft.path + "/to")) draft.out.to = *id;
  if (run.from == run.to) draft.error("to", "is where the run begins", "name its other end");
}

Temperature in_the_sun(const tables::Town& town) {
  return *std::max_element(town.highest.begin(), town.highest.end()) + 5.0 * kelvin;
}

/// By the hotter end, or the air of the place in its hottest month if that is more.
Temperature ambient_of(const RunDraft& draft) {
  Resolving& r = draft.r;
  const std::string path = draft.path + "/ambient";
  if (draft.run.ambient) return *draft.run.ambient;
  if (r.kindest()) return r.stated_or<Temperature>({}, celsius(30), path, "the least that harms");
  Sits hotter = Sits::inside;
  for (const auto end : {draft.out.from, draft.out.to}) {
    if (end.index < 0) continue;
    const Sits sits = draft.sits(end);
    if (hottest[static_cast<std::size_t>(sits)] > hottest[static_cast<std::size_t>(hotter)])
      hotter = sits;
  }
  Temperature ambient = hottest[static_cast<std::size_t>(hotter)];
  std::string why = "its hotter end sits here: " + std::string(word(hotter));
  if (r.out.site.town && in_the_sun(*r.out.site.town) > ambient) {
    ambient = in_the_sun(*r.out.site.town);
    why = "5 K above the mean daily maximum of the hottest month";
  }
  return r.stated_or<Temperature>({}, ambient, path, why);
}

void resolve_sections(RunDraft& draft) {
  const Run& run = draft.run;
  const resolved::Section whole{run.length, ambient_of(draft), *run.laid, *run.circuits_together,
                                run.ambient.has_value()};
  Length rest = run.length;
  for (const SectionOfRun& s : run.sections) {
    draft.out.sections.push_back(
        {s.length, s.ambient.value_or(whole.ambient), s.laid.value_or(whole.laid),
         s.circuits_together.value_or(whole.circuits_together), s.ambient || run.ambient});
    rest -= s.length;
  }
  const Length nothing = 1e-9 * run.length;
  if (rest < -nothing)
    draft.error("sections",
                "are " + print(Number(Length(run.length - rest))) + " long in all, the run " +
                    print(Number(run.length)),
                "the rest of the run is laid as the run says");
  if (rest <= nothing && !run.sections.empty()) return;
  draft.out.sections.push_back(whole);
  draft.out.sections.back().length = rest;
}

void resolve_return(RunDraft& draft) {
  const Run& run = draft.run;
  resolved::Return& back = draft.out.back;
  back.to = draft.out.from;
  back.chassis = run.chassis_return.value_or(false);
  if (back.chassis) return;
  const ReturnOfRun stated = run.return_.value_or(ReturnOfRun{});
  back.length = stated.length.value_or(run.length);
  back.conductor = draft.out.conductor;
  if (stated.conductor)
    back.conductor =
        find_conductor(draft.r, *stated.conductor, run.place, draft.path + "/return/conductor");
  if (stated.to)
    if (const auto id = find_post(draft.r, *stated.to, run.place, draft.path + "/return/to"))
      back.to = *id;
  if (!run.return_)
    draft.r.assume(draft.path + "/return", "back to " + run.from, "of the same size and length");
}

// Two lugs on each of two conductors, and two more joints at each thing that breaks a conductor;
// each as 0.1 m of the conductor (from judgement).
void resolve_joints(RunDraft& draft) {
  const Run& run = draft.run;
  const int things = draft.out.things() + static_cast<int>(run.protection.size());  // not yet in it
  draft.out.joints = run.joints.value_or(draft.r.kindest() ? 0 : 4 + 2 * things);
  if (!run.joints)
    draft.r.assume(draft.path + "/joints", std::to_string(draft.out.joints),
                   "4, and 2 at each device and item");
  draft.out.held_at = run.conductor_temperature;
  draft.out.joint_resistance = run.joint_resistance;
  if (run.joint_resistance) return;
  if (draft.r.kindest()) draft.out.joint_resistance = 0.0 * ohm;
  draft.r.assume(draft.path + "/joint_resistance",
                 draft.r.kindest() ? "0 Ω" : "that of 0.1 m of the conductor",
                 "from 0.05 to 0.5 mΩ");
}

/// What the design says of the air at an end of a run.
std::optional<Temperature> stated_ambient_at(const Run& run, RunEnd end) {
  if (run.sections.empty()) return run.ambient;
  const auto& piece = end == RunEnd::from ? run.sections.front() : run.sections.back();
  return piece.ambient ? piece.ambient : run.ambient;
}

void resolve_protection(RunDraft& draft) {
  const Run& run = draft.run;
  for (std::size_t i = 0; i < run.protection.size(); ++i) {
    const ProtectionOfRun& stated = run.protection[i];
    const std::string path = draft.path + "/protection/" + std::to_string(i);
    auto device = device_of(draft.r, stated.type, stated.rating, stated.breaking_capacity,
                            stated.place, path);
    device.end = stated.end;
    device.distance = stated.distance;
    device.enclosed = *stated.enclosed;
    device.sits = *stated.sits;
    device.ambient = std::max(ambient_of_device(draft.r, *stated.sits),
                              stated_ambient_at(run, stated.end).value_or(celsius(-273.0)));
    if (stated.rated_voltage) device.rated_voltage = stated.rated_voltage;
    if (!stated.curve.empty()) device.curve = stated.curve;
    if (!stated.curve_fast.empty()) device.curve_fast = stated.curve_fast;
    device.backed_by = stated.backed_by.value_or("");
    for (std::size_t n = 0; n < stated.assumed.size(); ++n) {
      const std::string& key = stated.assumed[n];
      if (key == "distance") device.distance_assumed = true;
      else if (key == "sits") device.sits_assumed = true;
      else
        draft.r.error(stated.place, path + "/assumed/" + std::to_string(n),
                      quoted(key) + " cannot be assumed here", "distance and sits can");
    }
    check_curve(draft.r, stated.curve, stated.place, path + "/curve");
    check_curve(draft.r, stated.curve_fast, stated.place, path + "/curve_fast");
    if (!stated.curve.empty() || !stated.curve_fast.empty())  // else said at the maker's device
      check_edges(draft.r, device.curve, device.curve_fast, stated.place, path);
    if (stated.distance && *stated.distance > run.length)
      draft.r.error(stated.place, path + "/distance",
                    print(Number(*stated.distance)) + " is beyond the run, which is " +
                        print(Number(run.length)) + " long",
                    "measured along the conductor from the end that it names");
    draft.out.protection.push_back(std::move(device));
  }
}

resolved::Run resolve_run(Resolving& r, std::size_t number) {
  const Run& run = r.document.run[number];
  RunDraft draft{r, run, r.path("run", number, run.name)};
  draft.out.name = run.name;
  draft.out.length = run.length;
  draft.out.insulation = *run.insulation;
  draft.out.material = *run.insulation_material;
  draft.out.parallel = *run.parallel;
  draft.out.inline_items = inline_items_of(r, run, draft.path);
  resolve_ends(draft);
  if (run.conductor)
    draft.out.conductor = find_conductor(r, *run.conductor, run.place, draft.path + "/conductor");
  resolve_sections(draft);
  resolve_return(draft);
  resolve_joints(draft);
  resolve_protection(draft);
  return std::move(draft.out);
}

/// Of the negative to the chassis.
void resolve_bond(Resolving& r) {
  if (!r.document.chassis) return;
  const Chassis& chassis = *r.document.chassis;
  if (chassis.bond && !chassis.bonded_at)
    r.error(r.document.place, "chassis/bond", "is a conductor without a place",
            "bonded_at says where the negative is joined to the chassis");
  if (!chassis.bonded_at) return;
  const auto at = find_post(r, *chassis.bonded_at, r.document.place, "chassis/bonded_at");
  if (!at) return;
  r.out.bond = resolved::Bond{*at};
  if (chassis.bond)
    r.out.bond->conductor = find_conductor(r, *chassis.bond, r.document.place, "chassis/bond");
}

}  // namespace

Temperature ambient_of_device(const Resolving& r, Sits sits) {
  if (r.kindest()) return celsius(20);
  const Temperature here = hottest[static_cast<std::size_t>(sits)];
  return r.out.site.town ? std::max(here, in_the_sun(*r.out.site.town)) : here;
}

void resolve_runs(Resolving& r) {
  for (const MakersDevice& device : r.document.device) {
    check_curve(r, device.curve, device.place, "device/" + device.name + "/curve");
    check_curve(r, device.curve_fast, device.place, "device/" + device.name + "/curve_fast");
    check_edges(r, device.curve, device.curve_fast, device.place, "device/" + device.name);
  }
  for (resolved::Post& post : r.out.posts) post.air = ambient_of_device(r, post.sits);
  for (std::size_t i = 0; i < r.document.run.size(); ++i) r.out.runs.push_back(resolve_run(r, i));
  resolve_bond(r);
}

std::optional<tables::Conductor> find_conductor(Resolving& r, const SizeText& written,
                                                const Place& place, const std::string& path) {
  auto found = tables::conductor_named(r.tables, written);
  if (auto* conductor = std::get_if<tables::Conductor>(&found)) return std::move(*conductor);
  auto& problem = std::get<tables::SizeProblem>(found);
  r.error(RestsOn::itself, place, path, std::move(problem.message), std::move(problem.hint));
  return std::nullopt;
}

}  // namespace housepower::design
