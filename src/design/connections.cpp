// SPDX-License-Identifier: Apache-2.0
// Is everything that draws current joined to a source, there and back? Loops are welcome.
#include <numeric>

#include "resolving.hpp"

namespace housepower::design {
namespace {

using resolved::PostId;
using resolved::PostKind;

/// Which posts are joined: each points to another of its group, the last to itself.
class Groups {
public:
  explicit Groups(std::size_t posts) : next_(posts) {
    std::iota(next_.begin(), next_.end(), std::size_t{0});
  }
  void join(PostId a, PostId b) { next_[of(a)] = of(b); }
  std::size_t of(PostId id) {
    auto post = static_cast<std::size_t>(id.index);
    while (next_[post] != post) post = next_[post] = next_[next_[post]];
    return post;
  }

private:
  std::vector<std::size_t> next_;
};

bool is_source(const resolved::Post& post) {
  return post.kind == PostKind::bank || post.kind == PostKind::feed ||
         post.kind == PostKind::charger_out || post.kind == PostKind::controller_out;
}

}  // namespace

void check_connections(Resolving& r) {
  auto& posts = r.out.posts;
  Groups out(posts.size()), back(posts.size());
  for (const resolved::Run& run : r.out.runs) {
    if (run.from.index < 0 || run.to.index < 0 || run.back.to.index < 0) return;  // said already
    out.join(run.from, run.to);
    back.join(run.to, run.back.to);
  }
  for (std::size_t i = 0; i < posts.size(); ++i)
    posts[i].part = static_cast<int>(out.of({static_cast<int>(i)}));
  std::set<std::size_t> fed;
  std::set<std::pair<std::size_t, std::size_t>> fed_there_and_back;
  for (std::size_t i = 0; i < posts.size(); ++i) {
    if (!is_source(posts[i])) continue;
    const PostId id{static_cast<int>(i)};
    fed.insert(out.of(id));
    fed_there_and_back.insert({out.of(id), back.of(id)});
  }
  const auto check = [&](PostId id, const Place& place, const std::string& path) {
    if (id.index < 0) return;
    const std::string at = quoted(posts[id].name);
    if (fed.count(out.of(id)) == 0)
      r.error(RestsOn::whole, place, path, "no run leads from a source to " + at,
              "draw the runs from the bank to it");
    else if (fed_there_and_back.count({out.of(id), back.of(id)}) == 0)
      r.error(RestsOn::whole, place, path, "no return leads back from " + at + " to its source",
              "see `return` of the runs between them");
  };
  for (std::size_t i = 0; i < r.out.appliances.size(); ++i) {
    const Appliance& a = r.document.appliance[i];
    if (!r.out.appliances[i].inverter)
      check(r.out.appliances[i].post, a.place, r.path("appliance", i, a.name));
  }
  for (std::size_t i = 0; i < r.out.inverters.size(); ++i) {
    const Inverter& inverter = r.document.inverter[i];
    check(r.out.inverters[i].post, inverter.place, r.path("inverter", i, inverter.name));
  }
}

}  // namespace housepower::design
