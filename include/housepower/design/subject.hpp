// SPDX-License-Identifier: Apache-2.0
// What a finding, a consumer, a cause or a test point is about: a thing of the design, perhaps a part
// or a key of it. Whoever decides asks kind, index and part; the text is for readers only.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace housepower::design {

class Design;
template <class Thing> struct Id;
namespace resolved {
struct Appliance;
struct Array;
struct Charger;
struct Connector;
struct Controller;
struct Feed;
struct Inverter;
struct Post;
struct Run;
}  // namespace resolved

class Subject {
public:
  /// The table of the design that it stands in; `bench` is a load clipped on for a test.
  enum class Kind {
    design,
    run,
    appliance,
    bank,
    inverter,
    charger,
    controller,
    array,
    node,
    feed,
    load_case,
    vehicle,
    promise,
    place,
    travel,
    rules,
    bench,
    connector
  };
  /// `link` is any of the bank's links or leads, by its number; `post` a place of a thing with
  /// several, by its index in the design's posts.
  enum class Part {
    whole,
    outgoing,
    back,
    protection,
    inline_item,
    link_positive,
    link_negative,
    each_battery,
    lead,
    battery_device,
    battery,
    link,
    post,
    cavity
  };

  Subject() = default;
  /// A table as a whole: the bank, the promise.
  explicit Subject(Kind);
  /// One of a table's list, by its place in the design's list.
  Subject(Kind, int index, std::string_view name);
  /// A part that has a name of its own.
  Subject(Kind, std::string_view name, Part, std::size_t number);

  // Of a run.
  [[nodiscard]] Subject outgoing() const { return part(Part::outgoing, 0, "outgoing"); }
  [[nodiscard]] Subject back() const { return part(Part::back, 0, "return"); }
  [[nodiscard]] Subject protection(std::size_t number) const;
  [[nodiscard]] Subject inline_item(std::size_t number) const;
  // Of the bank. Batteries are numbered from 1.
  [[nodiscard]] Subject link_positive() const;
  [[nodiscard]] Subject link_negative() const;
  [[nodiscard]] Subject each_battery() const { return part(Part::each_battery, 0, "each_battery"); }
  [[nodiscard]] Subject lead() const { return part(Part::lead, 0, "each_battery/lead"); }
  [[nodiscard]] Subject battery_device() const;
  [[nodiscard]] Subject battery(std::size_t number) const;
  // Of a connector. Cavities are numbered from 1.
  [[nodiscard]] Subject cavity(std::size_t number) const;
  /// A key of it: "charge_limit", "resistance/low". None: itself.
  [[nodiscard]] Subject with(std::string_view key) const;
  [[nodiscard]] Subject without_key() const;

  [[nodiscard]] Kind kind() const { return kind_; }
  [[nodiscard]] bool is(Kind kind) const { return kind_ == kind; }
  [[nodiscard]] bool is(Part part) const { return part_ == part; }
  /// In the design's list of that kind; -1 where it is no member of a list.
  [[nodiscard]] int index() const { return index_; }
  [[nodiscard]] Part part() const { return part_; }
  [[nodiscard]] std::size_t number() const { return number_; }  // of the part
  [[nodiscard]] std::string_view key() const;                   // empty: none
  /// The same thing, or a part or a key of it.
  [[nodiscard]] bool is_within(const Subject& whole) const;

  /// As it is printed: "run/fridge/protection/0", "bank/charge_limit".
  [[nodiscard]] const std::string& text() const { return text_; }
  /// What is printed behind the kind: "fridge/protection/0".
  [[nodiscard]] std::string_view behind_kind() const;

  friend bool operator==(const Subject&, const Subject&);
  /// Some order, for maps.
  friend bool operator<(const Subject&, const Subject&);
  friend bool operator==(const Subject& s, std::string_view text) { return s.text_ == text; }

private:
  [[nodiscard]] Subject part(Part, std::size_t number, std::string_view text) const;

  Kind kind_ = Kind::design;
  Part part_ = Part::whole;
  int index_ = -1;
  std::size_t number_ = 0, key_size_ = 0;
  std::string text_;
};

/// Of members of the design's own lists, not of copies.
[[nodiscard]] Subject subject_of(const Design&, const resolved::Run&);
[[nodiscard]] Subject subject_of(const Design&, const resolved::Appliance&);
[[nodiscard]] Subject subject_of(const Design&, const resolved::Inverter&);
[[nodiscard]] Subject subject_of(const Design&, const resolved::Charger&);
[[nodiscard]] Subject subject_of(const Design&, const resolved::Controller&);
[[nodiscard]] Subject subject_of(const Design&, const resolved::Array&);
[[nodiscard]] Subject subject_of(const Design&, const resolved::Feed&);
[[nodiscard]] Subject subject_of(const Design&, const resolved::Connector&);
/// Whose post it is; of a charger's and a controller's each by itself: "charger/shore charger.out".
[[nodiscard]] Subject subject_of(const Design&, const resolved::Post&);
[[nodiscard]] inline Subject subject_of_bank() { return Subject(Subject::Kind::bank); }

}  // namespace housepower::design
