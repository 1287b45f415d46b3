// SPDX-License-Identifier: Apache-2.0
// Whole documents: what one extends, and single keys overridden from the command line.
#include <algorithm>
#include <array>
#include <iterator>
#include <map>

#include "housepower/reading/parsed_files.hpp"
#include "housepower/reading/text.hpp"

namespace housepower {
namespace {

constexpr std::size_t longest_chain = 16;  // files that extend one another

// A list of tables each with a name, which merges; other lists replace.
const Node::List* named_list(const Node& node) {
  const auto* list = std::get_if<Node::List>(&node.value);
  const auto named = [](const Node& n) { return n.text_at("name").has_value(); };
  if (!list || list->empty() || !std::all_of(list->begin(), list->end(), named)) return nullptr;
  return list;
}

bool removes(const Node& member) {
  const auto* entry = member.find("remove");
  const auto* flag = entry ? std::get_if<bool>(&entry->value.value) : nullptr;
  return flag && *flag;
}

// A name given twice in `over` is taken once; the second stays beside it, to be found as duplicate.
// One that removes what is not there stays too, and the reader says so.
Node::List merged_lists(const Node::List& base, const Node::List& over) {
  std::map<std::string_view, std::size_t> by_name;
  for (std::size_t i = 0; i < base.size(); ++i)
    if (const auto name = base[i].text_at("name")) by_name.try_emplace(*name, i);
  std::vector<const Node*> change(base.size(), nullptr);
  Node::List added;
  for (const auto& member : over) {
    const auto found = by_name.find(*member.text_at("name"));
    if (found == by_name.end() || change[found->second]) added.push_back(member);
    else change[found->second] = &member;
  }
  Node::List out;
  for (std::size_t i = 0; i < base.size(); ++i) {
    if (!change[i]) out.push_back(base[i]);
    else if (!removes(*change[i])) out.push_back(merged(base[i], *change[i]));
  }
  out.insert(out.end(), added.begin(), added.end());
  return out;
}

/// The keys that `remove = ["stud", "price"]` names go first. Those that are not there stay in the
/// list, and the reader says so.
std::optional<Node::Entry> take_away(Node::Table& base, const Node::Entry& entry) {
  Node::Entry left{entry.key, entry.place, {Node::List{}, entry.value.place}};
  for (const Node& key : std::get<Node::List>(entry.value.value)) {
    const auto* text = std::get_if<std::string>(&key.value);
    const auto taken =
        text ? std::erase_if(base, [&](const Node::Entry& e) { return e.key == *text; }) : 0;
    if (taken == 0) std::get<Node::List>(left.value.value).push_back(key);
  }
  if (std::get<Node::List>(left.value.value).empty()) return std::nullopt;
  return left;
}

Node::Table merged_tables(Node::Table base, const Node::Table& over) {
  std::optional<Node::Entry> not_there;
  const auto is_removal = [](const Node::Entry& e) {
    return e.key == "remove" && std::holds_alternative<Node::List>(e.value.value);
  };
  const auto removal = std::find_if(over.begin(), over.end(), is_removal);
  if (removal != over.end()) not_there = take_away(base, *removal);
  std::map<std::string, std::size_t, std::less<>> by_key;
  for (std::size_t i = 0; i < base.size(); ++i) by_key.try_emplace(base[i].key, i);
  for (const auto& entry : over) {
    if (is_removal(entry)) continue;
    const auto found = by_key.find(entry.key);
    if (found == by_key.end()) {
      base.push_back(entry);
      continue;
    }
    auto& below = base[found->second];
    below = {entry.key, entry.place, merged(std::move(below.value), entry.value)};
  }
  if (not_there) base.push_back(*std::move(not_there));
  return base;
}

bool same(const Node&, const Node&);

/// The same value as in another node of the same form.
struct SameAs {
  const Node& other;
  bool operator()(std::monostate) const { return true; }
  template <class T> bool operator()(const T& value) const {
    return value == std::get<T>(other.value);
  }
  bool operator()(const Node::List& list) const {
    const auto& there = std::get<Node::List>(other.value);
    return std::equal(list.begin(), list.end(), there.begin(), there.end(), same);
  }
  bool operator()(const Node::Table& table) const {
    return table.size() == std::get<Node::Table>(other.value).size() &&
           std::all_of(table.begin(), table.end(), [&](const Node::Entry& entry) {
             const auto* there = other.find(entry.key);
             return there && same(entry.value, there->value);
           });
  }
};
bool same(const Node& a, const Node& b) {
  return a.value.index() == b.value.index() && std::visit(SameAs{b}, a.value);
}

// What to write to make one tree the other; nothing where both are the same.
std::optional<Node> change_of(const Node& base, const Node& after);

std::optional<Node> change_of_tables(const Node& base, const Node& after) {
  Node::Table changes;
  Node::List gone;
  for (const auto& entry : std::get<Node::Table>(base.value))
    if (!after.find(entry.key)) gone.push_back({entry.key, {}});
  if (!gone.empty()) changes.push_back({"remove", {}, {std::move(gone), {}}});
  for (const auto& entry : std::get<Node::Table>(after.value)) {
    const auto* below = base.find(entry.key);
    auto change = below ? change_of(below->value, entry.value) : std::optional(entry.value);
    if (change) changes.push_back({entry.key, {}, *std::move(change)});
  }
  if (changes.empty()) return std::nullopt;
  return Node{std::move(changes), {}};
}

std::optional<Node> change_of_lists(const Node::List& base, const Node::List& after) {
  const auto named = [](const Node::List& list, std::string_view name) {
    const auto found = std::find_if(list.begin(), list.end(),
                                    [&](const Node& n) { return n.text_at("name") == name; });
    return found == list.end() ? nullptr : &*found;
  };
  const auto name_entry = [](std::string_view name) {
    return Node::Entry{"name", {}, {std::string(name), {}}};
  };
  Node::List changes;
  for (const Node& member : base)
    if (const auto name = *member.text_at("name"); !named(after, name))
      changes.push_back({Node::Table{name_entry(name), Node::Entry{"remove", {}, {true, {}}}}, {}});
  for (const Node& member : after) {
    const auto name = *member.text_at("name");
    const Node* below = named(base, name);
    auto change = below ? change_of(*below, member) : std::optional(member);
    if (!change) continue;
    auto& table = std::get<Node::Table>(change->value);
    if (below) table.insert(table.begin(), name_entry(name));
    changes.push_back(*std::move(change));
  }
  if (changes.empty()) return std::nullopt;
  return Node{std::move(changes), {}};
}

std::optional<Node> change_of(const Node& base, const Node& after) {
  if (detail::is_table(base) && detail::is_table(after)) return change_of_tables(base, after);
  const auto *below = named_list(base), *list = named_list(after);
  if (below && list) return change_of_lists(*below, *list);
  return same(base, after) ? std::nullopt : std::optional(after);
}

// "trips/van.toml" and "base.toml" make "trips/base.toml", without "." and "..".
std::string beside(std::string_view file, std::string_view path) {
  const std::size_t folder = path.front() == '/' ? 0 : file.rfind('/') + 1;  // npos + 1 is 0
  const std::string whole = std::string(file.substr(0, folder)) + std::string(path);
  std::vector<std::string_view> parts;
  for (std::string_view rest = whole; !rest.empty();) {
    const auto part = detail::take_part(rest, '/');
    if (part == ".." && !parts.empty() && parts.back() != "..") parts.pop_back();
    else if (!part.empty() && part != ".") parts.push_back(part);
  }
  std::string out;
  for (const auto part : parts) out = detail::join(out, part);
  return whole.front() == '/' ? "/" + out : out;
}

/// Of these keys of a table one, or one set, says the same thing: what a later text states of them takes
/// the place of what stands below. The first of a set speaks for it.
struct Alternatives {
  std::string_view table;
  std::array<std::vector<std::string_view>, 3> sets;
};
const Alternatives& alternatives() {
  static const Alternatives place{"place",
                                  {{{"name"}, {"weather"}, {"latitude", "longitude", "height"}}}};
  return place;
}

/// Drops from the table what `stated` speaks for otherwise; what it states itself stays, to be found.
void give_way(Node& document, const Node& stated) {
  const auto& [name, sets] = alternatives();
  Node::Entry* below = document.find(name);
  const Node::Entry* over = stated.find(name);
  if (!below || !over || !detail::is_table(below->value) || !detail::is_table(over->value)) return;
  const auto* removal = over->value.find("remove");
  const auto* removed = removal ? std::get_if<Node::List>(&removal->value.value) : nullptr;
  const auto spared = [&](const std::string& key) {
    return over->value.find(key) ||
           (removed && std::any_of(removed->begin(), removed->end(), [&](const Node& n) {
              const auto* text = std::get_if<std::string>(&n.value);
              return text && *text == key;
            }));
  };
  for (const auto& set : sets) {
    if (!over->value.find(set.front())) continue;
    for (const auto& other : sets)
      if (&other != &set)
        std::erase_if(std::get<Node::Table>(below->value.value), [&](const Node::Entry& e) {
          return std::find(other.begin(), other.end(), e.key) != other.end() && !spared(e.key);
        });
  }
}

void take_out(Node& document, std::string_view key) {
  auto& table = std::get<Node::Table>(document.value);
  table.erase(std::remove_if(table.begin(), table.end(),
                             [key](const Node::Entry& entry) { return entry.key == key; }),
              table.end());
}

class Chain {
public:
  Chain(const FileReader& reader, Diagnostics& diagnostics, ParsedFiles* bases)
      : reader_(reader), diagnostics_(diagnostics), bases_(bases) {}

  std::optional<Node> document(const std::string& file, const Place& asked_at) {
    if (!may_follow(file, asked_at)) return std::nullopt;
    const auto text = reader_(file);
    if (!text) {
      diagnostics_.error(asked_at, {}, "cannot read the file " + detail::quoted(file), text.why());
      return std::nullopt;
    }
    auto top = bases_ && !files_.empty() ? bases_->parse(*text, file, diagnostics_)
                                         : parse_toml_as_far(*text, file, diagnostics_);
    if (!top) return std::nullopt;
    const Node::Entry* extends = top->find("extends");
    if (!extends) return top;
    const auto* path = std::get_if<std::string>(&extends->value.value);
    if (!path || path->empty()) {
      diagnostics_.error(extends->value.place, "extends",
                         "wants the path of a file in quotes such as \"base.toml\"");
      return std::nullopt;
    }
    files_.push_back(file);
    auto base = document(beside(file, *path), extends->value.place);
    if (!base) return std::nullopt;
    take_out(*top, "extends");
    give_way(*base, *top);
    return merged(std::move(*base), *top);
  }

private:
  bool may_follow(const std::string& file, const Place& asked_at) {
    std::string ring;
    for (const auto& earlier : files_)
      if (!ring.empty() || earlier == file) ring += earlier + " → ";
    if (!ring.empty())
      diagnostics_.error(asked_at, "extends", "goes round in a ring: " + ring + file,
                         "one of these files must not extend another");
    else if (files_.size() >= longest_chain)
      diagnostics_.error(asked_at, "extends", "more than 16 files extend one another");
    else return true;
    return false;
  }

  const FileReader& reader_;
  Diagnostics& diagnostics_;
  ParsedFiles* bases_;  // may be null
  std::vector<std::string> files_;
};

int length_shown(std::string_view text) { return std::max(1, detail::count_code_points(text)); }

// The value as TOML at its place in the assignment, else as text.
Node assigned(std::string_view before, std::string_view value) {
  const auto column = detail::count_code_points(before);  // of the "=", from 1
  const std::string text = "x" +
                           std::string(static_cast<std::size_t>(std::max(column - 2, 0)), ' ') +
                           "=" + std::string(value);
  Diagnostics ignored;
  const auto parsed = parse_toml(text, "--set", ignored);
  if (parsed && !ignored.any_error() && std::get<Node::Table>(parsed->value).size() == 1)
    if (const auto* entry = parsed->find("x")) return entry->value;
  const auto plain = detail::trimmed(value);
  const auto blanks = plain.empty() ? 0 : static_cast<int>(plain.data() - value.data());
  return {std::string(plain), {"--set", 1, column + 1 + blanks, length_shown(plain)}};
}

std::vector<std::string_view> names_below(const Node& node) {
  std::vector<std::string_view> names;
  if (const auto* table = std::get_if<Node::Table>(&node.value))
    for (const auto& entry : *table) names.push_back(entry.key);
  if (const auto* list = std::get_if<Node::List>(&node.value))
    for (const auto& member : *list)
      if (const auto name = member.text_at("name")) names.push_back(*name);
  return names;
}

// Says at which step the path leads nowhere, and what it may have meant.
void say_where_lost(const Node& document, std::string_view path, const Place& place,
                    Diagnostics& diagnostics) {
  std::string so_far;
  while (!path.empty()) {
    const Node& here = *document.at(so_far);
    const auto part = detail::take_part(path, '/');
    const std::string next = detail::join(so_far, part);
    if (!part.empty() && document.at(next)) {
      so_far = next;
      continue;
    }
    const std::string where = so_far.empty() ? "" : " in " + detail::quoted(so_far);
    const auto names = names_below(here);
    std::string hint = did_you_mean(part, names);
    if (hint.empty() && !names.empty()) {
      hint = "there is";
      for (const auto name : names) hint += (hint.size() > 8 ? ", " : " ") + detail::quoted(name);
    }
    diagnostics.error(place, next, "leads nowhere: there is no " + detail::quoted(part) + where,
                      std::move(hint));
    return;
  }
}

}  // namespace

Node merged(Node base, const Node& over) {
  const auto* list = named_list(over);
  const auto* below = std::get_if<Node::List>(&base.value);
  if (detail::is_table(base) && detail::is_table(over))
    return {merged_tables(std::get<Node::Table>(std::move(base.value)),
                          std::get<Node::Table>(over.value)),
            over.place};
  if (list && below && std::all_of(below->begin(), below->end(), detail::is_table))
    return {merged_lists(*below, *list), over.place};
  return over;
}

Node overlay(const Node& base, const Node& after) {
  return change_of(base, after).value_or(Node{Node::Table{}, {}});
}

std::optional<Node> read_document(std::string_view file, const FileReader& reader,
                                  Diagnostics& diagnostics) {
  return read_document(file, reader, diagnostics, nullptr);
}

std::optional<Node> read_document(std::string_view file, const FileReader& reader,
                                  Diagnostics& diagnostics, ParsedFiles* bases) {
  Diagnostics found;
  auto node = read_document_as_far(file, reader, found, bases);
  const bool good = !found.any_error();
  std::move(found.all.begin(), found.all.end(), std::back_inserter(diagnostics.all));
  return good ? std::move(node) : std::nullopt;
}

std::optional<Node> read_document_as_far(std::string_view file, const FileReader& reader,
                                         Diagnostics& diagnostics, ParsedFiles* bases) {
  const std::string name(file);
  return Chain(reader, diagnostics, bases).document(name, Place{name});
}

std::optional<Node> ParsedFiles::parse(const std::string& text, const std::string& file,
                                       Diagnostics& diagnostics) {
  std::shared_ptr<const Parsed> known;
  {
    const std::lock_guard lock(mutex_);
    if (const auto found = files_.find(file); found != files_.end()) known = found->second;
  }
  if (known && known->text == text) return known->node;
  const std::size_t told = diagnostics.all.size();
  auto node = parse_toml_as_far(text, file, diagnostics);
  if (!node || diagnostics.all.size() > told) return node;
  known = std::make_shared<const Parsed>(Parsed{text, *node});
  const std::lock_guard lock(mutex_);
  files_.insert_or_assign(file, std::move(known));
  return node;
}

bool set(Node& document, std::string_view assignment, Diagnostics& diagnostics) {
  const std::size_t equals = assignment.find('=');
  const auto path = detail::trimmed(assignment.substr(0, equals));
  const Place place{"--set", 1, 1, length_shown(path)};
  if (equals == assignment.npos || path.empty()) {
    diagnostics.error(place, {},
                      "wants a path, \"=\" and a value, got " + detail::quoted(assignment),
                      "for example --set 'run/fridge/length=5 m'");
    return false;
  }
  const std::string_view before = assignment.substr(0, equals + 1);
  return set(document, path, assigned(before, assignment.substr(equals + 1)), place, diagnostics);
}

bool set(Node& document, std::string_view path, Node value, const Place& place,
         Diagnostics& diagnostics) {
  const std::size_t slash = path.rfind('/');
  const auto parent_path = slash == path.npos ? std::string_view{} : path.substr(0, slash);
  const auto key = std::string(path.substr(slash == path.npos ? 0 : slash + 1));
  give_way(document,
           {Node::Table{{std::string(parent_path), {}, {Node::Table{{key, {}, {}}}, {}}}}, {}});
  if (const Node* there = document.at(path)) {
    const_cast<Node&>(*there) = std::move(value);
    return true;
  }
  const Node* parent = document.at(parent_path);
  if (!parent && parent_path.find('/') == parent_path.npos && detail::is_table(document)) {
    auto& table = std::get<Node::Table>(document.value);
    table.push_back({std::string(parent_path), place, {Node::Table{}, place}});
    parent = &table.back().value;
  }
  if (key.empty() || !parent || !detail::is_table(*parent)) {
    say_where_lost(document, path, place, diagnostics);
    return false;
  }
  std::get<Node::Table>(const_cast<Node&>(*parent).value).push_back({key, place, std::move(value)});
  return true;
}

}  // namespace housepower
