// SPDX-License-Identifier: Apache-2.0
// Assemblies, the connectors that join their looms, and what is on the way of a run: isolators,
// shunts, contactors and plugs, with the cavities that a plug uses.
#include <algorithm>

#include "resolving.hpp"

namespace housepower::design {
namespace {

// What a blade or pin contact of some years may have (from judgement), and an item with two studs.
constexpr Resistance usual_contact = 5.0 * milliohm, usual_item = 0.1 * milliohm;

void resolve_between(Resolving& r, const Connector& connector, const std::string& path,
                     resolved::Connector& out) {
  const auto& names = connector.between;
  if (names.size() != 2) {
    r.error(connector.place, path + "/between",
            "wants two assemblies, has " + std::to_string(names.size()),
            "for example between = [\"kitchen\", \"floor\"]");
    return;
  }
  for (std::size_t i = 0; i < 2; ++i)
    out.between[i] =
        find_assembly(r, names[i], connector.place, path + "/between/" + std::to_string(i));
  if (names[0] == names[1])
    r.error(connector.place, path + "/between/1", "is the same assembly as the first",
            "name the one on its other side");
}

void resolve_connector(Resolving& r, std::size_t number) {
  const Connector& connector = r.document.connector[number];
  const std::string path = r.path("connector", number, connector.name);
  resolved::Connector out;
  out.name = connector.name;
  resolve_between(r, connector, path, out);
  out.cavities = connector.cavities;
  out.rating = connector.rating;
  out.rating_all_loaded = connector.rating_all_loaded;
  if (connector.largest_conductor)
    out.largest_conductor = find_conductor(r, *connector.largest_conductor, connector.place,
                                           path + "/largest_conductor");
  out.resistance = connector.resistance;
  out.contact = connector.contact;
  out.strip = connector.strip;
  if (out.rating && out.rating_all_loaded && *out.rating_all_loaded > *out.rating)
    r.error(connector.place, path + "/rating_all_loaded",
            print(Number(*out.rating_all_loaded)) + " is more than the rating of one cavity, " +
                print(Number(*out.rating)),
            "exchange them");
  r.connectors.try_emplace(connector.name,
                           resolved::ConnectorId{static_cast<int>(r.out.connectors.size())});
  r.out.connectors.push_back(std::move(out));
}

/// An item under work, with what its messages need.
struct ItemDraft {
  Resolving& r;
  const Run& run;
  const InlineItem& stated;
  const std::string path;
  resolved::InlineItem out{};
  void error(const std::string& key, std::string message, std::string hint = {}) const {
    r.error(stated.place, path + "/" + key, std::move(message), std::move(hint));
  }
};

/// Cavities are those of a connector.
void refuse_cavities(const ItemDraft& draft) {
  if (!draft.stated.outgoing.empty())
    draft.error("outgoing", "is for the cavities of a connector", "name its `connector`, too");
  if (!draft.stated.return_.empty())
    draft.error("return", "is for the cavities of a connector", "name its `connector`, too");
}

void check_numbers(const ItemDraft& draft, const std::vector<int>& cavities, const char* key) {
  const resolved::Connector& connector = draft.r.out.connectors[*draft.out.connector];
  for (std::size_t i = 0; i < cavities.size(); ++i)
    if (cavities[i] > connector.cavities)
      draft.error(std::string(key) + "/" + std::to_string(i),
                  "connector " + quoted(connector.name) + " has no cavity " +
                      std::to_string(cavities[i]),
                  "its cavities are numbered from 1 to " + std::to_string(connector.cavities));
}

void resolve_cavities(ItemDraft& draft) {
  const InlineItem& stated = draft.stated;
  draft.out.outgoing = stated.outgoing;
  draft.out.back = stated.return_;
  check_numbers(draft, stated.outgoing, "outgoing");
  check_numbers(draft, stated.return_, "return");
  if (stated.outgoing.empty() && stated.return_.empty())
    draft.error("outgoing", "is missing: which cavities does the run use?",
                "for example outgoing = [1], return = [2]");
  if (!stated.return_.empty() && draft.run.chassis_return.value_or(false))
    draft.error("return", "names cavities, and the run comes back through the chassis",
                "leave it out");
}

void resolve_connector_of(ItemDraft& draft) {
  const InlineItem& stated = draft.stated;
  if (!stated.connector) return refuse_cavities(draft);
  if (stated.kind != InlineKind::plug) {
    draft.error("connector", "is for plugs only", "kind = \"plug\", or leave the connector out");
    return;
  }
  const auto found = draft.r.connectors.find(*stated.connector);
  if (found == draft.r.connectors.end()) {
    draft.error("connector", quoted(*stated.connector) + " is not a connector of this file",
                hint_for(*stated.connector, names_of(draft.r.connectors)));
    return;
  }
  draft.out.connector = found->second;
  resolve_cavities(draft);
}

/// Of a connector's contact what the connector states; what nobody states is supplied.
void resolve_resistance(ItemDraft& draft) {
  const bool contact = draft.out.connector.has_value();
  auto stated = draft.stated.resistance;
  if (!stated && contact) stated = draft.r.out.connectors[*draft.out.connector].resistance;
  const Resistance usual = contact ? usual_contact : usual_item;
  draft.out.resistance =
      draft.r.stated_or(stated, draft.r.kindest() ? 0.0 * ohm : usual, draft.path + "/resistance",
                        contact ? "of each mated contact" : "between its terminals");
}

void resolve_distance(ItemDraft& draft) {
  draft.out.distance = draft.stated.distance;
  if (draft.out.distance && *draft.out.distance > draft.run.length)
    draft.error("distance",
                print(Number(*draft.out.distance)) + " is beyond the run, which is " +
                    print(Number(draft.run.length)) + " long",
                "measured along the conductor from where the run begins");
}

/// What is stated of the item; of a connector its contacts together, in the pole with fewer.
std::optional<Current> rating_of(const ItemDraft& draft) {
  if (draft.stated.rating || !draft.out.connector) return draft.stated.rating;
  const auto& one = draft.r.out.connectors[*draft.out.connector].rating;
  const auto out = draft.out.outgoing.size(), back = draft.out.back.size();
  const auto fewer = out == 0 ? back : back == 0 ? out : std::min(out, back);
  return one ? std::optional<Current>(double(fewer) * *one) : std::nullopt;
}

resolved::InlineItem item_of(Resolving& r, const Run& run, const InlineItem& stated,
                             std::string path) {
  ItemDraft draft{r, run, stated, std::move(path)};
  draft.out.kind = stated.kind;
  draft.out.largest_device = stated.largest_device;
  draft.out.breaks_load = stated.breaks_load;
  resolve_connector_of(draft);
  draft.out.rating = rating_of(draft);
  draft.out.pole = stated.pole.value_or(Pole::outgoing);
  if (!stated.pole && !stated.connector)
    r.assume(draft.path + "/pole", std::string(word(draft.out.pole)), "in which conductor it sits");
  resolve_resistance(draft);
  resolve_distance(draft);
  return std::move(draft.out);
}

}  // namespace

resolved::AssemblyId find_assembly(Resolving& r, const std::optional<std::string>& name,
                                   const Place& place, const std::string& path) {
  if (!name) return {};
  if (const auto found = r.assemblies.find(*name); found != r.assemblies.end())
    return found->second;
  r.error(place, path, quoted(*name) + " is not an assembly of this file",
          r.assemblies.empty() ? "declare it: [[assembly]] with its name"
                               : hint_for(*name, names_of(r.assemblies)));
  return {};
}

void resolve_assemblies(Resolving& r) {
  for (const Assembly& assembly : r.document.assembly) {
    r.assemblies.try_emplace(assembly.name,
                             resolved::AssemblyId{static_cast<int>(r.out.assemblies.size())});
    r.out.assemblies.push_back({assembly.name, assembly.station, assembly.fitted_at});
  }
  for (std::size_t i = 0; i < r.document.connector.size(); ++i) resolve_connector(r, i);
}

std::vector<resolved::InlineItem> inline_items_of(Resolving& r, const Run& run,
                                                  const std::string& path) {
  std::vector<resolved::InlineItem> items;
  for (std::size_t n = 0; n < run.inline_items.size(); ++n)
    items.push_back(item_of(r, run, run.inline_items[n], path + "/inline/" + std::to_string(n)));
  return items;
}

void check_cavities(Resolving& r) {
  std::map<std::pair<int, int>, const InlineItem*> used;  // by connector and cavity
  for (std::size_t i = 0; i < r.out.runs.size(); ++i)
    for (std::size_t n = 0; n < r.out.runs[i].inline_items.size(); ++n) {
      const resolved::InlineItem& item = r.out.runs[i].inline_items[n];
      if (!item.connector) continue;
      const InlineItem& stated = r.document.run[i].inline_items[n];
      const std::string path =
          r.path("run", i, r.document.run[i].name) + "/inline/" + std::to_string(n);
      for (const Pole pole : {Pole::outgoing, Pole::return_})
        for (std::size_t c = 0; c < item.cavities(pole).size(); ++c) {
          const int cavity = item.cavities(pole)[c];
          const auto [first, is_new] = used.try_emplace({item.connector->index, cavity}, &stated);
          if (!is_new)
            r.error(stated.place, path + "/" + std::string(word(pole)) + "/" + std::to_string(c),
                    "cavity " + std::to_string(cavity) + " of connector " +
                        quoted(r.out.connectors[*item.connector].name) + " is taken already",
                    "the first is at " + file_and_line(first->second->place));
        }
    }
}

int resolved::Run::things_in(Pole pole) const {
  const auto items = std::count_if(inline_items.begin(), inline_items.end(),
                                   [&](const InlineItem& item) { return item.sits_in(pole); });
  return int(items) + (pole == Pole::outgoing ? int(protection.size()) : 0);
}

int resolved::Run::things() const { return things_in(Pole::outgoing) + things_in(Pole::return_); }

}  // namespace housepower::design
