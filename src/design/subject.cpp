// SPDX-License-Identifier: Apache-2.0
// The only place where the path of a thing is made from a design.
#include "housepower/design/subject.hpp"

#include <array>
#include <tuple>

#include "housepower/design/design.hpp"

namespace housepower::design {
namespace {

std::string_view table_of(Subject::Kind kind) {
  using namespace std::string_view_literals;
  static constexpr std::array tables{
      ""sv,           "run"sv,   "appliance"sv, "bank"sv,  "inverter"sv, "charger"sv,
      "controller"sv, "array"sv, "node"sv,      "feed"sv,  "case"sv,     "vehicle"sv,
      "promise"sv,    "place"sv, "travel"sv,    "rules"sv, "bench"sv,    "connector"sv};
  return tables[std::size_t(kind)];
}

template <class Thing>
Subject member(Subject::Kind kind, const List<Thing>& list, const Thing& thing) {
  return {kind, int(&thing - list.data()), thing.name};
}

/// The member of a list that has this post.
template <class Thing>
Subject owner(Subject::Kind kind, const List<Thing>& list, resolved::PostId post,
              std::string_view name) {
  for (const Thing& thing : list)
    if (thing.post == post) return member(kind, list, thing);
  return {kind, -1, name};
}

}  // namespace

Subject::Subject(Kind kind) : kind_(kind), text_(table_of(kind)) {}

Subject::Subject(Kind kind, int index, std::string_view name) : Subject(kind) {
  index_ = index;
  text_ += "/" + std::string(name);
}

Subject::Subject(Kind kind, std::string_view name, Part part, std::size_t number)
    : Subject(kind, -1, name) {
  part_ = part;
  number_ = number;
}

Subject Subject::part(Part part, std::size_t number, std::string_view text) const {
  Subject s = *this;
  s.part_ = part;
  s.number_ = number;
  s.text_ += "/" + std::string(text);
  return s;
}

Subject Subject::protection(std::size_t number) const {
  return part(Part::protection, number, "protection/" + std::to_string(number));
}
Subject Subject::inline_item(std::size_t number) const {
  return part(Part::inline_item, number, "inline/" + std::to_string(number));
}
Subject Subject::link_positive() const { return part(Part::link_positive, 0, "links/positive"); }
Subject Subject::link_negative() const { return part(Part::link_negative, 0, "links/negative"); }
Subject Subject::battery_device() const {
  return part(Part::battery_device, 0, "each_battery/protection");
}
Subject Subject::battery(std::size_t number) const {
  return part(Part::battery, number, "battery/" + std::to_string(number));
}

Subject Subject::cavity(std::size_t number) const {
  return part(Part::cavity, number, std::to_string(number));
}

Subject Subject::with(std::string_view key) const {
  Subject s = *this;
  if (key.empty()) return s;
  s.text_ += (s.text_.empty() ? "" : "/") + std::string(key);
  s.key_size_ += key.size() + (key_size_ > 0 ? 1 : 0);
  return s;
}

Subject Subject::without_key() const {
  Subject s = *this;
  if (key_size_ > 0) s.text_.resize(text_.size() - key_size_ - 1);
  s.key_size_ = 0;
  return s;
}

std::string_view Subject::key() const {
  return std::string_view(text_).substr(text_.size() - key_size_);
}

std::string_view Subject::behind_kind() const {
  const std::size_t table = table_of(kind_).size();
  return text_.size() > table ? std::string_view(text_).substr(table + 1) : std::string_view{};
}

bool Subject::is_within(const Subject& whole) const {
  if (kind_ != whole.kind_ || index_ != whole.index_) return false;
  if (whole.part_ == Part::whole && whole.key_size_ == 0) return true;
  return part_ == whole.part_ && number_ == whole.number_ &&
         (whole.key_size_ == 0 || key() == whole.key());
}

bool operator==(const Subject& a, const Subject& b) {
  return a.kind_ == b.kind_ && a.index_ == b.index_ && a.part_ == b.part_ &&
         a.number_ == b.number_ && a.key() == b.key();
}

bool operator<(const Subject& a, const Subject& b) {
  return std::make_tuple(a.kind_, a.index_, a.part_, a.number_, a.key()) <
         std::make_tuple(b.kind_, b.index_, b.part_, b.number_, b.key());
}

Subject subject_of(const Design& d, const resolved::Run& run) {
  return member(Subject::Kind::run, d->runs, run);
}
Subject subject_of(const Design& d, const resolved::Appliance& appliance) {
  return member(Subject::Kind::appliance, d->appliances, appliance);
}
Subject subject_of(const Design& d, const resolved::Inverter& inverter) {
  return member(Subject::Kind::inverter, d->inverters, inverter);
}
Subject subject_of(const Design& d, const resolved::Charger& charger) {
  return member(Subject::Kind::charger, d->chargers, charger);
}
Subject subject_of(const Design& d, const resolved::Controller& controller) {
  return member(Subject::Kind::controller, d->controllers, controller);
}
Subject subject_of(const Design& d, const resolved::Array& array) {
  return member(Subject::Kind::array, d->arrays, array);
}
Subject subject_of(const Design& d, const resolved::Feed& feed) {
  return member(Subject::Kind::feed, d->feeds, feed);
}
Subject subject_of(const Design& d, const resolved::Connector& connector) {
  return member(Subject::Kind::connector, d->connectors, connector);
}
Subject subject_of(const Design& d, const resolved::Post& post) {
  using Kind = Subject::Kind;
  using resolved::PostKind;
  const resolved::PostId id{int(&post - d->posts.data())};
  const auto side = [&](Kind kind) {
    return Subject(kind, post.name, Subject::Part::post, std::size_t(id.index));
  };
  switch (post.kind) {
  case PostKind::bank: return subject_of_bank();
  case PostKind::appliance: return owner(Kind::appliance, d->appliances, id, post.name);
  case PostKind::inverter: return owner(Kind::inverter, d->inverters, id, post.name);
  case PostKind::charger_in:
  case PostKind::charger_out: return side(Kind::charger);
  case PostKind::controller_in:
  case PostKind::controller_out: return side(Kind::controller);
  case PostKind::array: return owner(Kind::array, d->arrays, id, post.name);
  case PostKind::feed: return owner(Kind::feed, d->feeds, id, post.name);
  case PostKind::node: break;
  }
  return member(Kind::node, d->posts, post);
}

}  // namespace housepower::design
