// SPDX-License-Identifier: Apache-2.0
#include "edits.hpp"

#include <algorithm>

#include "housepower/checks/masses.hpp"
#include "housepower/design/words.hpp"
#include "housepower/reading/write.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"
#include "stock.hpp"

namespace housepower::choice::inside {
namespace {

using Of = Knob::Of;

design::RunEnd end_of(const Knob& k) {
  return k.number == 0 ? design::RunEnd::from : design::RunEnd::to;
}

void put_type(design::ProtectionOfRun& device, const Setting& s) {
  if (device.type != s.type) {
    // What its maker states of the type before is not so of the next.
    device.curve.clear();
    device.curve_fast.clear();
    device.breaking_capacity.reset();
    device.rated_voltage.reset();
    device.backed_by.reset();
  }
  device.type = s.type;
  device.rating = s.rating;
}

design::ProtectionOfRun added(const Document& d, const Knob& k, const Setting& s) {
  const design::Run& run = d.run[k.run];
  const Offer offer{s.type, s.rating, {}, {}};
  return written({.end = end_of(k), .chosen = &offer}, d, run);
}

void put(Document& d, const Knob& k, const Setting& s) {
  const std::string name = s.conductor ? s.conductor->name : std::string();
  switch (k.of) {
  case Of::conductor: d.run[k.run].conductor = name; break;
  case Of::return_conductor: d.run[k.run].return_->conductor = name; break;
  case Of::link_positive: d.bank->links->positive->conductor = name; break;
  case Of::link_negative: d.bank->links->negative->conductor = name; break;
  case Of::lead: d.bank->each_battery->lead->conductor = name; break;
  case Of::takeoff: d.bank->takeoff_from = s.takeoff; break;
  case Of::device: put_type(d.run[k.run].protection[k.number], s); break;
  case Of::device_place: d.run[k.run].protection[k.number].distance = s.distance; break;
  case Of::new_device: d.run[k.run].protection.push_back(added(d, k, s)); break;
  case Of::item: d.run[k.run].inline_items[k.number].rating = s.rating; break;
  }
}

bool states_figures(const design::ProtectionOfRun& p) {
  return !p.curve.empty() || !p.curve_fast.empty() || p.breaking_capacity || p.rated_voltage ||
         p.backed_by;
}

/// The devices of a run as one value: what is in brackets behind "protection = ".
std::string protection_text(const Document& document, std::size_t run) {
  Document alone;
  alone.run.push_back(document.run[run]);
  const Node all = design::node_of(alone);
  const Node* list = all.at("run/0/protection");
  if (!list) list = all.at("run/" + document.run[run].name + "/protection");
  if (!list) return "[]";
  const std::string key = "protection = ";
  const std::string text =
      toml_of({Node::Table{{"run", {}, {Node::Table{{"protection", {}, *list}}, {}}}}, {}});
  const auto at = text.find(key);
  const auto end = text.find('\n', at);
  return at == text.npos ? "[]" : text.substr(at + key.size(), end - at - key.size());
}

/// Metres of conductor that a knob turns, all poles and parallel conductors of it.
Length metres_of(const Document& d, const Knob& k) {
  const int batteries = d.bank ? d.bank->quantity.value_or(1) : 1;
  switch (k.of) {
  case Of::conductor: {
    const design::Run& run = d.run[k.run];
    const double n = run.parallel.value_or(1);
    Length length = n * run.length;
    const bool own_return = run.return_ && run.return_->conductor;
    if (!own_return && !run.chassis_return.value_or(false))
      length += n * (run.return_ ? run.return_->length.value_or(run.length) : run.length);
    return length;
  }
  case Of::return_conductor: {
    const design::Run& run = d.run[k.run];
    return double(run.parallel.value_or(1)) * run.return_->length.value_or(run.length);
  }
  case Of::link_positive: return double(batteries - 1) * d.bank->links->positive->length;
  case Of::link_negative: return double(batteries - 1) * d.bank->links->negative->length;
  case Of::lead: return 2.0 * batteries * d.bank->each_battery->lead->length;
  default: return {};
  }
}

std::string conductor_before(const Document& d, const Knob& k) {
  switch (k.of) {
  case Of::conductor: return d.run[k.run].conductor.value_or("");
  case Of::return_conductor: return d.run[k.run].return_->conductor.value_or("");
  case Of::link_positive: return d.bank->links->positive->conductor;
  case Of::link_negative: return d.bank->links->negative->conductor;
  case Of::lead: return d.bank->each_battery->lead->conductor;
  default: return {};
  }
}

Area copper_before(const Document& d, const tables::Tables& tables, const Knob& k) {
  const std::string written = conductor_before(d, k);
  if (written.empty()) return {};
  const auto found = tables::conductor_named(tables, written);
  const auto* conductor = std::get_if<tables::Conductor>(&found);
  return conductor ? conductor->copper : Area{};
}

std::string numbers_text(const std::vector<int>& numbers) {
  std::string text;
  for (const int n : numbers) text += (text.empty() ? "" : ", ") + std::to_string(n);
  return "[" + text + "]";
}

std::string text_of_number(Number number) {
  const Node node = node_of(number);
  const auto* text = std::get_if<std::string>(&node.value);
  return text ? *text : written(number);
}

std::string where_in(const Document& d, const Knob& k) {
  switch (k.of) {
  case Of::link_positive: return "bank/links/positive/conductor";
  case Of::link_negative: return "bank/links/negative/conductor";
  case Of::lead: return "bank/each_battery/lead/conductor";
  case Of::takeoff: return "bank/takeoff_from";
  default: break;
  }
  const std::string run = "run/" + d.run[k.run].name, number = std::to_string(k.number);
  switch (k.of) {
  case Of::conductor: return run + "/conductor";
  case Of::return_conductor: return run + "/return/conductor";
  case Of::device: return run + "/protection/" + number + "/rating";
  case Of::device_place: return run + "/protection/" + number + "/distance";
  case Of::item: return run + "/inline/" + number + "/rating";
  default: return run + "/protection";
  }
}

std::string device_words(std::string_view type, Current rating) {
  return std::string(type) + " " + print(rating);
}

}  // namespace

Document with(Document document, const State& state) {
  for (const auto& [knob, setting] : state) put(document, knob, setting);
  return document;
}

Document to_be_measured(Document document, const State& state) {
  document = with(std::move(document), state);
  for (const auto& one : state) {
    const Knob& k = one.first;
    if (k.of != Of::device_place) continue;
    auto& assumed = document.run[k.run].protection[k.number].assumed;
    if (std::find(assumed.begin(), assumed.end(), "distance") == assumed.end())
      assumed.emplace_back("distance");
  }
  return document;
}

std::vector<MendedPart> changes_of(const Document& d, const Knob& k, const Setting& s) {
  const std::string path = where_in(d, k);
  if (s.conductor) return {{path, conductor_before(d, k), s.conductor->name, {}}};
  switch (k.of) {
  case Of::takeoff:
    return {{path,
             d.bank->takeoff_from.empty() ? "" : numbers_text(d.bank->takeoff_from),
             numbers_text(s.takeoff),
             {}}};
  case Of::device_place: {
    const auto& before = d.run[k.run].protection[k.number].distance;
    return {{path, before ? text_of_number(*before) : "", text_of_number(s.distance), {}}};
  }
  case Of::item: {
    const auto& before = d.run[k.run].inline_items[k.number].rating;
    return {{path, before ? text_of_number(*before) : "", text_of_number(s.rating), {}}};
  }
  case Of::new_device:
    return {{path,
             "",
             device_words(s.type, s.rating) + " at its `" + std::string(word(end_of(k))) + "` end",
             {}}};
  default: break;
  }
  const auto& before = d.run[k.run].protection[k.number];
  std::vector<MendedPart> changes;
  if (before.type != s.type)
    changes.push_back({path.substr(0, path.rfind('/')) + "/type", before.type, s.type, {}});
  if (before.rating != s.rating)
    changes.push_back({path, text_of_number(before.rating), text_of_number(s.rating), {}});
  return changes;
}

std::vector<std::string> overrides_of(const Document& before, const State& state) {
  std::vector<std::string> list;
  std::vector<std::size_t> whole;  // runs whose devices are written anew, all of them
  for (const auto& [k, s] : state)
    if (k.of == Of::new_device ||
        (k.of == Of::device && before.run[k.run].protection[k.number].type != s.type &&
         states_figures(before.run[k.run].protection[k.number])))
      whole.push_back(k.run);
  whole.erase(std::unique(whole.begin(), whole.end()), whole.end());
  const auto is_whole = [&](std::size_t run) {
    return std::find(whole.begin(), whole.end(), run) != whole.end();
  };
  for (const auto& [k, s] : state) {
    const bool of_device = k.of == Of::device || k.of == Of::device_place || k.of == Of::new_device;
    if (of_device && is_whole(k.run)) continue;
    for (const MendedPart& c : changes_of(before, k, s)) list.push_back(c.path + "=" + c.to);
  }
  const Document after = whole.empty() ? Document{} : with(before, state);
  for (const std::size_t run : whole)
    list.push_back("run/" + before.run[run].name + "/protection=" + protection_text(after, run));
  return list;
}

std::string words_of(const Document& d, const Knob& k, const Setting& s) {
  const auto of_run = [&] { return "run " + quoted(d.run[k.run].name); };
  switch (k.of) {
  case Of::conductor: return tables::shown_name(*s.conductor) + " for " + of_run();
  case Of::return_conductor:
    return tables::shown_name(*s.conductor) + " for the return of " + of_run();
  case Of::link_positive: return tables::shown_name(*s.conductor) + " for the positive links";
  case Of::link_negative: return tables::shown_name(*s.conductor) + " for the negative links";
  case Of::lead: return tables::shown_name(*s.conductor) + " for the leads of the batteries";
  case Of::takeoff: return "takeoff_from = " + numbers_text(s.takeoff);
  case Of::device_place:
    return "the " +
           device_words(d.run[k.run].protection[k.number].type,
                        d.run[k.run].protection[k.number].rating) +
           " within " + print(s.distance) + " of the end of " + of_run();
  case Of::item: return "one rated " + print(s.rating) + " or more in " + of_run();
  case Of::device: return device_words(s.type, s.rating) + " on " + of_run();
  case Of::new_device:
    return "a device, " + device_words(s.type, s.rating) + ", at the `" +
           std::string(word(end_of(k))) + "` end of " + of_run();
  }
  return {};
}

std::string key_of(const State& state) {
  std::string key;
  for (const auto& [k, s] : state) {
    key += std::to_string(int(k.of)) + "." + std::to_string(k.run) + "." +
           std::to_string(k.number) + "=";
    if (s.conductor) key += s.conductor->name;
    key += s.type + numbers_text(s.takeoff) + written(Number(s.rating), 6) +
           written(Number(s.distance), 6) + ";";
  }
  return key;
}

Mass copper_added(const Document& d, const tables::Tables& tables, const State& state) {
  Mass sum{};
  for (const auto& [k, s] : state)
    if (s.conductor)
      sum +=
          checks::copper_mass(s.conductor->copper - copper_before(d, tables, k), metres_of(d, k));
  return sum;
}

std::optional<design::Money> price_of(const Document& d, const tables::Tables& tables,
                                      const State& state) {
  design::Money sum;
  for (const auto& [k, s] : state) {
    std::optional<design::Money> one;
    double pieces = 1.0;
    if (s.conductor) {
      one = price_of_conductor(d, tables, s.conductor->name);
      pieces = metres_of(d, k) / metre;
    } else if (k.of == Of::device || k.of == Of::new_device) {
      one = price_of_device(d, s.type, s.rating);
    } else if (k.of != Of::item) {
      continue;  // nothing is bought
    }
    if (!one || (!sum.currency.empty() && sum.currency != one->currency)) return std::nullopt;
    sum.currency = one->currency;
    sum.amount = Ratio(double(sum.amount) + pieces * double(one->amount));
  }
  return sum;
}

}  // namespace housepower::choice::inside
